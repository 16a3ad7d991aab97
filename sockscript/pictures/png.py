"""An SVG picture turned into pixels, by typst."""

from __future__ import annotations

from sockscript.pictures.typeset import compiled

PAGE = b"""#set page(width: auto, height: auto, margin: 0pt)
#image(bytes(sys.inputs.picture), format: "svg")"""


def as_png(svg: str, dots_per_inch: float = 144) -> bytes:
    """The picture as PNG.  Raises ImportError where typst is not installed, NoLetterError where
    no font has a letter of its words."""
    return compiled(PAGE, format="png", inputs={"picture": svg}, letters=svg, ppi=dots_per_inch)
