"""An SVG picture turned into pixels, by typst (an optional library that brings its own fonts)."""

from __future__ import annotations

PAGE = b"""#set page(width: auto, height: auto, margin: 0pt)
#image(bytes(sys.inputs.picture), format: "svg")"""


def as_png(svg: str, dots_per_inch: float = 144) -> bytes:
    """The picture as PNG.  Raises ImportError where typst is not installed.

    System fonts are left aside, so that the picture is the same on every machine.
    """
    import typst

    made: bytes = typst.compile(PAGE, format="png", ppi=dots_per_inch,
                                sys_inputs={"picture": svg}, ignore_system_fonts=True)
    return made
