"""Laying out by typst (an optional library), with the letters that a pattern's words need.

typst brings its own fonts, and as long as these have every letter the computer's fonts are left
aside, so that the same pattern gives the same bytes on every machine.
"""

from __future__ import annotations

import re
from functools import lru_cache
from typing import Any, Literal

_LACKING = re.compile(r'the text `"(.*?)"` could not be displayed', re.DOTALL)
_ESCAPED = re.compile(r"\\u\{([0-9a-f]+)\}")

_PROBE = b"""#set document(title: "letters")
#sys.inputs.letters"""


class NoLetterError(Exception):
    """No font of typst or of the computer has a letter of the pattern; says what to do."""

    def __init__(self, letter: str) -> None:
        super().__init__(
            f"No font on this computer has the letter '{letter}' (U+{ord(letter[0]):04X}), which "
            "stands in the pattern.\nWrite it in other letters, or install a font that has it. "
            "A leaflet as .html or a picture as .svg\ncan be made all the same; a browser that "
            "has the letter prints it.")


def compiled(template: bytes, *, format: Literal["pdf", "png"], inputs: dict[str, str],
             letters: str, **options: Any) -> bytes:
    """The document that ``template`` makes of ``inputs``; ``letters``: all words in it.

    Raises ImportError where typst is not installed, NoLetterError where a letter is in no font.
    """
    import typst

    made: bytes = typst.compile(template, format=format, sys_inputs=inputs,
                                ignore_system_fonts=not _strange(letters), **options)
    return made


def _strange(words: str) -> bool:
    """Whether a letter is in none of typst's own fonts but in one of the computer's."""
    letters = "".join(sorted({letter for letter in words if ord(letter) > 0x7f}))
    if not letters or _lacking(letters, own_fonts=True) is None:
        return False
    found = _lacking(letters, own_fonts=False)
    if found is not None:
        raise NoLetterError(found)
    return True


@lru_cache(maxsize=8)
def _lacking(letters: str, own_fonts: bool) -> str | None:
    """The first letter that no font has.  Only PDF/UA makes typst tell it."""
    import typst

    try:
        typst.compile(_PROBE, format="pdf", pdf_standards="ua-1",
                      ignore_system_fonts=own_fonts, sys_inputs={"letters": letters})
    except typst.TypstError as error:
        found = _LACKING.search(str(error))
        if found is None:
            raise
        escaped = _ESCAPED.fullmatch(found[1])
        return chr(int(escaped[1], 16)) if escaped else found[1]
    return None
