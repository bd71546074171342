"""What project/prepare.py decides and says; that it installs is shown by `make smoke` in an empty folder."""

import ast
import json
import os
import subprocess
import sys
from pathlib import Path

import pytest

from project import prepare

WANTED = {"runtime": "r2", "test": "t2"}


@pytest.fixture
def requirement_lists(tmp_path):
    (tmp_path / "requirements.txt").write_text("one==1\n")
    (tmp_path / "requirements-test.txt").write_text("two==2\n")
    return tmp_path


@pytest.fixture
def venv(tmp_path):
    folder = tmp_path / ".venv"
    (folder / "bin").mkdir(parents=True)
    (folder / "bin" / "python").touch()
    return folder


@pytest.mark.parametrize("version", [(3, 11, 0), (3, 11, 7), (3, 14, 1), (4, 0, 0)])
def test_python_that_will_do(version):
    assert prepare.python_complaint(version) is None


@pytest.mark.parametrize("version", [(2, 7, 18), (3, 9, 2), (3, 10, 14)])
def test_python_too_old_is_named_with_what_is_needed(version):
    complaint = prepare.python_complaint(version)
    assert "3.11 or later" in complaint
    assert ".".join(map(str, version)) in complaint


def test_file_is_readable_by_a_python_that_is_too_old():
    # The message must come before a syntax error does: nothing newer than Python 3.8 in the grammar.
    ast.parse(Path(prepare.__file__).read_text(), feature_version=(3, 8))


def test_stamp_follows_each_list_and_the_python_version(requirement_lists):
    first = prepare.wanted_stamp(requirement_lists, "3.11.7")
    assert first == prepare.wanted_stamp(requirement_lists, "3.11.7")

    other_python = prepare.wanted_stamp(requirement_lists, "3.12.0")
    assert other_python["runtime"] != first["runtime"]
    assert other_python["test"] != first["test"]

    (requirement_lists / "requirements-test.txt").write_text("two==3\n")
    other_tests = prepare.wanted_stamp(requirement_lists, "3.11.7")
    assert other_tests["runtime"] == first["runtime"]
    assert other_tests["test"] != first["test"]

    (requirement_lists / "requirements.txt").write_text("one==2\n")
    other_runtime = prepare.wanted_stamp(requirement_lists, "3.11.7")
    assert other_runtime["runtime"] != other_tests["runtime"]
    assert other_runtime["test"] != other_tests["test"]


def test_moving_a_line_from_one_list_to_the_other_changes_the_stamp(tmp_path):
    one, two = tmp_path / "one", tmp_path / "two"
    one.write_text("a\n")
    two.write_text("b\n")
    before = prepare.digest([one, two], "3.11")
    one.write_text("a\nb\n")
    two.write_text("")
    assert prepare.digest([one, two], "3.11") != before


@pytest.mark.parametrize(
    ("stamp", "with_tests", "step"),
    [
        ({}, False, "build"),
        ({}, True, "build"),
        ({"runtime": "r1"}, False, "build"),
        ({"runtime": "r2"}, False, "nothing"),
        ({"runtime": "r2"}, True, "add tests"),
        ({"runtime": "r2", "test": "t2"}, True, "nothing"),
        ({"runtime": "r2", "test": "t2"}, False, "nothing"),
        ({"runtime": "r2", "test": "t1"}, True, "build"),
        ({"runtime": "r2", "test": "t1"}, False, "nothing"),
        ({"runtime": "r1", "test": "t2"}, True, "build"),
    ],
)
def test_next_step(stamp, with_tests, step):
    assert prepare.next_step(stamp, WANTED, with_tests) == step


def test_stamp_is_read_back(venv):
    prepare.write_stamp(venv, {"runtime": "r1", "engine": "proved"})
    assert prepare.read_stamp(venv) == {"runtime": "r1", "engine": "proved"}
    assert sorted(path.name for path in venv.iterdir()) == ["bin", "prepared.json"]


@pytest.mark.parametrize("content", ["", "{", "[]", "null", "\xff"])
def test_unreadable_stamp_counts_as_none(venv, content):
    (venv / "prepared.json").write_bytes(content.encode("latin-1"))
    assert prepare.read_stamp(venv) == {}


def test_environment_whose_python_is_gone_counts_as_none(venv):
    prepare.write_stamp(venv, {"runtime": "r1"})
    (venv / "bin" / "python").unlink()
    (venv / "bin" / "python").symlink_to("/nowhere/python3")
    assert prepare.read_stamp(venv) == {}


def test_line_to_type():
    assert prepare.line_to_type(["a", "b"], as_root=True) == "apt-get update && apt-get install -y a b"
    assert prepare.line_to_type(["a"], as_root=False) == "sudo apt-get update && sudo apt-get install -y a"


def test_scripts_name_the_folder_that_they_end_up_in(tmp_path):
    built, final = tmp_path / ".venv.new", tmp_path / ".venv"
    (built / "bin").mkdir(parents=True)
    (built / "bin" / "tool").write_text(f"#!{built}/bin/python\nprint(1)\n")
    binary = b"\x7fELF\0" + os.fsencode(built)
    (built / "bin" / "binary").write_bytes(binary)
    (built / "bin" / "python").symlink_to(sys.executable)

    prepare.point_scripts_at(built, final)

    assert (built / "bin" / "tool").read_text() == f"#!{final}/bin/python\nprint(1)\n"
    assert (built / "bin" / "binary").read_bytes() == binary


def test_missing_ensurepip_gives_the_line_to_type(monkeypatch, tmp_path):
    debian_says = "The virtual environment was not created successfully because ensurepip is not available."
    monkeypatch.setattr(prepare, "run_quietly", lambda command: (1, debian_says))
    with pytest.raises(prepare.CannotPrepare, match="apt-get install -y git make python3-venv"):
        prepare.create_venv(tmp_path / "new")


def test_other_failure_of_venv_is_shown_as_it_is(monkeypatch, tmp_path):
    monkeypatch.setattr(prepare, "run_quietly", lambda command: (1, "No space left on device"))
    with pytest.raises(prepare.CannotPrepare, match="No space left on device"):
        prepare.create_venv(tmp_path / "new")


def test_failed_build_leaves_the_old_environment_alone(monkeypatch, venv):
    prepare.write_stamp(venv, {"runtime": "r1"})
    monkeypatch.setattr(prepare, "create_venv", lambda folder: folder.mkdir())

    def fail(folder, lists):
        raise prepare.CannotPrepare("no network")

    monkeypatch.setattr(prepare, "install_packages", fail)
    with pytest.raises(prepare.CannotPrepare, match="no network"):
        prepare.build_venv(venv, ["requirements.txt"], {"runtime": "r2"})
    assert prepare.read_stamp(venv) == {"runtime": "r1"}
    assert [path.name for path in venv.parent.iterdir()] == [".venv"]


def test_build_replaces_the_old_environment_whole(monkeypatch, venv):
    (venv / "left over").touch()

    def create(folder):
        (folder / "bin").mkdir(parents=True)
        (folder / "bin" / "python").touch()

    monkeypatch.setattr(prepare, "create_venv", create)
    monkeypatch.setattr(prepare, "install_packages", lambda folder, lists: None)
    prepare.build_venv(venv, ["requirements.txt"], {"runtime": "r2"})
    assert prepare.read_stamp(venv) == {"runtime": "r2"}
    assert not (venv / "left over").exists()
    assert [path.name for path in venv.parent.iterdir()] == [".venv"]


class Machine:
    """Stands in for a machine on which a part works once Debian's packages are there."""

    def __init__(self, monkeypatch, can_install):
        self.installed = []
        self.proofs = 0
        self.can_install = can_install
        monkeypatch.setattr(prepare, "run_quietly", self.prove)
        monkeypatch.setattr(prepare, "apt_install", self.install)

    def prove(self, command):
        self.proofs += 1
        return (0, "") if self.installed else (1, "Traceback\nOSError: cannot load library 'libpango-1.0-0'\n")

    def install(self, packages):
        if self.can_install:
            self.installed += packages
        return self.can_install


@pytest.mark.parametrize("part", ["engine", "browser"])
def test_part_is_mended_and_then_not_proved_again(monkeypatch, venv, part):
    machine = Machine(monkeypatch, can_install=True)
    prepare.prove(venv, part, may_install=True)
    assert machine.installed == prepare.PARTS[part][1]
    assert machine.proofs == 2
    prepare.prove(venv, part, may_install=True)
    assert machine.proofs == 2
    assert json.loads((venv / "prepared.json").read_text()) == {part: "proved"}


@pytest.mark.parametrize(
    ("part", "packages"),
    [("engine", "libpango-1.0-0 libpangoft2-1.0-0 libharfbuzz-subset0"), ("browser", "chromium libatomic1")],
)
@pytest.mark.parametrize(("can_install", "may_install"), [(False, True), (True, False)])
def test_part_that_cannot_be_mended_gives_the_line_to_type(monkeypatch, venv, part, packages, can_install, may_install):
    Machine(monkeypatch, can_install)
    with pytest.raises(prepare.CannotPrepare) as problem:
        prepare.prove(venv, part, may_install)
    assert f"apt-get install -y {packages}" in str(problem.value)
    assert "cannot load library 'libpango-1.0-0'" in str(problem.value)
    assert part not in prepare.read_stamp(venv)


def test_part_that_dies_without_a_word_is_reported_with_its_status(monkeypatch, venv):
    monkeypatch.setattr(prepare, "run_quietly", lambda command: (-11, ""))
    with pytest.raises(prepare.CannotPrepare, match="status -11"):
        prepare.prove(venv, "engine", may_install=False)


def test_one_proof_keeps_what_the_stamp_says_of_the_rest(monkeypatch, venv):
    prepare.write_stamp(venv, {"runtime": "r1", "engine": "proved"})
    monkeypatch.setattr(prepare, "run_quietly", lambda command: (0, ""))
    prepare.prove(venv, "browser", may_install=False)
    assert prepare.read_stamp(venv) == {"runtime": "r1", "engine": "proved", "browser": "proved"}


def test_problem_ends_with_status_1_and_no_traceback(monkeypatch, capsys):
    monkeypatch.setattr(prepare, "python_complaint", lambda version: "Too old.")
    assert prepare.main([]) == 1
    assert capsys.readouterr().err == "Too old.\n"


def test_imports_nothing_that_is_not_in_the_standard_library():
    # -S leaves site-packages out, -I what the environment adds; the module must load all the same.
    code = "import sys; sys.path.insert(0, sys.argv[1]); import project.prepare"
    root = str(prepare.ROOT)
    subprocess.run([sys.executable, "-S", "-I", "-c", code, root], check=True)


def test_lists_are_locked_with_hashes():
    for name in ("requirements.txt", "requirements-test.txt"):
        lines = (prepare.ROOT / name).read_text().splitlines()
        pins = [line for line in lines if line and not line.startswith((" ", "#"))]
        assert pins
        assert all("==" in line and line.endswith("\\") for line in pins), name


def test_stamp_is_json_that_a_person_can_read(venv):
    prepare.write_stamp(venv, {"runtime": "r1"})
    assert json.loads((venv / "prepared.json").read_text()) == {"runtime": "r1"}
