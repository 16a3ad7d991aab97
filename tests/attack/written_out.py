"""Socks with their techniques written out and nothing promised: slips in them are knitted on."""

from __future__ import annotations

import re
from functools import cache
from pathlib import Path
from random import Random

TECHNIQUES = Path(__file__).resolve().parents[2] / "sockscript" / "techniques"
EXCHANGED = [("front", "back"), ("left", "right"), ("carriage side", "far side"), ("work", "hold"),
             ("onto", "to"), ("rounds", "rows"), ("circular", "knit"), ("rest", "knit"),
             ("in by", "out by")]
"""Words of the language that are taken for each other."""


@cache
def _techniques() -> dict[str, str]:
    """Every shipped technique by its name, without what it needs and leaves."""
    found = {}
    for path in sorted(TECHNIQUES.glob("*.sockscript")):
        text = re.sub(r"(?m)^ +(needs|leaves) .*\n", "", path.read_text("utf-8"))
        for match in re.finditer(r"(?ms)^technique (\S+).*?(?=^technique |\Z)", text):
            found[match[1]] = match[0]
    return found


def written_out(text: str) -> str:
    """A script with the techniques that it calls in it, under other names, and no ``expect``."""
    called: list[str] = []
    todo = re.findall(r"\bdo ([\w-]+)", text)
    while todo:
        name = todo.pop()
        if name in _techniques() and name not in called:
            called.append(name)
            todo += re.findall(r"(?m)^ +do ([\w-]+)", _techniques()[name])
    place = text.index("\nsection ")
    whole = (text[:place] + "\n" + "".join(_techniques()[name] for name in called) + text[place:])
    for name in called:
        whole = re.sub(rf"\b(do|technique) {name}(?![\w-])", rf"\1 my-{name}", whole)
    return re.sub(r"(?m)^    expect .*\n", "", whole)


def other_hands(random: Random, text: str, times: int) -> str:
    """A script after slips that leave it one that can be knitted: a word taken for another, a
    line left out, doubled, exchanged or put in elsewhere, a number a little off."""
    lines = text.split("\n")
    first = next(n for n, line in enumerate(lines) if re.match("technique |section ", line))
    for _ in range(times):
        n = random.randrange(first, len(lines))
        line = lines[n]
        match random.randrange(6):
            case 0:
                del lines[n]
            case 1:
                lines.insert(n, line)
            case 2:
                m = min(len(lines) - 1, n + random.randrange(1, 6))
                lines[n], lines[m] = lines[m], lines[n]
            case 3:
                pair = random.choice(EXCHANGED)
                lines[n] = line.replace(*random.choice([pair, pair[::-1]]), 1)
            case 4:
                lines[n] = re.sub(r"\d+", lambda number: str(
                    max(0, int(number[0]) + random.choice([-3, -2, -1, 1, 2, 3]))), line, count=1)
            case _:
                other = random.choice([one for one in lines[first:] if one.startswith("    ")])
                lines.insert(n, " " * (len(line) - len(line.lstrip())) + other.strip())
    return "\n".join(lines)
