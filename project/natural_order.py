"""Texts in the order in which people count: N2 before N10. Pure."""

import re

_DIGITS = re.compile(r"([0-9]+)")


def natural_key(text: str) -> tuple[tuple[str | int, ...], str]:
    """What to sort a text by: its letters without regard to case, its runs of digits as numbers; then the text itself.

    Letters and numbers alternate, beginning with (maybe no) letters, so that two keys always compare.
    """
    parts = _DIGITS.split(text.casefold())
    return tuple(int(part) if number % 2 else part for number, part in enumerate(parts)), text
