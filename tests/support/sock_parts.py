"""Socks of many constructions, put together from parts."""

from __future__ import annotations

from support.scripts import proof

HEADER = '''pattern "Shapes"
machine
    beds 2
    needles 100
    needs circular, hold, half pitch, full pitch
yarn main "four-ply sock wool" 400 m per 100 g
yarn waste "smooth waste yarn" as waste
yarn cord "ravel cord" as ravel cord
gauge plain 30 stitches, 40 rows per 10 cm
'''

START = {
    "rib turned to a tube": ('''do tubular-cast-on with around = 48, yarn = main
knit 17 rows
do rib-to-one-bed on back
set back to knit
knit 1 row on back
do turn-to-tube with bed = back
thread main
set both to circular''', 1 + 1 + 17 + 1),
    "rib turned on waste yarn": ('''do tubular-cast-on with around = 48, yarn = main
knit 17 rows
do rib-to-one-bed on back
set back to knit
knit 1 row on back
do turn-to-tube-on-waste with bed = back
thread main
set both to circular''', 1 + 1 + 17 + 1),
    "cast on by hand": ('''bring centre 24 of both into work
thread main
cast on centre 24 of both
set both to circular''', 0),
}
"""How the leg begins, and its rows: the cast-on row, a round of the edge, the rib, a row on one
bed."""

TOES = {
    "grafted": ("do wedge-toe with leave = 10\nknit 1 round\ncut\ngraft front to back", 15),
    "gathered": ("do wedge-toe with leave = 10\nknit 1 round\ncut\ngather both", 15),
    "joined, bound off on one bed": ('''do wedge-toe with leave = 10
transfer back onto front
set back to rest
set front to knit
knit 1 row on front
bind off front
cut''', 15),
    "bound off on both beds together": (
        "do wedge-toe with leave = 10\nknit 1 round\nbind off both\ncut", 15),
    "bound off bed by bed": (
        "do wedge-toe with leave = 10\nknit 1 round\nbind off front\nbind off back\ncut", 15),
    "closed by rows on both beds": ('''do wedge-toe with leave = 10
set both to knit
knit 1 row
transfer back onto front
set back to rest
knit 1 row on front
bind off front
cut''', 16),
    "scrapped and grafted": ('''do wedge-toe with leave = 10
knit 1 round
cut
scrap off front as sole
scrap off back as instep
graft sole to instep''', 15),
    "a cup of short rows": ('''knit 1 round
do heel on front with leave = 8
cut
graft front to back''', 1 + 16),
    "a cup of short rows, scrapped and grafted": ('''do heel on front with leave = 8
scrap off front as sole
cut
scrap off back as instep
graft sole to instep''', 16),
}
"""How the toe ends, and its rows along the foot."""

FOOTWAYS = {
    "rounds": "knit 60 rounds",
    "rows": "knit 120 rows",
    "a round at a time": "repeat 60 times\n    knit 1 round",
    "a row at a time": "repeat 120 times\n    knit 1 row",
}
HEEL = "do heel on front with leave = 8\nset both to circular"
LEG = "knit 40 rounds"


def indented(lines):
    return "\n".join("    " + line for line in lines.splitlines())


def script(parts, sections):
    """The parts as sections with their names, or all in one."""
    body = HEADER
    names = {name for name in ("waste", "cord") if not any(name in lines for _, lines in parts)}
    for name in names:
        body = "\n".join(line for line in body.splitlines() if not line.startswith(f"yarn {name}"))
    if not sections:
        parts = [("All of it", "\n".join(lines for _, lines in parts))]
    return body + "\n" + "\n".join(
        f'section "{title}" in plain\n{indented(lines)}\n' for title, lines in parts)


def made(parts, sections=True):
    return proof(script(parts, sections)).outcomes[0][0].run

TOE_UP = {
    "cast on as a closed tube": ('''do tube-cast-on with half = 10, yarn = main
knit 2 rounds
repeat until 24 stitches on front
    do increase-once
    knit 2 rounds''', 1 + 2 + 14),
    "a cup of short rows from waste yarn": ('''half pitch
do waste-start on front with around = 24, waste = waste, cord = cord, yarn = main, edge = tip
knit 1 row on front
do heel on front with leave = 8
bring centre 24 of back into work
rehang tip to centre 24 of back
set both to circular''', (1 + 32) / 2),
    "a cup of short rows on a closed tube": ('''do tube-cast-on with half = 24, yarn = main
knit 2 rounds
do heel on front with leave = 8
set both to circular''', 1 + 2 + 16),
    "narrow, cast on by hand": ('''bring centre 10 of both into work
thread main
cast on centre 10 of both
set both to circular
knit 3 rounds
repeat until 24 stitches on front
    do increase-once
    knit 2 rounds''', 3 + 14),
}
END = {
    "bound off bed by bed": "bind off front\nbind off back\ncut",
    "bound off on both beds together": "bind off both\ncut",
    "left on waste yarn": "cut\nscrap off front as first\nscrap off back as second",
    "still on the needles": "cut",
}


AFTERTHOUGHT = '''do afterthought-opening with bed = front, opening = place, waste = waste, \
yarn = main'''
TAKEN_UP = '''do afterthought-heel with opening = place, half = 24, leave = 10, yarn = main'''
