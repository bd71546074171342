"""JSON documents from files: every way in which a file cannot be read is a problem, none an exception."""

import json
from collections.abc import Iterator
from pathlib import Path
from typing import Any, BinaryIO

from instruments.evaluation.answer import Evaluation, evaluate
from instruments.evaluation.problems import (
    MOST_PROBLEMS,
    Problem,
    Problems,
    TooManyProblems,
    element,
    member,
    problem_at,
    shown,
)

LARGEST_MB = 16
LARGEST_BYTES = LARGEST_MB * 1024 * 1024
ROOT = "$"


class _Members(dict[str, Any]):
    """An object with the keys that stood in it more than once; JSON readers keep the last without a word."""

    def __init__(self, pairs: list[tuple[str, Any]]) -> None:
        super().__init__(pairs)
        seen: set[str] = set()
        self.twice: list[str] = [key for key, _value in pairs if key in seen or seen.add(key)]  # type: ignore[func-returns-value]


class _NotANumber(ValueError):
    """NaN or Infinity, which Python's reader takes and JSON does not know."""


def evaluate_path(path: str) -> Evaluation:
    """`evaluate` of the document in a file. Raises nothing for a file that cannot be read: that is a problem."""
    try:
        with Path(path).open("rb") as file:
            return evaluate_file(file)
    except IsADirectoryError:
        return _refused("directory")
    except (OSError, ValueError) as error:  # a path with a null character is a ValueError
        return _refused("no_file", what=getattr(error, "strerror", None) or str(error))


def evaluate_file(file: BinaryIO) -> Evaluation:
    """`evaluate` of the document in an open binary file, which is read no further than the limit of its size."""
    data = file.read(LARGEST_BYTES + 1)
    if len(data) > LARGEST_BYTES:
        return _refused("too_large", most=str(LARGEST_MB))
    return evaluate_bytes(data)


def evaluate_bytes(data: bytes) -> Evaluation:
    """`evaluate` of a document in UTF-8, with or without byte order mark."""
    document, problems = read_json(data)
    return Evaluation(problems=problems) if problems else evaluate(document)


def read_json(data: bytes) -> tuple[Any, tuple[Problem, ...]]:
    """The document in bytes, or the problems that keep it from being one (keys that stand twice included)."""
    try:
        text = data.decode("utf-8-sig")
    except UnicodeDecodeError as error:
        return None, (problem_at(ROOT, "encoding", place=str(error.start)),)
    try:
        document = json.loads(text, object_pairs_hook=_Members, parse_constant=_refuse_constant)
    except json.JSONDecodeError as error:
        place = {"line": str(error.lineno), "column": str(error.colno)}
        return None, (problem_at(ROOT, "not_json", what=error.msg, **place),)
    except _NotANumber as error:
        return None, (problem_at(ROOT, "not_a_number", given=str(error)),)
    except RecursionError:
        return None, (problem_at(ROOT, "too_deep"),)
    except ValueError:  # more digits than Python turns into an integer
        return None, (problem_at(ROOT, "number_too_long"),)
    return document, tuple(_keys_twice(document))


def _refuse_constant(name: str) -> Any:
    raise _NotANumber(name)


def _refused(code: str, **params: str) -> Evaluation:
    return Evaluation(problems=(problem_at(ROOT, code, **params),))


def _keys_twice(document: Any) -> list[Problem]:
    problems = Problems()
    try:
        for path, key in _walk_twice(document):
            problems.at(path, "duplicate_key", key=shown(key))
    except TooManyProblems:
        assert len(problems.found) > MOST_PROBLEMS
    return problems.found


def _walk_twice(document: Any) -> Iterator[tuple[str, str]]:
    """(path of the member, key) of every key that stands in one object twice; without recursion, in the order read."""
    waiting: list[tuple[str, Any]] = [(ROOT, document)]
    while waiting:
        path, value = waiting.pop()
        if isinstance(value, _Members):
            yield from ((member(path, key), key) for key in value.twice)
            waiting += [(member(path, key), one) for key, one in reversed(value.items())
                        if isinstance(one, dict | list)]  # fmt: skip
        elif isinstance(value, list):
            waiting += [(element(path, place), value[place]) for place in range(len(value) - 1, -1, -1)
                        if isinstance(value[place], dict | list)]  # fmt: skip
