"""What was knitted, told back in a few sentences that a knitter compares with what she meant."""

from __future__ import annotations

from collections.abc import Iterator, Mapping, Sequence

from sockscript.expand.explore import Outcome, all_choices
from sockscript.expand.run import Run
from sockscript.expand.values import Value
from sockscript.findings.phrases import Phrase, phrases
from sockscript.findings.prove import Proof
from sockscript.numbers.quantity import Quantity, number_and_unit, show


def told_back(proof: Proof) -> list[str]:
    """Paragraphs: what the default choices knit, then what other sizes or choices knit otherwise.

    Numbers that differ from size to size are told from the smallest to the largest.
    """
    script = proof.prepared.script
    names = script.sizes.names if script.sizes is not None else ("",)
    choices = all_choices(script)
    first = [_run_with(outcomes, choices[0]) for outcomes in proof.outcomes]
    if any(run is None or run.stopped is not None for run in first):
        return []
    by_size = [list(phrases(run)) for run in first if run is not None]
    found = []
    for members in _alike(by_size):
        text = _sentence([by_size[n] for n in members])
        if len(members) < len(by_size):
            text = f"In {', '.join(names[n] for n in members)}: {text[:1].lower()}{text[1:]}"
        found.append(text)
    found.extend(_other_choices(proof, choices, by_size))
    return found


def _run_with(outcomes: Sequence[Outcome], chosen: Mapping[str, Value]) -> Run | None:
    return next((outcome.run for outcome in outcomes if chosen in outcome.choices), None)


def _alike(by_size: Sequence[Sequence[Phrase]]) -> list[list[int]]:
    """Sizes that are told in the same words, together."""
    groups: dict[tuple[str, ...], list[int]] = {}
    for n, told in enumerate(by_size):
        groups.setdefault(tuple(phrase.words for phrase in told), []).append(n)
    return list(groups.values())


def _sentence(told: Sequence[Sequence[Phrase]]) -> str:
    parts = [_together(alike) for alike in zip(*told, strict=True)]
    return f"{parts[0]}: {'; '.join(parts[1:-1])}. {parts[-1]}"


def _together(alike: Sequence[Phrase]) -> str:
    """One phrase of several sizes, with the least and the greatest of each number."""
    gaps = zip(*(phrase.values for phrase in alike), strict=True)
    return alike[0].words.format(*map(_from_to, gaps))


def _from_to(values: Sequence[Quantity]) -> str:
    low, high = (choose(values, key=lambda one: one.value) for choose in (min, max))
    (least, unit), (most, other) = _shown(low), _shown(high)
    if low == high:
        return f"{least} {unit}".rstrip()
    return f"{least} {'' if unit == other else f'{unit} '}to {most} {other}".rstrip()


def _shown(one: Quantity) -> tuple[str, str]:
    """The number and its unit."""
    number, unit = number_and_unit(one)
    return number, unit if one.unit != "rows" else "row" if one.is_one else "rows"


def _other_choices(proof: Proof, choices: Sequence[Mapping[str, Value]],
                   by_size: Sequence[Sequence[Phrase]]) -> Iterator[str]:
    """For each option, what its other values knit in other words or numbers."""
    for option in proof.prepared.script.options:
        for value in option.values:
            if value == option.default:
                continue
            chosen = {**choices[0], option.name: value}
            runs = [_run_with(outcomes, chosen) for outcomes in proof.outcomes]
            if any(run is None or run.stopped is not None for run in runs):
                continue
            now = [list(phrases(run)) for run in runs if run is not None]
            changed = [[phrase for phrase in mine if phrase not in usual]
                       for mine, usual in zip(now, by_size, strict=True)]
            if not any(changed) or len({tuple(p.words for p in one) for one in changed}) > 1:
                continue
            parts = [_together(alike) for alike in zip(*changed, strict=True)]
            word = show(value) if isinstance(value, Quantity) else value
            yield f"With {option.name} {word}: {'; '.join(parts)}."
