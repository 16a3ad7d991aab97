"""What only all sizes and choices together show."""

from __future__ import annotations

from collections.abc import Sequence

from sockscript.expand.record import Mishap
from sockscript.expand.run import Run
from sockscript.expand.values import Value
from sockscript.findings.kind import Kind
from sockscript.findings.rules.never_used import option_without_effect
from sockscript.numbers.quantity import Quantity, show
from sockscript.operations.ops import Knit, ScrapOff

YARN_NEVER_USED = Kind(
    "yarn-never-used", "advice",
    "The {name} is never threaded.",
    "Leave the yarn out, or thread it where it is meant.")

SIZES_ALIKE = Kind(
    "sizes-alike", "warning",
    "The sizes {one} and {two} are knitted alike, stitch for stitch.",
    "Look at their measurements and at the rounding, or leave one of them out.")

SIZE_WITHOUT_ROWS = Kind(
    "size-without-rows", "warning",
    "For {where} no row is knitted, though there are rows for others.",
    "Look at the 'when' lines and at the numbers of rows: what is meant for {where} stands under "
    "none of them, or comes to no row.")

CHOICES_ALIKE = Kind(
    "choices-alike", "warning",
    "With {name} {one} and with {name} {two} the same is knitted, stitch for stitch.",
    "Look at what stands under  when {name} is …; a choice that changes nothing is left out.")


def yarn_never_used(by_size: Sequence[Sequence[Run]]) -> list[Mishap]:
    """Yarns that no size threads, whatever is chosen; stitches are scrapped off onto waste yarn."""
    runs = [run for runs in by_size for run in runs]
    if any(run.stopped is not None for run in runs):
        return []
    used = set().union(*(run.engine.ends for run in runs))
    if any(run.changes_by(ScrapOff) for run in runs):
        used |= {yarn.name for yarn in runs[0].script.yarns if yarn.role == "waste"}
    return [Mishap(YARN_NEVER_USED.fault(name=yarn.name), (yarn.at,))
            for yarn in runs[0].script.yarns if yarn.name not in used]


def sizes_alike(by_size: Sequence[Sequence[Run]]) -> list[Mishap]:
    """Sizes that are knitted alike to the last stitch, whatever is chosen."""
    sizes = by_size[0][0].script.sizes
    if sizes is None or any(run.stopped is not None for runs in by_size for run in runs):
        return []
    found = []
    for number, runs in enumerate(by_size):
        earlier = next((other for other in by_size[:number] if len(runs) == len(other) and all(
            mine.moments and _same_work(mine, theirs)
            for mine, theirs in zip(runs, other, strict=True))), None)
        if earlier is not None:
            one, two = (group[0].size_name for group in (earlier, runs))
            found.append(Mishap(SIZES_ALIKE.fault(name=two), (sizes.at,),
                                detail={"one": one, "two": two}))
    return found


def size_without_rows(by_size: Sequence[Sequence[Run]]) -> list[Mishap]:
    """Sizes, or choices, for which nothing is knitted at all while there are rows for others."""
    runs = [run for runs in by_size for run in runs]
    without = [group[0] for group in by_size if not all(Knit in run.kinds() for run in group)]
    if not without or any(run.stopped is not None for run in runs) \
            or not any(Knit in run.kinds() for run in runs):
        return []
    sizes = runs[0].script.sizes
    at = sizes.at if sizes is not None else runs[0].script.options[0].at
    return [Mishap(SIZE_WITHOUT_ROWS.fault(name=run.size_name), (at,), detail={
                "where": f"size {run.size_name}" if sizes is not None else "one of the choices"})
            for run in without]


def choices_alike(by_size: Sequence[Sequence[Run]]) -> list[Mishap]:
    """Choices of an option that are knitted and told alike in every size, whatever else is chosen,
    though lines ask for it."""
    runs = [run for runs in by_size for run in runs]
    if any(run.stopped is not None or not run.moments for run in runs):
        return []
    found = []
    never_asked = {one.fault.name for one in option_without_effect(by_size)}
    for option in runs[0].script.options:
        if option.name in never_asked:
            continue
        for number, value in enumerate(option.values):
            earlier = next((other for other in option.values[:number] if all(
                _alike(group, option.name, value, other) for group in by_size)), None)
            if earlier is not None:
                one, two = (show(word) if isinstance(word, Quantity) else word
                            for word in (earlier, value))
                found.append(Mishap(CHOICES_ALIKE.fault(name=option.name), (option.at,),
                                    detail={"name": option.name, "one": one, "two": two}))
                break
    return found


def _alike(runs: Sequence[Run], name: str, value: Value, other: Value) -> bool:
    """Whether the runs of a size differ in nothing but a choice.

    What no line asks for is tried with one choice only.
    """
    options = [option.name for option in runs[0].script.options if option.name != name]
    by_rest: dict[tuple[tuple[str, Value], ...], dict[Value, Run]] = {}
    if len({run.names.choices[name] for run in runs}) == 1:
        return True
    for run in runs:
        rest = tuple((key, run.names.choices[key]) for key in options)
        by_rest.setdefault(rest, {})[run.names.choices[name]] = run
    # Where only one of the two leads to another question, they do not knit the same.
    return all((value in chosen) == (other in chosen) for chosen in by_rest.values()) and all(
        _same(chosen[value], chosen[other]) for chosen in by_rest.values() if value in chosen)


def _same(one: Run, two: Run) -> bool:
    return _same_work(one, two) and _words(one) == _words(two)


def _same_work(one: Run, two: Run) -> bool:
    return len(one.moments) == len(two.moments) and all(
        mine.op == other.op for mine, other in zip(one.moments, two.moments, strict=True))


def _words(run: Run) -> list[tuple[object, ...]]:
    return [tuple(said.printed.words) for section in run.sections for said in section.in_words()]
