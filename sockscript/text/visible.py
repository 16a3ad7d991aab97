"""Letters that nobody sees, or that make a screen do something, shown as marks.

One letter becomes one mark, so that columns stay.  ``Source`` shows its lines so, and all that is
printed or written goes through here; what is read from a script is never changed in its file.
"""

from __future__ import annotations

import re
from typing import Any

_CONTROLS = "\x00-\x08\x0b\x0c\x0e-\x1f\x7f-\x9f\u2028\u2029\ud800-\udfff\ufffe\uffff"
_NOTHING = ("\u00ad\u034f\u115f\u1160\u17b4\u17b5\u180e\u200b\u2060-\u2065\u206a-\u206f\u3164"
            "\ufeff\uffa0\ufff9-\ufffb")
"""Letters without any width (Unicode's Default_Ignorable_Code_Point, of version 15, and marks of
annotations): two names that look the same would be two."""
_JOINS_NOTHING = "(?<![^\x00-\x7f])[\u200c\u200d]|[\u200c\u200d](?![^\x00-\x7f])"
"""A joiner has its place within letters of some scripts and within pictures, not beside ours."""
_TAGS_ALONE = "(?<![\U0001f3f4\U000e0020-\U000e007f])[\U000e0000-\U000e007f]+"
"""Tags belong after a black flag, which they make that of a country."""
_DIRECTIONS = "\u202a-\u202e\u2066-\u2069"
_ODD = f"{_JOINS_NOTHING}|{_TAGS_ALONE}"
CONTROL = re.compile(f"[{_CONTROLS}{_NOTHING}]|{_ODD}")
"""Control characters (ISO/IEC 6429), line separators, halves of letters, and what has no width."""
_UNSEEN = re.compile(f"[{_CONTROLS}{_NOTHING}{_DIRECTIONS}]|{_ODD}")
"""These, and what turns the direction of writing round (Unicode Standard Annex 9)."""
_NOT_IN_A_LINE = re.compile(f"[\t\n\r{_CONTROLS}{_NOTHING}{_DIRECTIONS}]|{_ODD}")
_FORMULA = re.compile(r"[-+=@\t\r]")
_NUMBER = re.compile(r"[-+]?\d+(\.\d+)?")


def _mark(match: re.Match[str]) -> str:
    code = ord(match[0][0])
    # The pictures for control characters stand in their order; for the others there is none.
    return (chr(0x2400 + code) if code < 0x20 else "\u2421" if code == 0x7f
            else "\ufffd" * len(match[0]))


def visible(text: str) -> str:
    """The text with marks for what is not seen; tabs and line ends stay."""
    return _UNSEEN.sub(_mark, text)


def in_one_line(text: str) -> str:
    """A name, with marks for tabs and line ends too."""
    return _NOT_IN_A_LINE.sub(_mark, text)


def json_text(data: Any, **options: Any) -> str:
    """JSON (RFC 8259) in plain letters; what is not seen is written as its number."""
    import json

    return _UNSEEN.sub(lambda match: json.dumps(match[0])[1:-1],
                       json.dumps(data, ensure_ascii=False, **options))


def cell(value: object) -> str:
    """What stands in a cell of a table for other programs: words are never taken for a formula."""
    text = visible(str(value))
    return "'" + text if _FORMULA.match(text) and not _NUMBER.fullmatch(text) else text
