"""``sockscript new --kind machine``: a profile of one's own machine, by questions."""

from __future__ import annotations

import re
import sys
from collections.abc import Callable
from contextlib import suppress
from pathlib import Path

from sockscript.commands.check import CLEAN, UNUSABLE
from sockscript.commands.counted import FORMS, read_counted
from sockscript.commands.output import may_begin, tell_written
from sockscript.commands.swatch import fits_no_name
from sockscript.format.formatter import format_source
from sockscript.machine.load import profile_of
from sockscript.machine.places import ANY, ENDING, known_profiles, own_folder
from sockscript.text.source import Source
from sockscript.text.visible import visible
from sockscript.text.width import filled
from sockscript.tree.read import read_script

TITLE = "My double bed"
_WORDS = {
    "knit": "a bed that knits plainly", "rest": "a bed that does not knit",
    "tuck": "a bed that tucks", "circular": "both beds in circular",
    "half-pitch": "needles between needles", "full-pitch": "needles facing needles",
    "hold-respected": "needles in hold do not knit", "hold-cancelled": "needles in hold knit again",
    "out": "a needle out of work", "work": "a needle in work",
    "upper": "a needle pushed forward that still knits", "hold": "a needle in hold",
}
"""Settings for which machines have words of their own, and what each means."""

Objection = Callable[[str], str]
"""What is wrong with an answer; empty: nothing."""
Ask = Callable[[str, str, Objection], str]
"""A question, the answer that is meant by none, and what is wrong with an answer."""


def run(title: str | None, out: Path | None) -> int:
    """Write a machine profile; asks if someone is there to answer.  Returns 0, or 2.

    Without ``out`` it goes into the member's own folder, where every command finds it; or to
    standard output where nobody answers.
    """
    if not may_begin(out, ENDING):
        return UNUSABLE
    asking = sys.stdin.isatty() and sys.stderr.isatty()
    asked = Questions(_typed if asking else _none, title)
    text = asked.text()
    if out is None and not asking:
        sys.stdout.write(text)
        return CLEAN
    if out is None:
        out = _free(asked.title)
        with suppress(OSError):  # Writing tells what is wrong.
            out.parent.mkdir(parents=True, exist_ok=True)
    status = tell_written(text, out)
    if not status:
        name = out.stem if out.parent == own_folder() else str(out)
        print(f"Use it:                  sockscript check my-sock.sockscript --machine {name}\n"
              f"Make it your usual one:  sockscript machine {name}\n"
              "It is a text file: change it in any editor.")
    return status


def _free(title: str) -> Path:
    """A file in the member's own folder that is not there yet."""
    stem = "-".join(re.findall(r"\w+", title.lower()))[:40] or "my-machine"
    taken = {*known_profiles(), ANY}
    n = 1
    while (name := stem if n == 1 else f"{stem}-{n}") in taken:
        n += 1
    return own_folder() / f"{name}{ENDING}"


class Questions:
    """Asks for one line of a profile after the other; each is tried as soon as it is answered."""

    def __init__(self, ask: Ask, title: str | None = None) -> None:
        self.ask = ask
        self.title = title or ""
        self.lines = [f'machine "{TITLE}"', "    beds 2", "    needles 180"]

    def text(self) -> str:
        """The profile for the answers."""
        if not self.title:
            self.title = self.line(0, "What do you call your machine?", TITLE, 'machine "{}"')
        else:
            self.lines[0] = f'machine "{_plain(self.title)}"'
        double = self.line(1, "How many beds has it, 1 or 2?", "2", "    beds {}") == "2"
        self.line(2, "How many needles has a bed?", "180", "    needles {}")
        self.line(3, "How far is it from needle to needle, with the unit?", "4.5 mm",
                  "    spacing {}")
        low = self.line(4, "What is the smallest number on the dial for the stitch size?", "0",
                        "    dial {} to 1000 by 1")
        high = self.line(4, "And the largest?", "10", f"    dial {low} to {{}} by 1")
        self.line(4, "How far is it from one mark to the next, for example 1/3 or 1/2?", "1/3",
                  f"    dial {low} to {high} by {{}}")
        abilities = self._both_beds() if double else []
        if self.yes("Can it tuck?"):
            abilities.append("tuck")
        if self.yes("Can it leave needles that are pulled right out unknitted (hold)?"):
            abilities.append("hold")
        if abilities:
            self.lines.append(f"    has {', '.join(abilities)}")
        self._swatches(low)
        text = "\n".join([*self.lines, *self._words(double, abilities)]) + "\n"
        return format_source(Source("machine", text))

    def _both_beds(self) -> list[str]:
        """What only a machine with two beds has."""
        facing = self.yes("Can the needles of the two beds face each other (full pitch), besides "
                          "standing between each other (half pitch)?")
        self.lines.append("    pitches half, full" if facing else "    pitches half")
        racking = self.line(6, "By how many needles can a bed be racked? 0 if it cannot.", "5",
                            "    racking {}")
        abilities = []
        if self.yes("Can it knit on one bed there and on the other bed back (circular)?"):
            abilities.append("circular")
            self.line(7, "Does the front bed then knit on the way to the left or to the right?",
                      "left", "    front knits to the {} in circular")
        if racking != "0":
            abilities.append("racking")
        return abilities

    def _swatches(self, low: str) -> None:
        """Swatches that were knitted on it, as many as the member has; ``low``: the smallest
        number on the dial."""
        what = ("A swatch that you have knitted on it, washed and measured, for example "
                "60x84/20x20cm or 30x42/4in? By it the sheets of others' patterns tell your stitch "
                "size.")
        while typed := self.ask(f"{what} (Enter: none)", "", _no_swatch):
            counted = read_counted(typed, otherwise=None)
            if counted is None:  # Nobody is there any more to put it right.
                return
            place = len(self.lines)
            fabric = self.ask("Is it plain knitting or rib?", "plain", _no_fabric).lower()
            yarn = self.line(place, "Of which yarn?", "four-ply sock wool",
                             f'    swatch {fabric} "{{}}" {counted.gauge} at stitch size {low}')
            size = self.line(place, "At which stitch size?", "",
                             f'    swatch {fabric} "{yarn}" {counted.gauge} at stitch size {{}}')
            if not size:  # Nobody is there any more.
                del self.lines[place:]
                return
            what = "Another swatch?"

    def _words(self, double: bool, abilities: list[str]) -> list[str]:
        """The machine's own words; those it has none for stand as comments, to be filled in."""
        found = []
        for setting, meaning in _WORDS.items():
            if ((setting in ("tuck", "circular") and setting not in abilities)
                    or (setting.startswith("hold") and "hold" not in abilities)
                    or (setting.endswith("pitch") and not double)):
                continue
            own = _plain(self.ask(f"What does your machine or its manual say for: {meaning}? "
                                  "(Enter: nothing)", "", _too_long))
            found.append(f'{setting} "{own}"' if own else f'# {setting} "{meaning}"')
        said = any(not line.startswith("#") for line in found)
        return ["    # Its own words for the settings; a line that begins with # is not used.",
                "    words" if said else "    # words", *(f"        {line}" for line in found)]

    def line(self, place: int, question: str, otherwise: str, form: str) -> str:
        """The answer, once the line with it can stand at ``place`` in the profile."""
        def with_answer(answer: str) -> list[str]:
            return [*self.lines[:place], form.format(_plain(answer)), *self.lines[place + 1:]]

        def wrong(answer: str) -> str:
            found = profile_of(read_script(Source("machine", "\n".join(with_answer(answer)))))
            return f"{found[0].message} {found[0].hint}".strip() if isinstance(found, tuple) else ""

        answer = self.ask(question, otherwise, wrong)
        self.lines = with_answer(answer)
        return _plain(answer)

    def yes(self, question: str) -> bool:
        """Whether the answer is yes, which is meant by none."""
        def wrong(answer: str) -> str:
            return "" if answer.lower() in ("yes", "y", "no", "n") else "Please answer yes or no."

        return self.ask(f"{question} yes or no", "yes", wrong).lower().startswith("y")


def _plain(text: str) -> str:
    """An answer as it can stand in a profile: quotation marks would end a name, # the line."""
    return re.sub(r'["“”#{}]', "", visible(text)).strip()


def _too_long(answer: str) -> str:
    return "" if len(answer) <= 100 else "That is too long for a line of a pattern."


def _no_swatch(answer: str) -> str:
    if not answer or read_counted(answer, otherwise=None) is not None:
        return ""
    return f"'{answer}' is not a swatch. {FORMS}"


def _no_fabric(answer: str) -> str:
    return "Please answer in one word, such as plain or rib." if fits_no_name(answer) else ""


def _none(question: str, otherwise: str, wrong: Objection) -> str:
    return otherwise


def _typed(question: str, otherwise: str, wrong: Objection) -> str:
    while True:
        asked = filled(f"{question} [{otherwise}]" if otherwise else question)
        print(asked, end=" ", file=sys.stderr, flush=True)
        line = sys.stdin.readline()
        answer = line.strip() or otherwise
        said = wrong(answer)
        if not said or not line:
            return answer
        print(filled(said, "  "), file=sys.stderr)
