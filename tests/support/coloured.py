"""A script, and what a colour definition should make of its parts."""

from __future__ import annotations

from collections.abc import Sequence
from pathlib import Path

ROOT = Path(__file__).resolve().parents[2]
EDITORS = ROOT / "editors"

PARTS = [
    ('pattern "Socks  # 2"', [("pattern", "statement"), ('"Socks  # 2"', "string")]),
    ("yarn main \"wool\" 400 m per 100 g", [("yarn", "statement"), ("main", "defined"),
                                            ("400", "number"), (" m ", "unit"), ("per", "word"),
                                            (" g", "unit")]),
    ("LET Half-round = Around / 2  # knit 2", [("LET", "statement"), ("Half-round", "defined"),
                                              ("=", "operator"), ("Around", "name"),
                                              ("/", "operator"), ("2  ", "number"),
                                              ("# knit 2", "comment")]),
    ("let wide = stitches(20 cm, rib) - 1 1/2in", [("stitches", "function"), ("20", "number"),
                                                   ("cm", "unit"), ("rib", "name"),
                                                   ("-", "operator"), ("1 1/2", "number"),
                                                   ("in", "unit")]),
    ("let a = ½ + front-half + 3½", [("½", "number"), ("front-half", "name"), ("3½", "number")]),
    ('section "Leg" in rib', [("section", "statement"), ('"Leg"', "string"), ("in", "word"),
                              ("rib", "name")]),
    ("    do my-toe on front with leave = 8", [("do", "statement"), ("my-toe", "called"),
                                               ("on", "word"), ("front", "bed"),
                                               ("with", "word"), ("leave", "name")]),
    ("    hold L10 to r(4) of back", [("hold", "statement"), ("L10", "needle"), ("to", "word"),
                                      (" r", "needle"), ("4", "number"), ("back", "bed")]),
    ("    take every 3rd of left 20 of both out of work",
     [("take", "statement"), ("every", "word"), ("3rd", "number"), ("left", "side"),
      ("both", "bed"), ("work", "word")]),
    ('    step "Knit {rows-done + 2} rows."', [("step", "statement"), ('"Knit ', "string"),
                                               ("{", "value"), ("}", "value"),
                                               (' rows."', "string")]),
    ('         "and {half} more"', [('"and ', "string"), ("{", "value"), ("}", "value"),
                                       (' more"', "string")]),
    ("    note “not {half} so”", [("note", "statement"), ("“not ", "string"), ("{", "value"),
                                  (" so”", "string")]),
    ('    note "open', [("open", "string")]),
    ("    KNIT 2 rows", [("KNIT", "statement"), ("2", "number"), ("rows", "word")]),
]
SCRIPT = "\n".join(line for line, _ in PARTS) + "\n"


def wrong(kinds: Sequence[Sequence[str]]) -> list[tuple[str, str, str, list[str]]]:
    """The parts that do not have the kind they should: line, part, wanted, found.

    ``kinds`` has for each line of the script the kind of every letter.
    """
    found = []
    for (line, parts), here in zip(PARTS, kinds, strict=True):
        assert len(here) == len(line), (line, here)
        at = 0
        for part, kind in parts:
            begin = line.index(part, at)
            at = begin + len(part)
            got = [k for letter, k in zip(part, here[begin:at], strict=True)
                   if not letter.isspace()]
            if set(got) != {kind}:
                found.append((line, part, kind, got))
    return found
