"""Machine profiles: reading them, and what a script needs that a machine has not."""

from __future__ import annotations

from fractions import Fraction
from pathlib import Path
from typing import Any

from attrs import evolve

from sockscript.machine.profile import ANY_DOUBLE_BED, Profile
from sockscript.text.source import Problem, Source, Span, read_source
from sockscript.tree.read import read_script
from sockscript.tree.script import MachineNeeds, Script
from sockscript.tree.slips import nearest

SHIPPED = Path(__file__).parent.parent / "machines"

SETTINGS = ("knit", "rest", "tuck", "circular", "half-pitch", "full-pitch", "hold-respected",
            "hold-cancelled", "out", "work", "upper", "hold", "front", "back", "stitch-size")
"""The settings that a profile may have its own words for."""


def shipped_profiles() -> dict[str, Path]:
    """The profiles that come with the program, by name."""
    return {path.stem: path for path in sorted(SHIPPED.glob("*.machine"))}


def load_profile(name_or_path: str) -> Profile | Problem:
    """A profile by the name of a shipped one, or from a ``.machine`` file."""
    shipped = shipped_profiles()
    path = shipped.get(name_or_path.lower())
    shown = f"machines/{path.name}" if path is not None else name_or_path
    if path is None:
        path = Path(name_or_path)
        if path.suffix != ".machine":
            nowhere = Span(Source(name_or_path, ""), 1, 1, 1)
            meant = nearest(name_or_path, set(shipped))
            return Problem("unknown-machine", nowhere,
                           f"There is no machine called '{name_or_path}'.",
                           (f"Did you mean '{meant}'? " if meant else "")
                           + f"There are {', '.join(shipped)}; or name a file that ends in "
                           ".machine.")
    source = read_source(path, shown)
    return source if isinstance(source, Problem) else profile_in(source)


def profile_in(source: Source) -> Profile | Problem:
    """The profile that a text describes."""
    script = read_script(source)
    return script.problems[0] if script.problems else profile_of(script)


def profile_of(script: Script) -> Profile | Problem:
    """The profile that a ``.machine`` file without slips describes."""
    source = script.source
    said = script.machine
    at = said.at or Span(source, 1, 1, 1)
    if said.at is None:
        return Problem("bad-profile", at, "There is no 'machine' block in this file.",
                       'A profile begins with  machine "its name".')
    if said.beds is None or said.needles is None:
        return Problem("bad-profile", at, "A profile says how many beds and how many needles a "
                       "bed the machine has.", "Add  beds 2  and  needles 180  under 'machine'.")
    for word in said.words:
        if word not in SETTINGS:
            meant = nearest(word, SETTINGS)
            return Problem("bad-profile", at, f"'{word}' is not a setting.",
                           f"Did you mean '{meant}'?" if meant else
                           "Settings are " + ", ".join(SETTINGS) + ".")
    return _applied(evolve(ANY_DOUBLE_BED, settings=frozenset(), pitches=("half",)), said)


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
