"""How many one-line slips the check tells, judged by the cloth and not by the rules.

    python tests/bench/slips.py                         all examples, every slip (long)
    python tests/bench/slips.py --every 7               each seventh slip
    python tests/bench/slips.py examples/x.sockscript   some scripts
    python tests/bench/slips.py --passed                list what passes, and false alarms

A program makes every slip of one line: left out, doubled, exchanged with the next; a number one or
two off; another bed, side, yarn or setting.  Techniques that a script uses are written out in it,
so that their lines slip too.  ``cloth`` knits sound script and slip on the plain machine and
says whether the thing is still sound; then the check is asked.
"""

from __future__ import annotations

import argparse
import re
import sys
from collections import Counter
from collections.abc import Iterator
from pathlib import Path
from typing import NamedTuple
from unittest.mock import patch

ROOT = Path(__file__).resolve().parents[2]
sys.path.insert(0, str(ROOT / "tests"))
sys.path.insert(0, str(ROOT / "tests" / "bench"))

from cloth import OTHER_COLUMNS, Cloth, cloth_of, faults_in  # noqa: E402

import sockscript as package  # noqa: E402
from sockscript.expand import run as run_module  # noqa: E402
from sockscript.findings.prove import judge_proof, prepare, prove  # noqa: E402
from sockscript.findings.told_back import told_back  # noqa: E402
from sockscript.machine.load import script_profile  # noqa: E402
from sockscript.text.source import Source  # noqa: E402

TECHNIQUES = Path(package.__file__).parent / "techniques"
WORDS_ONLY = re.compile(r'(expect|target|allow|note|caution|step|row counter|needs|leaves|")')
"""Lines that say what is expected or printed: a slip there changes no cloth, and to be told is
right."""
PROMISES = frozenset({
    "expectation-not-met", "wrong-carriage-side", "bed-left-knitting", "bed-left-resting",
    "not-set-to-circular", "nothing-to-cut", "yarn-not-cut", "already-hung", "not-hung",
    "no-second-bed", "setting-not-had", "too-few-needles", "no-such-group",
    "yarn-left-in-feeder", "nothing-there", "name-taken",
    "technique-promise-broken", "technique-out-of-place"})
"""What tells that a line says other than it does: right even where the cloth is as before."""
EXCHANGED = [("front", "back"), ("both", "front"), ("both", "back"), ("left", "right"),
             ("carriage side", "far side"), ("knit", "rest"), ("circular", "knit"),
             ("circular", "rest"), ("half pitch", "full pitch"), ("respect", "cancel"),
             (" in by", " out by"), ("rows", "rounds"), ("row", "round"), (" to ", " onto "),
             (" turned", ""), ("hang", "remove"), ("other bed", "bed"), ("hold", "return")]


WHOLE = ("left out", "doubled", "exchanged with the next")
"""Slips of a whole line, shown as it was."""


class Slip(NamedTuple):
    """A script with one slip: what was done, and the lines of the slip's place."""

    what: str
    line: int
    text: str


def written_out(text: str) -> str:
    """A script with the shipped techniques that it uses (also by way of others) written into it."""
    blocks: dict[str, str] = {}
    for file in sorted(TECHNIQUES.glob("*.sockscript")):
        for block in re.split(r"(?m)^(?=technique )", file.read_text("utf-8")):
            name = re.match(r"technique ([\w-]+)", block)
            if name:
                blocks[name.group(1)] = re.sub(r"(?m)^#.*\n", "", block).rstrip() + "\n"
    used: list[str] = []
    todo = re.findall(r"\bdo ([\w-]+)", text)
    while todo:
        name = todo.pop(0)
        if name in blocks and name not in used and f"technique {name}" not in text:
            used.append(name)
            todo += re.findall(r"\bdo ([\w-]+)", blocks[name])
    at = re.search(r"(?m)^section ", text).start()
    return text[:at] + "".join(blocks[name] + "\n" for name in used) + text[at:]


def block_end(lines: list[str], at: int) -> int:
    """One past the last line of the block that a line opens (of the line itself if none)."""
    depth = len(lines[at]) - len(lines[at].lstrip())
    end = at + 1
    while end < len(lines) and (not lines[end].strip() or lines[end].lstrip().startswith('"') or
                                len(lines[end]) - len(lines[end].lstrip()) > depth):
        end += 1
    while end > at + 1 and not lines[end - 1].strip():
        end -= 1
    return end


def slips(text: str) -> Iterator[Slip]:
    """Every slip of one line."""
    lines = text.split("\n")
    yarns = re.findall(r"(?m)^yarn ([\w-]+)", text)
    seen = {text}
    for at, line in enumerate(lines):
        body = line.strip()
        if not body or body.startswith(("#", '"', "section", "technique")) \
                or (line[0] != " " and not line.startswith("let ")) \
                or _in_table(lines, at):
            continue
        for what, new in _changes(lines, at, yarns):
            whole = "\n".join(new)
            if whole not in seen:
                seen.add(whole)
                yield Slip(what, at + 1, whole)


def _in_table(lines: list[str], at: int) -> bool:
    for above in range(at, -1, -1):
        if lines[above] and lines[above][0] != " ":
            return lines[above].startswith(("sizes", "machine", "works for", "option"))
    return False


def _changes(lines: list[str], at: int, yarns: list[str]) -> Iterator[tuple[str, list[str]]]:
    line, end = lines[at], block_end(lines, at)
    depth = len(line) - len(line.lstrip())
    yield "left out", lines[:at] + lines[end:]
    if end == at + 1:
        yield "doubled", lines[:end] + lines[at:]
    if end < len(lines) and lines[end].strip() and \
            len(lines[end]) - len(lines[end].lstrip()) == depth:
        after = block_end(lines, end)
        yield "exchanged with the next", lines[:at] + lines[end:after] + lines[at:end] \
            + lines[after:]
    code = re.sub(r'"[^"]*"|#.*', lambda m: "\0" * len(m.group()), line)
    for number in re.finditer(r"(?<![\w.-])\d+(?![\w.-])", code):
        for off in (-2, -1, 1, 2):
            value = int(number.group()) + off
            if value >= 0:
                yield f"{number.group()} → {value}", _with(lines, at, number, str(value))
    for one, two in EXCHANGED:
        for a, b in ((one, two), (two, one)):
            if not a:
                continue
            edge = r"(?<![\w-])" if a[0] != " " else ""
            back = r"(?![\w-])" if a[-1] != " " else ""
            for found in re.finditer(edge + re.escape(a) + back, code):
                yield f"{a.strip()} → {b.strip() or '(nothing)'}", _with(lines, at, found, b)
    for yarn in yarns:
        for found in re.finditer(rf"(?<=thread ){yarn}\b|(?<=yarn = ){yarn}\b", code):
            for other in yarns:
                if other != yarn:
                    yield f"{yarn} → {other}", _with(lines, at, found, other)


def _with(lines: list[str], at: int, found: re.Match[str], new: str) -> list[str]:
    line = lines[at]
    return [*lines[:at], line[:found.start()] + new + line[found.end():], *lines[at + 1:]]


class Told(NamedTuple):
    """A finding: what kind, which lines it names, whether it concerns the size that is judged
    and may only follow from another."""

    severity: str
    kind: str
    lines: frozenset[int]
    judged: bool
    follows: bool


class Check(NamedTuple):
    """What the check says, the cloth of the tried runs, and the paragraph that tells it back."""

    found: tuple[Told, ...]
    cloth: tuple[Cloth | None, ...]
    paragraph: str = ""


def checked(text: str) -> Check:
    """Check a script, and knit the smallest size with every choice on the plain machine."""
    source = Source("slip.sockscript", text, None)
    prepared = prepare(source)
    if prepared.problems:
        return Check(tuple(Told("fault", p.kind, frozenset({p.at.line}), True, False)
                           for p in prepared.problems), ())
    profile = script_profile(prepared.script)
    proof = prove(prepared, profile)
    judged = judge_proof(proof, None)
    if any(f.severity == "fault" for f in judged.findings):
        # The check puts plain slips right as it goes on; the cloth is knitted as it is written.
        with patch.object(run_module, "put_right", lambda *_: ()):
            proof = prove(prepared, profile)
    paragraph = "\n".join(told_back(proof)) if not judged.findings else ""
    sizes = prepared.script.sizes
    found = tuple(Told(f.severity, f.kind, frozenset(
        {*(place.line for place in (f.at, *(o.at for o in f.others)) if place.source is source),
         *map(int, re.findall(r"since line (\d+)", f.advice))}),
        not f.sizes or sizes is None or sizes.names[0] in f.sizes, f.cause is not None)
        for f in judged.findings)
    waste = frozenset(y.name for y in prepared.script.yarns if y.role != "main")
    cloth = []
    for outcome in proof.outcomes[0]:
        run = outcome.run
        if run.stopped is not None or sum(getattr(m.op, "passes", 0) for m in run.moments) > 3000:
            cloth.extend([None] * len(outcome.choices))
        else:
            cloth.extend([cloth_of(run, waste)] * len(outcome.choices))
    return Check(found, tuple(cloth), paragraph)


def section_of(text: str, line: int) -> range:
    """The lines of the section or technique (or of the header) that a line stands in."""
    lines = text.split("\n")
    first = line
    while first > 1 and not lines[first - 1].startswith(("section", "technique")):
        first -= 1
    last = first
    while last < len(lines) and not lines[last].startswith(("section", "technique")):
        last += 1
    return range(first, last + 1)


def callers(text: str, block: range, known: frozenset[int] = frozenset()) -> set[int]:
    """Lines that call the technique of a block, also by way of others; a slip may make one call
    itself."""
    lines = text.split("\n")
    head = re.match(r"technique ([\w-]+)", lines[block.start - 1])
    if head is None:
        return set()
    found = set()
    for number, line in enumerate(lines, 1):
        if number not in known and re.search(rf"\bdo {head.group(1)}(?![\w-])", line):
            found.add(number)
            found |= callers(text, section_of(text, number), known | found)
    return found


class Report:
    """Counts and lists over many slips."""

    def __init__(self) -> None:
        self.counts: Counter[str] = Counter()
        self.passed: list[str] = []
        self.astray: list[str] = []
        self.alarms: list[str] = []

    def add(self, name: str, text: str, sound: Check, slip: Slip) -> None:
        now = checked(slip.text)
        before = {(f.severity, f.kind) for f in sound.found}
        new = [f for f in now.found if (f.severity, f.kind) not in before]
        told = [f for f in new if f.severity != "advice"]
        heard = told or new
        reasons: set[str] = set()
        changed = process = beside = False
        if not now.cloth or len(now.cloth) != len(sound.cloth):
            reasons.add("cannot be performed")
        for mine, its in zip(now.cloth, sound.cloth, strict=False):
            if mine is None or its is None:
                reasons.update(() if its is None else ("cannot be performed",))
                continue
            changed = changed or mine.print != its.print
            process = process or mine.tackle != its.tackle
            beside = beside or mine.eyelets > its.eyelets
            reasons.update(faults_in(mine, its))
        line = (text if slip.what in WHOLE else slip.text).split("\n")[slip.line - 1].strip()
        where = f"{name}:{slip.line}: {slip.what}: " \
                f"{line}"
        words = WORDS_ONLY.match(line) is not None
        if reasons == {OTHER_COLUMNS}:
            self.counts["design"] += 1
            self.counts["design seen"] += bool(new) or now.paragraph != sound.paragraph
        elif reasons:
            self.counts["unsound"] += 1
            if heard:
                self.counts["told"] += 1
                self.counts["only advice"] += not told
                block = section_of(slip.text, slip.line)
                near = {*block, *callers(slip.text, block)}
                if any(f.lines & near for f in heard):
                    self.counts["cause"] += 1
                else:
                    self.astray.append(f"{where}  [{', '.join(sorted(reasons))}] "
                                       f"{sorted({f.kind for f in heard})}")
            else:
                seen = now.paragraph != sound.paragraph
                self.counts["only in the paragraph"] += seen
                self.passed.append(f"{where}  [{', '.join(sorted(reasons))}]"
                                   + (" (seen in the paragraph)" if seen else ""))
        elif process:
            self.counts["process"] += 1
            self.counts["process told"] += bool(new)
        else:
            self.counts["sound, changed" if changed else "sound, the same"] += 1
            wrong = {f.kind for f in told if f.judged and not f.follows} - PROMISES
            if beside:
                wrong.discard("short-row-hole")
            if wrong and not words:
                self.counts["false alarms"] += 1
                self.alarms.append(f"{where}  {sorted(wrong)}")


def main() -> None:
    """Make the slips, judge and count."""
    parser = argparse.ArgumentParser()
    parser.add_argument("scripts", nargs="*", type=Path)
    parser.add_argument("--every", type=int, default=1)
    parser.add_argument("--passed", action="store_true")
    asked = parser.parse_args()
    scripts = asked.scripts or sorted((ROOT / "examples").glob("*.sockscript"))
    report = Report()
    for script in scripts:
        text = written_out(script.read_text("utf-8"))
        sound = checked(text)
        bad = [kind for severity, kind, *_ in sound.found if severity != "advice"]
        if bad or None in sound.cloth:
            print(f"{script.name} is not clean itself: {bad}")
            continue
        for number, slip in enumerate(slips(text)):
            if number % asked.every == 0:
                report.add(script.stem, text, sound, slip)
        print(script.stem, dict(report.counts), flush=True)
    counts = report.counts
    unsound, sound_ones = counts["unsound"], counts["sound, changed"] + counts["sound, the same"]
    print(f"\nunsound {unsound}: told {counts['told']} ({_share(counts['told'], unsound)}), by the "
          f"changed block or its call {counts['cause']} ({_share(counts['cause'], unsound)}); "
          f"{counts['only advice']} only as advice; of those that pass "
          f"{counts['only in the paragraph']} are seen in the paragraph that tells back")
    print(f"design {counts['design']}: seen in a finding or in that paragraph "
          f"{counts['design seen']}")
    print(f"sound {sound_ones}: with a fault or warning {counts['false alarms']}; changes of comb "
          f"and weights {counts['process']}, told {counts['process told']}")
    if asked.passed:
        for title, rows in (("PASSED", report.passed), ("CAUSE ELSEWHERE", report.astray),
                            ("FALSE ALARMS", report.alarms)):
            print(f"\n{title} ({len(rows)})", *rows, sep="\n")


def _share(part: int, whole: int) -> str:
    return f"{100 * part / whole:.0f} %" if whole else "–"


if __name__ == "__main__":
    main()
