"""Every regular expression of the package against lines of 100,000 hostile characters.

``python tests/bench/hostile_lines.py`` finds the patterns in the code by itself (calls of ``re``,
the slips, the terminals of the grammar, the lexer), tries each with beginnings, pieces said again
and again, and endings, and prints the slowest of each that takes longer than a second.  ``--all``
prints the slowest line of every pattern.  The status is 1 when one takes longer.

Lines of 4,000 characters come first: only what takes long on them for so few is tried in full
(a scan that grows with the square of the line takes ten times as long there as any other).
"""

from __future__ import annotations

import argparse
import ast
import re
import signal
import sys
import time
from collections.abc import Iterator
from importlib import import_module
from itertools import product
from pathlib import Path

from sockscript.commands.counted import LONGEST_TYPED
from sockscript.highlight.lexer import SockscriptLexer
from sockscript.text.parser import load_parser
from sockscript.text.source import LONGEST_LINE
from sockscript.tree.slips import ALL_SLIPS, LONGEST_SLIP

PACKAGE = Path(__file__).resolve().parents[2] / "sockscript"
LENGTH, LONGEST = 100_000, 1.0
SHORT, SUSPECT = 4_000, 0.0025
BOUNDED = {"commands/counted.py": LONGEST_TYPED, "commands/asked_of_catalogue.py": LONGEST_TYPED,
           "text/quotes.py": LONGEST_LINE, "slip ": LONGEST_SLIP}
"""Longest lines that get so far, where that is less."""
FLAGS = {"I": re.I, "X": re.X, "M": re.M, "S": re.S, "DOTALL": re.S, "MULTILINE": re.M,
         "IGNORECASE": re.I}
BEGINNINGS = ("", "do a with ", "let ", "knit ", "end", "1", "a", '"', "“", "rows(", "sizes ")
PIECES = ("a", "1", " ", "-", "_", "½", "“", "”", '"', "'", "{", "}", "(", ")", ",", ".", "#", "<",
          ">", "/", "=", "a-", "a ", "1 ", "1/", "1.", "1,", "(1", "1 (", "with ", "with-",
          "with ,", "on ", "on a ", "rows ", "rows(", "a=", "a,", "“a", "”a", "“1", "1”", '"1',
          "{1", "é", "Did", "x", "\t", "\n", "!", "…", "a, ", "a 1, ", "\\", "st ", "<text>",
          "technique ", "knit ", "rack ", "draw ", "carriage ", "row counter ", "the ", "each ")
ENDINGS = ("", "!", "\x00", '"', "“", " 1", "=")


def patterns() -> Iterator[tuple[str, re.Pattern[str], set[str]]]:
    """Every pattern with where it stands and how it is used."""
    for path in sorted(PACKAGE.rglob("*.py")):
        tree = ast.parse(path.read_text("utf-8"))
        named = {node.value: node.targets[0].id for node in ast.walk(tree)
                 if isinstance(node, ast.Assign) and isinstance(node.targets[0], ast.Name)}
        for node in ast.walk(tree):
            if isinstance(node, ast.Call) and isinstance(node.func, ast.Attribute) \
                    and isinstance(node.func.value, ast.Name) and node.func.value.id == "re" \
                    and node.args and isinstance(node.args[0], ast.Constant) \
                    and isinstance(node.args[0].value, str):
                flags = 0
                for part in ast.walk(ast.Module(node.args[1:] + [k.value for k in node.keywords],
                                                [])):
                    if isinstance(part, ast.Attribute):
                        flags |= FLAGS.get(part.attr, 0)
                uses = {node.func.attr} if node.func.attr != "compile" else {
                    use.attr for use in ast.walk(tree) if isinstance(use, ast.Attribute)
                    and isinstance(use.value, ast.Name) and use.value.id == named.get(node)}
                yield (f"{path.relative_to(PACKAGE)}:{node.lineno}",
                       re.compile(node.args[0].value, flags), uses)
    yield from _put_together()
    for number, slip in enumerate(ALL_SLIPS):
        yield f"slip {number}", re.compile(slip.pattern, re.I), {"search"}
    for terminal in load_parser().terminals:
        yield f"terminal {terminal.name}", re.compile(terminal.pattern.to_regexp()), {"match"}
    for state, rules in SockscriptLexer.tokens.items():
        for number, rule in enumerate(rules):
            if isinstance(rule[0], str):
                yield f"lexer {state} {number}", re.compile(rule[0], re.I | re.M), {"match"}


def _put_together() -> Iterator[tuple[str, re.Pattern[str], set[str]]]:
    """Patterns that stand in a module by a name but are no plain text in its code."""
    for path in sorted(PACKAGE.rglob("*.py")):
        text = path.read_text("utf-8")
        if not re.search(r"re\.compile\(\s*(?![\s'\"]|r['\"])", text):
            continue
        name = ".".join(path.relative_to(PACKAGE.parent).with_suffix("").parts)
        for word, value in sorted(vars(import_module(name)).items()):
            if isinstance(value, re.Pattern) and isinstance(value.pattern, str):
                yield (f"{path.relative_to(PACKAGE)} {word}", value,
                       set(re.findall(rf"\b{word}\.(\w+)", text)))


class _TooLongError(Exception):
    pass


def _stop(*_: object) -> None:
    raise _TooLongError


def slowest(pattern: re.Pattern[str], uses: set[str], length: int = LENGTH) -> tuple[float, str]:
    """The longest time of all hostile lines (ended after a second), and the line in short."""
    found = (0.0, "")
    for beginning, piece, ending in product(BEGINNINGS, PIECES, ENDINGS):
        if taken(pattern, uses, (beginning + piece * (SHORT // len(piece)) + ending)[-length:]
                 ) < SUSPECT:
            continue
        took = taken(pattern, uses, (beginning + piece * (LENGTH // len(piece)) + ending)[-length:])
        if took > found[0]:
            found = (took, f"{beginning!r} + {piece!r} * n + {ending!r}")
        if took > LONGEST:
            break
    return found


def taken(pattern: re.Pattern[str], uses: set[str], line: str) -> float:
    """Seconds for the ways in which a pattern is used on a line; ended soon after a second."""
    started = time.perf_counter()
    signal.setitimer(signal.ITIMER_REAL, LONGEST * 1.5)
    try:
        for use in uses & {"match", "fullmatch"}:
            getattr(pattern, use)(line)
        if not uses or uses - {"match", "fullmatch"}:
            for _ in pattern.finditer(line):
                pass
    except _TooLongError:
        pass
    finally:
        signal.setitimer(signal.ITIMER_REAL, 0)
    return time.perf_counter() - started


def main() -> int:
    """Try all patterns; returns the exit status."""
    reader = argparse.ArgumentParser(description=__doc__)
    reader.add_argument("--all", action="store_true")
    reader.add_argument("--in", dest="place", default="", help="only patterns of such a place")
    told = reader.parse_args()
    signal.signal(signal.SIGALRM, _stop)
    count = slow = 0
    for name, pattern, uses in patterns():
        if told.place not in name:
            continue
        count += 1
        bound = next((most for place, most in BOUNDED.items() if name.startswith(place)), LENGTH)
        took, line = slowest(pattern, uses, bound)
        slow += took > LONGEST
        if told.all or took > LONGEST:
            print(f"{took:6.2f} s  {name:40} {line}", flush=True)
    print(f"{count} patterns, {len(BEGINNINGS) * len(PIECES) * len(ENDINGS)} lines of {LENGTH} "
          f"characters each; {slow} take longer than {LONGEST:.0f} s.")
    return 1 if slow else 0


if __name__ == "__main__":
    sys.exit(main())
