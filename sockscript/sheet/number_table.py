"""The whole numbers of a script beside their neighbours, size by size."""

from __future__ import annotations

from collections.abc import Sequence
from typing import NamedTuple

from sockscript.findings.whole_numbers import Trial
from sockscript.text.width import filled

RUNNERS_UP = 3


class SizeNumbers(NamedTuple):
    """A size and all that was tried for it, the numbers of the script first."""

    size: str
    trials: tuple[Trial, ...]


def as_text(title: str, sizes: Sequence[SizeNumbers]) -> str:
    """For reading."""
    lines = [title.upper(), "",
             filled("Off the targets, all added up; behind it each target in turn.")]
    better = []
    for one in sizes:
        shown = one.trials[:1 + RUNNERS_UP]
        names = list(shown[0].numbers) if shown else []
        lines += ["", one.size, "  " + " " * 12 + "".join(f"{name:>{_wide(name)}}"
                                                             for name in names)]
        for trial in shown:
            label = "as written" if trial.written else "runner-up"
            numbers = "".join(f"{trial.numbers[name]:>{_wide(name)}}" for name in names)
            lines.append(filled(f"{numbers[1:]}   {_off(trial)}", f"  {label:<12} ", " " * 17))
        own = shown[0] if shown else None
        if own is not None and len(shown) > 1 and not shown[1].why_not \
                and (own.why_not or shown[1].total < own.total):
            better.append(one.size)
    lines.append("")
    if better:
        lines.append(filled(f"A runner-up comes nearer in {', '.join(better)}: look whether the "
                            "others there please you as well."))
    else:
        lines.append(filled("In no size does a neighbour come nearer than what is written."))
    return "\n".join(lines) + "\n"


def _wide(name: str) -> int:
    return max(8, len(name) + 2)


def _off(trial: Trial) -> str:
    if trial.why_not:
        return f"does not do: {', '.join(trial.why_not)}"
    parts = ", ".join(f"{d.section} {d.target.what} {_mm(round(d.off))}" for d in trial.deviations)
    return f"{round(trial.total):>3} mm   ({parts})"


def _mm(off: int) -> str:
    return f"{'+' if off > 0 else '-' if off < 0 else ''}{abs(off)}"
