"""Machine profiles: reading them, and what a script needs that a machine has not."""

from __future__ import annotations

from collections.abc import Iterator
from fractions import Fraction
from pathlib import Path
from typing import Any

from attrs import evolve

from sockscript.machine.places import (
    ENDING,
    SHIPPED,
    find_profile,
    known_profiles,
    own_folder,
)
from sockscript.machine.profile import ANY_DOUBLE_BED, Profile
from sockscript.numbers.quantity import Quantity, show
from sockscript.text.layout import lay_out
from sockscript.text.source import Problem, Source, Span, read_source
from sockscript.tree.read import read_script
from sockscript.tree.script import MachineNeeds, Script
from sockscript.tree.slips import nearest

SETTINGS = ("knit", "rest", "tuck", "circular", "half-pitch", "full-pitch", "hold-respected",
            "hold-cancelled", "out", "work", "upper", "hold", "front", "back", "stitch-size")
"""The settings that a profile may have its own words for."""


def load_profile(asked: str, beside: Path | None = None) -> Profile | tuple[Problem, ...]:
    """A profile by its name or the path of its ``.machine`` file, or all that is wrong with it.

    ``beside``: the folder of the script, which is searched first.
    """
    path = find_profile(asked, beside)
    if path is None:
        nowhere = Span(Source(asked, ""), 1, 1, 1)
        known = known_profiles(beside)
        meant = nearest(asked.removesuffix(ENDING), set(known))
        return (Problem(
            "unknown-machine", nowhere, f"There is no machine called '{asked}'.",
            (f"Did you mean '{meant}'? " if meant else "") + f"There are {', '.join(known)}; or "
            f"name a file that ends in {ENDING}. Profiles are looked for beside the script, in "
            f"the current folder and in {own_folder()}."),)
    shown = f"machines/{path.name}" if path.parent == SHIPPED else str(path)
    source = read_source(path, shown)
    return (source,) if isinstance(source, Problem) else profile_in(source)


def profile_in(source: Source) -> Profile | tuple[Problem, ...]:
    """The profile that a text describes, or all that is wrong with it."""
    return profile_of(read_script(source))


def profile_of(script: Script) -> Profile | tuple[Problem, ...]:
    """The profile that a ``.machine`` file describes, or all that is wrong with it."""
    source, said = script.source, script.machine
    found = [*script.problems, *_other_blocks(script)]
    at = said.at or Span(source, 1, 1, 1)
    if said.at is None:
        found.append(Problem("bad-profile", at, "There is no 'machine' block in this file.",
                             'A profile begins with  machine "its name".'))
    else:
        spoiled = {source.line(problem.at.line).split(None, 1)[0].lower()
                   for problem in script.problems if source.line(problem.at.line).strip()}
        missing = [f"{word} {sample}" for word, sample, value in (
            ("beds", "2", said.beds), ("needles", "180", said.needles))
            if value is None and word not in spoiled]
        if missing:
            found.append(Problem(
                "bad-profile", at, "A profile says how many beds and how many needles a bed the "
                "machine has.", f"Add  {'  and  '.join(missing)}  under 'machine'."))
        for word, place in said.word_places.items():
            if word not in SETTINGS:
                meant = nearest(word, SETTINGS)
                found.append(Problem("bad-profile", place, f"'{word}' is not a setting.",
                                     f"Did you mean '{meant}'?" if meant else
                                     "Settings are " + ", ".join(SETTINGS) + "."))
    low, high, _ = said.dial or (0, None, None)
    found += [Problem("bad-profile", one.at, "The dial has no stitch size "
                      f"{show(Quantity(one.size))}.", "Write the number at which this swatch was "
                      "knitted.")
              for one in said.swatches if high is not None and not low <= one.size <= high]
    if found:
        return tuple(sorted(found, key=lambda problem: (problem.at.line, problem.at.start)))
    return _applied(evolve(ANY_DOUBLE_BED, settings=frozenset(), pitches=("half",)), said)


def _other_blocks(script: Script) -> Iterator[Problem]:
    """Lines of a pattern, which have no place in a profile."""
    told = {problem.at.line for problem in script.problems}
    for line in lay_out(script.source)[0]:
        word = line.text.split()[0]
        if word.lower() != "machine" and line.number not in told:
            yield Problem("bad-profile", line.span(script.source),
                          f"'{word}' does not belong into a machine profile.",
                          "A profile has one block, 'machine', with what the machine has and its "
                          f"words. A file with sections ends in .sockscript, not in {ENDING}.")


def _applied(profile: Profile, said: MachineNeeds) -> Profile:
    """A profile changed by what a machine block says."""
    changes: dict[str, Any] = {}
    if said.name is not None:
        changes["name"] = said.name
    for field in ("beds", "needles", "racking", "pitches", "front_circular"):
        value = getattr(said, field)
        if value is not None:
            changes[field] = value
    if said.spacing is not None:
        changes["spacing"] = Fraction(said.spacing)
    if said.dial is not None:
        low, high, by = said.dial
        changes |= {"dial_low": Fraction(low), "dial_high": Fraction(high),
                    "dial_step": Fraction(by)}
    settings = {word for word in said.abilities if word in ("circular", "tuck", "hold")}
    changes["settings"] = profile.settings | settings
    if said.words:
        changes["words"] = dict(said.words)
    changes["swatches"] = said.swatches
    return evolve(profile, **changes)


def script_profile(script: Script) -> Profile:
    """The machine to check a script on when none is named: any that is as the script says."""
    return _applied(ANY_DOUBLE_BED, script.machine)


def lacks(script: Script, profile: Profile) -> list[Problem]:
    """What the script says it needs and the machine has not."""
    said = script.machine
    if said.at is None:
        return []
    found: list[tuple[str, str]] = []
    if (said.beds or 1) > profile.beds:
        found.append(("two beds", "it has one"))
    if (said.needles or 0) > profile.needles:
        found.append((f"{said.needles} needles a bed", f"it has {profile.needles}"))
    for ability in said.abilities:
        has = (ability.split()[0] in profile.pitches if ability.endswith("pitch") else
               profile.racking > 0 if ability == "racking" else ability in profile.settings)
        if not has:
            found.append((f"{ability} knitting" if ability == "circular" else ability,
                          "it has none"))
    return [Problem("machine-lacks", said.at,
                    f"The pattern needs {what}; {has} ({profile.name}).",
                    "Choose another machine, or a pattern for this one.") for what, has in found]
