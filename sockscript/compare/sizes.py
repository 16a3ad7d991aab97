"""Which size of one version is which of the other, and what changed in the table of sizes."""

from __future__ import annotations

from collections.abc import Iterator
from typing import NamedTuple

from sockscript.compare.model import Difference, Numbers
from sockscript.compare.rules import listed, rule
from sockscript.numbers.quantity import show
from sockscript.tree.script import Script

ONE_SIZE = "one size"


class Common(NamedTuple):
    """The sizes that both versions have, by their names now, and where each stands in them."""

    names: tuple[str, ...]
    was: tuple[int, ...]
    now: tuple[int, ...]
    changes: tuple[Difference, ...]


def size_names(script: Script) -> tuple[str, ...]:
    """The names of the sizes, in their order."""
    return script.sizes.names if script.sizes is not None else (ONE_SIZE,)


def common_sizes(was: Script, now: Script) -> Common:
    """Pair the sizes: by name; those that have no namesake by equal measurements; where no size
    has a counterpart at all and there are equally many, in their order."""
    old, new = size_names(was), size_names(now)
    lower = [name.lower() for name in new]
    pairs = {n: lower.index(name.lower()) for n, name in enumerate(old) if name.lower() in lower}
    for n in range(len(old)):
        if n not in pairs:
            twin = next((m for m in range(len(new)) if m not in pairs.values()
                         and _measures(was, n) and _measures(was, n) == _measures(now, m)), None)
            if twin is not None:
                pairs[n] = twin
    in_order = not pairs and len(old) == len(new)
    if in_order:
        pairs = {n: n for n in range(len(old))}
    ordered = sorted(pairs.items(), key=lambda pair: pair[1])
    gone = [name for n, name in enumerate(old) if n not in pairs]
    added = [name for m, name in enumerate(new) if m not in pairs.values()]
    changes = []
    if gone:
        changes.append(Difference("size-gone", f"{listed(gone)} {_is(gone)} gone.", tuple(gone)))
    if added:
        changes.append(Difference("size-added", f"{listed(added)} {_is(added)} new.",
                                  tuple(added)))
    renamed = [(old[n], new[m]) for n, m in ordered if old[n].lower() != new[m].lower()]
    if renamed:
        told = listed([f"{one} is now {other}" for one, other in renamed])
        changes.append(Difference("size-renamed", told + (
            " (no size has the same name: they are compared in their order)." if in_order
            else " (the same measurements)."), tuple(other for _, other in renamed)))
    return Common(tuple(new[m] for _, m in ordered), tuple(n for n, _ in ordered),
                  tuple(m for _, m in ordered), tuple(changes))


def _is(names: list[str]) -> str:
    return "is" if len(names) == 1 else "are"


def _measures(script: Script, size: int) -> dict[str, object]:
    if script.sizes is None:
        return {}
    return {name: values[size] for name, values in script.sizes.measures.items()}


def table_changes(was: Script, now: Script, common: Common) -> Iterator[Difference]:
    """What changed in the table of sizes, row by row."""
    old = was.sizes.measures if was.sizes is not None else {}
    new = now.sizes.measures if now.sizes is not None else {}
    for name in [*new, *(name for name in old if name not in new)]:
        title = name.replace("-", " ")
        if name not in old or name not in new:
            word = "new" if name in new else "gone"
            yield Difference(f"measurement-{'added' if name in new else 'gone'}",
                             f"The row {title} is {word}.", ())
            continue
        before = [old[name][n] for n in common.was]
        after = [new[name][n] for n in common.now]
        if before == after:
            continue
        lengths = all(value.unit == "mm" for value in (*before, *after))
        if lengths:
            numbers = Numbers("mm", tuple(value.value for value in before),
                              tuple(value.value for value in after))
            told = rule(numbers, common.names, now.inches, ("more", "less"))
            if told is not None:
                yield told.told("number", title)
            continue
        for size, one, other in zip(common.names, before, after, strict=True):
            if one != other:
                yield Difference("measurement", f"{title} of {size}: {show(other)} instead of "
                                                f"{show(one)}.", (size,))
