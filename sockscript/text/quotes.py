"""Words between quotation marks, and the one quotation mark that is none: that of inches."""

from __future__ import annotations

import re

INCH_MARK = r'(?<=[0-9¼½¾⅓⅔⅛⅜⅝⅞])["”″]'
"""Right after a number, outside quotation marks: ``7"``."""

QUOTED = r'"[^"]*"|“[^”]*”'

_EITHER = re.compile(f"(?P<inch>{INCH_MARK})|{QUOTED}")


def without_words(text: str) -> str:
    """The text with ``_`` for every letter between quotation marks (and the marks), and ``″``
    for every mark of inches; of the same length."""
    return _EITHER.sub(lambda m: "″" if m["inch"] else "_" * len(m.group(0)), text)
