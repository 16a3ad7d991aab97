"""Scripts to attack with: all that the project has, spoiled, and lines made from the grammar."""

from __future__ import annotations

import re
from functools import cache
from pathlib import Path
from random import Random

from support.grammar_lines import ENDLESS, SAMPLES

from attack.written_out import other_hands, written_out
from sockscript.findings.page import load_page, page_names
from sockscript.text.parser import load_parser

ROOT = Path(__file__).resolve().parents[2]

NASTY = ["\x00", "\x1b[2J", "\x1b]0;x\x07", "\u202e", "\u2066", "\u2028", "\x85", "\x7f",
         "\x9b31m", "\ufeff", "\ud800", "\U000e0041", "“", "”", "\"", "{", "}", "{{", "\t", "\r",
         "#", "½", "é", "ﬁ", "字", "😀", "=cmd|' /C calc'!A0", "@SUM(1)", "+1", "-1", "<script>",
         "</script>", "&amp;", "%s", "{0}", "\\", "`", "|", "*", "../", "C:", "//", "%00",
         "$(x)", "'", "0", "1", "-1", "1/0", "0.1", "99999999999999", "1e9", "L0", "R1", "L999",
         "1 1/2", "10 %", "cm", "in", "both", "other"]
"""Pieces that programs trip over."""
HEADERS = [
    'yarn main "wool" nm 28 / 2', 'yarn main "wool" ne 10', 'yarn main "wool" 250 tex',
    'yarn main "wool" worsted count 12 / 2', 'yarn main "wool" 0 m per 100 g',
    'yarn main "wool" 380 m per 0 g', 'yarn waste "string" as waste',
    "gauge plain 0 stitches, 0 rows per 10 cm",
    "gauge plain 30 stitches, 42 rows per 10 cm dry stretches to 150 %", "option half 1, 2, 3",
    "swatch plain in main 40 stitches, 50 rows weighs 5 g", "allow short-row-hole \"so be it\"",
    "works for\n    foot-round 18 to 27 cm by 1 cm", "sizes S\n    foot-round 0 cm",
    "machine\n    beds 1\n    needles 20", "version 1", 'licence "CC0"', 'use "a.sockscript"']


@cache
def scripts() -> tuple[str, ...]:
    """Examples, the scripts on the pages of the findings, sound scripts, techniques, profiles."""
    found = [path.read_text("utf-8") for folder, ending in (
        ("examples", "sockscript"), ("tests/sound", "sockscript"),
        ("sockscript/techniques", "sockscript"), ("sockscript/machines", "machine"))
        for path in sorted((ROOT / folder).glob(f"*.{ending}"))]
    for name in page_names():
        page = load_page(name)
        found += [text for text in (page.broken, page.mended) if text]
    return tuple(found)


@cache
def whole_socks() -> tuple[str, ...]:
    """Scripts that go through every command."""
    folder = ROOT / "examples"
    return tuple(path.read_text("utf-8") for path in sorted(folder.glob("*.sockscript")))


@cache
def words() -> tuple[str, ...]:
    """Every word and number in them."""
    return tuple(sorted({word for text in scripts() for word in re.findall(r"\S+", text)}))


def spoiled(random: Random, text: str, times: int) -> str:
    """A script after some slips."""
    lines = text.split("\n")
    for _ in range(times):
        n, m = random.randrange(len(lines)), random.randrange(len(lines))
        pieces = re.split(r"(\s+)", lines[n])
        at = random.randrange(len(pieces))
        match random.randrange(16):
            case 14:
                # A whole kind of line is forgotten.
                first = lines[n].split()[:1]
                lines = [line for line in lines if line.split()[:1] != first]
            case 15:
                lines.insert(n, random.choice(HEADERS))
            case 0:
                del lines[n]
            case 1:
                lines.insert(m, lines[n])
            case 2:
                lines[n], lines[m] = lines[m], lines[n]
            case 3 | 4:
                pieces[at] = random.choice(words())
                lines[n] = "".join(pieces)
            case 5:
                lines[n] = lines[n][:random.randrange(len(lines[n]) + 1)]
            case 6:
                lines[n] = random.choice(["    ", "\t", " "]) + lines[n]
            case 7:
                lines[n] = lines[n].lstrip()
            case 8:
                del pieces[at]
                lines[n] = "".join(pieces)
            case 9 | 10:
                numbers = list(re.finditer(r"\d+", lines[n]))
                if numbers:
                    one = random.choice(numbers)
                    new = random.choice([0, 1, 2, int(one[0]) + 1, max(0, int(one[0]) - 1),
                                         int(one[0]) * 10, random.randrange(200)])
                    lines[n] = lines[n][:one.start()] + str(new) + lines[n][one.end():]
            case 11:
                where = random.randrange(len(lines[n]) + 1)
                lines[n] = lines[n][:where] + random.choice(NASTY) + lines[n][where:]
            case 12:
                lines.insert(n, "    " * random.randrange(3) + grammar_line(random, "line"))
            case _:
                other = random.choice(scripts()).split("\n")
                first = random.randrange(len(other))
                lines[n:n] = other[first:first + random.randrange(1, 6)]
        if not lines:
            lines = [""]
    return "\n".join(lines)


@cache
def _rules():
    found = {}
    for rule in load_parser().rules:
        found.setdefault(rule.origin.name, []).append(rule.expansion)
    depths = dict.fromkeys(found, ENDLESS)
    for _ in depths:
        for name in depths:
            depths[name] = 1 + min(max((0 if s.is_term else depths[s.name] for s in expansion),
                                       default=0) for expansion in found[name])
    return found, depths


@cache
def _terminals():
    return {terminal.name: [terminal.pattern.value] for terminal in load_parser().terminals
            if type(terminal.pattern).__name__ == "PatternStr"} | SAMPLES


def grammar_line(random: Random, start: str, budget: int = 9) -> str:
    """A line that the grammar allows."""
    rules, depths = _rules()

    def deep(expansion):
        return max((0 if s.is_term else depths[s.name] for s in expansion), default=0)

    def derive(name, budget):
        fitting = [e for e in rules[name] if deep(e) <= budget] or [min(rules[name], key=deep)]
        for symbol in random.choice(fitting):
            if symbol.is_term:
                yield random.choice(_terminals()[symbol.name])
            else:
                yield from derive(symbol.name, budget - 1)

    return " ".join(derive(start, budget))


def grammar_script(random: Random) -> str:
    """A script of such lines."""
    lines = [grammar_line(random, "line") for _ in range(random.randrange(1, 6))]
    lines.append('section "Leg"')
    lines += ["    " * random.choice([1, 1, 1, 2]) + grammar_line(random, "line")
              for _ in range(random.randrange(1, 12))]
    return "\n".join(lines) + "\n"


def any_script(random: Random) -> str:
    """A script of any of these kinds."""
    if random.random() < 0.1:
        return grammar_script(random)
    if random.random() < 0.3:
        return nearly_whole(random)
    return spoiled(random, random.choice(scripts()), random.randrange(1, 6))


def nearly_whole(random: Random, slips: tuple[int, ...] = (0, 1, 1, 1, 2)) -> str:
    """A script that most commands still take; mostly one of a size or two in thick yarn, which is
    quick."""
    text = random.choice(whole_socks())
    if random.random() < 0.99:
        text = of_few_sizes(random, text)
    if random.random() < 0.98:
        text = in_thick_yarn(random, text)
    if random.random() < 0.3:
        return other_hands(random, written_out(text), random.choice(slips))
    return spoiled(random, text, random.choice(slips))


def of_few_sizes(random: Random, text: str) -> str:
    """A script with one or two columns of its size table."""
    lines = text.split("\n")
    first = next(n for n, line in enumerate(lines) if line.startswith("sizes "))
    last = next(n for n in range(first + 1, len(lines)) if not lines[n].strip())
    names = lines[first].split()[1:]
    chosen = sorted(random.sample(range(len(names)), random.choice([1, 1, 2])))
    for n in range(first, last):
        word, *values = lines[n].split()
        indent = lines[n][:len(lines[n]) - len(lines[n].lstrip())]
        lines[n] = indent + " ".join([word, *(values[c] for c in chosen), *values[len(names):]])
    return "\n".join(lines)


def in_thick_yarn(random: Random, text: str) -> str:
    """A script with few stitches to its gauges."""
    part = random.choice([3, 4, 5])
    return re.sub(r"^(gauge \S+) (\d+) stitches, (\d+) rows", lambda found: (
        f"{found[1]} {int(found[2]) // part} stitches, {int(found[3]) // part} rows"), text,
        flags=re.M)


_RANGES = """
works for
    foot-round {} to {} cm by 1 cm
    foot-length {} to {} cm by {} cm
"""


def of_a_range(random: Random) -> str:
    """A script that works for some feet, with a slip or none."""
    text = of_few_sizes(random, random.choice(whole_socks()))
    if random.random() < 0.98:
        text = in_thick_yarn(random, text)
    text = re.sub(r"\nworks for\n(    .*\n)+", "\n", text)
    round_, length = random.randrange(14, 26), random.randrange(14, 28)
    ranges = _RANGES.format(round_, round_ + random.randrange(4), length,
                            length + random.randrange(5), random.choice([1, 2, "1/2"]))
    if "option " in text and random.random() < 0.2:
        ranges += "    where foot-length is at least foot-round\n"
    place = text.index("\nsection ")
    place = text.index("\nsizes ") if random.random() < 0.5 else place
    text = text[:place] + "\n" + ranges + text[place:]
    return spoiled(random, text, random.choice([0, 0, 1, 1, 2]))
