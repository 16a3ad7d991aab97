"""Numbers of many sizes told as a rule: ``4 stitches fewer in every size but Toddler``."""

from __future__ import annotations

from collections.abc import Sequence
from fractions import Fraction
from typing import NamedTuple

from sockscript.compare.model import Difference, Numbers
from sockscript.fit.yarn import YARD_METRES
from sockscript.numbers.quantity import Exact, show_inches, show_number

FEW = 3
"""Names of sizes that are read at a glance."""
MORE_OR_FEWER, LONGER, WIDER, MORE = (("more", "fewer"), ("longer", "shorter"),
                                      ("wider", "narrower"), ("more", "less"))
MM_PER_EIGHTH = Fraction(254, 80)
"""The finest that an inch tape is read to at a glance, in mm."""


def listed(names: Sequence[str], last: str = "and") -> str:
    """``a, b and c``."""
    if len(names) < 2:
        return "".join(names)
    return f"{', '.join(names[:-1])} {last} {names[-1]}"


class NumberChange(NamedTuple):
    """What changed in a number: by how much in which sizes, and what it was and is there."""

    change: str
    values: str
    sizes: tuple[str, ...]
    numbers: Numbers

    def told(self, kind: str, about: str, *, detail: bool = False) -> Difference:
        """It as a sentence about something; ``kind`` is its name for other tools."""
        return Difference(kind, f"{about}: {self.change} ({self.values}).", self.sizes,
                          self.numbers, detail=detail, rule=f"{about}: {self.change}.")


def rule(numbers: Numbers, names: Sequence[str], inches: bool,
         words: tuple[str, str]) -> NumberChange | None:
    """What changed in a number; None where it rounds to nothing.

    ``words``: what to call more and less of it.  Lengths are told to the millimetre, or to the
    eighth of an inch.
    """
    parts = []
    changed: list[int] = []
    for more in (True, False):
        here = {n: off for n, off in _differences(numbers, inches).items()
                if (off > 0) is more}
        if here:
            offs: list[Exact] = sorted(off if off > 0 else -off for off in here.values())
            low, high = offs[0], offs[-1]
            parts.append(f"{_span(low, high, numbers.unit, inches)} {words[not more]}"
                         f"{_where(sorted(here), names)}")
            changed += here
    for found, word in ((_only(numbers.now, numbers.was), "new"),
                        (_only(numbers.was, numbers.now), "gone")):
        if found:
            parts.append(f"{word}{_where(found, names)}")
            changed += found
    if not parts:
        return None
    was = _all([numbers.was[n] for n in sorted(changed)], numbers.unit, inches)
    now = _all([numbers.now[n] for n in sorted(changed)], numbers.unit, inches)
    values = f"was {was}, now {now}" if was and now else was or now
    return NumberChange(", ".join(parts), values, tuple(names[n] for n in sorted(changed)), numbers)


def _differences(numbers: Numbers, inches: bool) -> dict[int, Exact]:
    """By how much each size differs, where it does after rounding to what can be measured."""
    found: dict[int, Exact] = {}
    for n, (was, now) in enumerate(zip(numbers.was, numbers.now, strict=True)):
        if was is None or now is None:
            continue
        off: Exact = now - was
        if numbers.unit == "mm":
            off = round(off / MM_PER_EIGHTH) * MM_PER_EIGHTH if inches else round(off)
        if off:
            found[n] = off
    return found


def _only(ours: Sequence[Exact | None], theirs: Sequence[Exact | None]) -> list[int]:
    return [n for n, (one, other) in enumerate(zip(ours, theirs, strict=True))
            if one is not None and other is None]


def _span(low: Exact, high: Exact, unit: str, inches: bool) -> str:
    """``4 stitches``, ``2 to 6 mm``."""
    return _amounts([low, high], unit, inches)


def _all(values: Sequence[Exact | None], unit: str, inches: bool) -> str:
    """A number of several sizes, from the least to the most: ``36 to 72``; with its unit where
    that is not said already."""
    known = [value for value in values if value is not None]
    if not known:
        return ""
    counted = unit in ("stitches", "rows", "loops", "pieces")
    return _amounts([min(known), max(known)], "" if counted else unit, inches, in_cm=True)


def _amounts(ends: Sequence[Exact], unit: str, inches: bool, in_cm: bool = False) -> str:
    """``4 to 6 stitches``: numbers from the least to the greatest, with their unit once."""
    if unit == "mm":
        if inches:
            texts, unit = [show_inches(value) for value in ends], "in"
        elif in_cm:
            texts, unit = [f"{float(value) / 10:.1f}" for value in ends], "cm"
        else:
            texts = [str(round(value)) for value in ends]
    elif unit == "m" and inches:
        texts = [str(round(value / YARD_METRES)) for value in ends]
        unit = "yards"
    else:
        texts = [show_number(value) for value in ends]
    texts = list(dict.fromkeys(texts))
    if texts == ["1"]:
        unit = {"stitches": "stitch", "rows": "row", "loops": "loop", "pieces": "piece",
                "yards": "yard"}.get(unit, unit)
    return f"{' to '.join(texts)} {unit}".strip()


def _where(changed: Sequence[int], names: Sequence[str]) -> str:
    """`` in every size``, `` in every size but Toddler``, `` in Woman-M and Man-L``."""
    others = [name for n, name in enumerate(names) if n not in changed]
    if len(names) == 1:
        return ""
    if not others:
        return " in every size"
    if len(others) <= FEW and len(others) < len(changed):
        return f" in every size but {listed(others, 'and')}"
    return f" in {listed([names[n] for n in changed])}"


def in_sizes(changed: Sequence[str], names: Sequence[str]) -> str:
    """As above, by names; empty where all sizes are meant."""
    return "" if len(changed) == len(names) else _where([names.index(one) for one in changed],
                                                        names)


def numbers_in_a_row(numbers: Sequence[int]) -> str:
    """``1 to 6, 9 and 12``."""
    runs: list[list[int]] = []
    for number in sorted(set(numbers)):
        if runs and number == runs[-1][-1] + 1:
            runs[-1].append(number)
        else:
            runs.append([number])
    parts = [part for run in runs for part in (
        [f"{run[0]} to {run[-1]}"] if len(run) > 2 else map(str, run))]
    return listed(parts)
