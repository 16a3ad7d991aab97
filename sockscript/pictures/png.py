"""An SVG picture turned into pixels, by typst."""

from __future__ import annotations

import re

from sockscript.pictures.svg import Picture
from sockscript.pictures.typeset import compiled

PAGE = b"""#set page(width: auto, height: auto, margin: 0pt)
#image(bytes(sys.inputs.picture), format: "svg")"""
MOST_PIXELS = 30_000_000
"""Four bytes each, and typst holds them more than once."""
_UNUSUAL = re.compile(r"[^\x00-\u024f]")
_LIGATURE = re.compile("f(?=[fijl])")


def unjoined(words: str) -> str:
    """Words with unusual letters, without ligatures of f: a font that helps out with a letter is
    passed over where the number of glyphs is not the same in both."""
    return _LIGATURE.sub("f\u200c", words) if _UNUSUAL.search(words) else words


def as_png(picture: Picture, dots_per_inch: float = 144) -> bytes:
    """The picture as PNG.  Raises ImportError where typst is not installed, NoLetterError where
    no font has a letter of its words.

    A picture of more than ``MOST_PIXELS`` is made coarser.
    """
    # A unit of SVG is a 96th of an inch (CSS Values and Units, 6.2).
    units = picture.width * picture.height
    dots_per_inch = min(dots_per_inch, 96 * (MOST_PIXELS / max(units, 1)) ** 0.5)
    # A family that is named keeps letters that it lacks from being taken from another.
    svg = picture.in_font("", unjoined).svg
    return compiled(PAGE, format="png", inputs={"picture": svg}, letters=svg, ppi=dots_per_inch)
