"""Writing SVG (W3C, Scalable Vector Graphics 1.1): a drawing with a title and a description.

Everything is drawn in black, white and a few greys; what differs also differs in shape or in
pattern, so that a picture can be read in grey and by the colour-blind.
"""

from __future__ import annotations

import re
from collections.abc import Callable, Iterable
from copy import deepcopy
from typing import NamedTuple
from xml.etree import ElementTree

from sockscript.pictures.letters import width

INK, SOFT, PALE, PAPER = "#000000", "#595959", "#d9d9d9", "#ffffff"
"""Lines and words; quieter words (7:1 on white); areas; the ground."""

FONT = "'Noto Sans', 'DejaVu Sans', Arial, sans-serif"

NO_HEADING = 36.0
"""Where a picture without a heading begins."""
LONGEST_HEADING = 120
"""Letters of a heading."""

_NOT_XML = re.compile("[^\t\n\r\u0020-\ud7ff\ue000-\ufffd\U00010000-\U0010ffff]")


def clean(text: str) -> str:
    """Text without the characters that XML does not allow (XML 1.0, 2.2)."""
    return _NOT_XML.sub("", text)


def number(value: float) -> str:
    """A coordinate with at most two decimals."""
    text = f"{value:.2f}".rstrip("0").rstrip(".")
    return "0" if text in ("-0", "") else text


class Picture(NamedTuple):
    """A finished picture: its elements, its size in user units (a 96th of an inch each), and
    what it shows in words, for those who do not see it."""

    elements: ElementTree.Element
    width: float
    height: float
    description: str

    @property
    def svg(self) -> str:
        """Its text."""
        return ElementTree.tostring(self.elements, "unicode") + "\n"

    def in_font(self, family: str, words: Callable[[str], str] = str) -> Picture:
        """The same in another font (empty: in no certain one), its words put otherwise."""
        elements = deepcopy(self.elements)
        elements.attrib.pop("font-family")
        if family:
            elements.set("font-family", family)
        for element in elements.iter("text"):
            element.text = words(element.text or "")
        return self._replace(elements=elements)


class Drawing:
    """A picture being drawn.  Lengths are in user units; y grows downwards."""

    def __init__(self, name: str, title: str, description: str) -> None:
        """``name`` makes the ids of this picture its own where several stand on one page."""
        self.name = name
        self.description = description
        self.width = self.height = self.least = self.top = 0.0
        self.root = ElementTree.Element("svg", {
            "xmlns": "http://www.w3.org/2000/svg", "role": "img",
            "aria-labelledby": f"{name}-title {name}-desc", "font-family": FONT})
        ElementTree.SubElement(self.root, "title", {"id": f"{name}-title"}).text = clean(title)
        ElementTree.SubElement(self.root, "desc", {"id": f"{name}-desc"}).text = clean(description)
        self.definitions = ElementTree.SubElement(self.root, "defs")
        self.ground = ElementTree.SubElement(self.root, "rect", {"fill": PAPER})
        self.target = self.root

    def element(self, kind: str, **attributes: float | str) -> ElementTree.Element:
        """Add an element; ``_`` in an attribute's name stands for ``-``."""
        return ElementTree.SubElement(self.target, kind, {
            key.rstrip("_").replace("_", "-"): value if isinstance(value, str) else number(value)
            for key, value in attributes.items()})

    def line(self, x1: float, y1: float, x2: float, y2: float, width: float = 1,
             ink: str = INK, dash: str = "") -> None:
        """A straight line."""
        more = {"stroke_dasharray": dash} if dash else {}
        self.element("line", x1=x1, y1=y1, x2=x2, y2=y2, stroke=ink, stroke_width=width, **more)

    def rect(self, x: float, y: float, width: float, height: float, fill: str = "none",
             ink: str = INK, stroke: float = 1) -> None:
        """A rectangle."""
        self.element("rect", x=x, y=y, width=width, height=height, fill=fill, stroke=ink,
                     stroke_width=stroke)

    def circle(self, x: float, y: float, r: float, fill: str = PAPER, ink: str = INK,
               stroke: float = 1) -> None:
        """A circle."""
        self.element("circle", cx=x, cy=y, r=r, fill=fill, stroke=ink, stroke_width=stroke)

    def path(self, d: str, fill: str = "none", ink: str = INK, width: float = 1,
             dash: str = "") -> None:
        """A path with its data as SVG writes it."""
        more = {"stroke_dasharray": dash} if dash else {}
        self.element("path", d=d, fill=fill, stroke=ink, stroke_width=width,
                     stroke_linejoin="round", **more)

    def polyline(self, points: Iterable[tuple[float, float]], fill: str = "none",
                 ink: str = INK, width: float = 1, close: bool = False, dash: str = "") -> None:
        """Straight lines from point to point."""
        d = "M" + "L".join(f"{number(x)},{number(y)}" for x, y in points)
        self.path(d + ("Z" if close else ""), fill, ink, width, dash)

    def text(self, x: float, y: float, words: str, size: float = 12, anchor: str = "start",
             ink: str = INK, bold: bool = False, turn: float = 0) -> None:
        """Words on one line; ``y`` is the base line, ``turn`` degrees clockwise."""
        more: dict[str, str] = {"font_weight": "bold"} if bold else {}
        if turn:
            more["transform"] = f"rotate({number(turn)} {number(x)} {number(y)})"
        self.element("text", x=x, y=y, font_size=size, text_anchor=anchor, fill=ink,
                     **more).text = clean(words)

    def heading(self, words: str) -> None:
        """The heading at the top left; of a very long one the beginning and the end.

        Without words there is no room for one either.
        """
        if not words:
            self.top = NO_HEADING
            return
        if len(words) > LONGEST_HEADING:
            words = f"{words[:LONGEST_HEADING - 45]} … {words[-40:]}"
        size = 17 if len(words) <= 60 else 13
        self.least = 40 + width(words, size, bold=True)
        self.text(20, 28, words, size, bold=True)

    def arrow(self, x1: float, y1: float, x2: float, y2: float, head: float = 4) -> None:
        """A dimension line: straight, upright or level, with a head at each end."""
        self.line(x1, y1, x2, y2, 0.8)
        level = abs(x2 - x1) >= abs(y2 - y1)
        for x, y, way in ((x1, y1, 1), (x2, y2, -1)):
            forward = (1 if (x2 > x1 if level else y2 > y1) else -1) * way * head
            side = head / 2.5
            if level:
                points = [(x, y), (x + forward, y - side), (x + forward, y + side)]
            else:
                points = [(x, y), (x - side, y + forward), (x + side, y + forward)]
            self.polyline(points, INK, "none", 0, close=True)

    def pattern(self, name: str, width: float, height: float, marks: str,
                ground: str = PAPER, x: float = 0, y: float = 0) -> str:
        """A filling repeated over an area: path data ``marks`` on a ground; returns its paint."""
        found = ElementTree.SubElement(self.definitions, "pattern", {
            "id": f"{self.name}-{name}", "patternUnits": "userSpaceOnUse", "x": number(x),
            "y": number(y), "width": number(width), "height": number(height)})
        ElementTree.SubElement(found, "rect", {
            "width": number(width), "height": number(height), "fill": ground})
        ElementTree.SubElement(found, "path", {
            "d": marks, "fill": "none", "stroke": INK, "stroke-width": "0.6"})
        return f"url(#{self.name}-{name})"

    def fit(self, wide: float, high: float) -> None:
        """Set the size of the whole picture; it is never narrower than its heading."""
        self.width, self.height = max(wide, self.least), high

    def render(self) -> Picture:
        """The finished picture."""
        high = self.height - self.top
        self.root.set("viewBox", f"0 {number(self.top)} {number(self.width)} {number(high)}")
        self.root.set("width", number(self.width))
        self.root.set("height", number(high))
        self.ground.set("width", number(self.width))
        self.ground.set("height", number(self.height))
        return Picture(self.root, self.width, high, clean(self.description))
