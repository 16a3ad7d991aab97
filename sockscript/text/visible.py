"""Letters that nobody sees, or that make a screen do something, shown as marks.

One letter becomes one mark, so that columns stay.  ``Source`` shows its lines so, and all that is
printed or written goes through here; what is read from a script is never changed in its file.
"""

from __future__ import annotations

import re
from typing import Any

_CONTROLS = "\x00-\x08\x0b\x0c\x0e-\x1f\x7f-\x9f\u2028\u2029\ud800-\udfff\ufffe\uffff"
_DIRECTIONS = "\u202a-\u202e\u2066-\u2069"
CONTROL = re.compile(f"[{_CONTROLS}]")
"""Control characters (ISO/IEC 6429), line separators, halves of letters."""
_UNSEEN = re.compile(f"[{_CONTROLS}{_DIRECTIONS}]")
"""These, and what turns the direction of writing round (Unicode Standard Annex 9)."""
_NOT_IN_A_LINE = re.compile(f"[\t\n\r{_CONTROLS}{_DIRECTIONS}]")
_FORMULA = re.compile(r"[-+=@\t\r]")
_NUMBER = re.compile(r"[-+]?\d+(\.\d+)?")


def _mark(match: re.Match[str]) -> str:
    code = ord(match[0])
    # The pictures for control characters stand in their order; for the others there is none.
    return chr(0x2400 + code) if code < 0x20 else "\u2421" if code == 0x7f else "\ufffd"


def visible(text: str) -> str:
    """The text with marks for what is not seen; tabs and line ends stay."""
    return _UNSEEN.sub(_mark, text)


def in_one_line(text: str) -> str:
    """A name, with marks for tabs and line ends too."""
    return _NOT_IN_A_LINE.sub(_mark, text)


def json_text(data: Any, **options: Any) -> str:
    """JSON (RFC 8259) in plain letters; what is not seen is written as its number."""
    import json

    return _UNSEEN.sub(lambda match: f"\\u{ord(match[0]):04x}",
                       json.dumps(data, ensure_ascii=False, **options))


def cell(value: object) -> str:
    """What stands in a cell of a table for other programs: words are never taken for a formula."""
    text = visible(str(value))
    return "'" + text if _FORMULA.match(text) and not _NUMBER.fullmatch(text) else text
