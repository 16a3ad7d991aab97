"""The kinds of picture, by the words that ask for them."""

from __future__ import annotations

from collections.abc import Callable

from sockscript.expand.run import Run
from sockscript.pictures.fold import fold_picture
from sockscript.pictures.short_rows import heel_picture
from sockscript.pictures.stitch_chart import stitches_picture
from sockscript.pictures.svg import Picture
from sockscript.pictures.unrolled import fabric_picture


def _sock(run: Run, *, heading: str) -> Picture | None:
    from sockscript.pictures.sock import sock_picture

    return sock_picture(run, heading=heading)


OF_ONE_SIZE: dict[str, tuple[str, Callable[..., Picture | None], str]] = {
    "fold": ("turning stitches to the other bed", fold_picture,
             "No stitches are lifted over from one bed to the other; a turn by way of waste yarn "
             "is not drawn."),
    "heel": ("short rows", heel_picture, "There are no short rows."),
    "fabric": ("the fabric unrolled", fabric_picture, "Nothing is knitted."),
    "stitches": ("stitches on the needles", stitches_picture, "Nothing is knitted."),
    "sock": ("the finished piece", _sock,
             "A shape needs a gauge, rows that go all round and no more than 60 000 stitches."),
}
"""Word: what the heading says, the function, what to say where there is nothing to draw."""

KINDS = ("beds", "schematic", *OF_ONE_SIZE)
