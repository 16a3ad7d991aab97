"""A script that builds on another one: what it says itself stands in the place of the other's."""

from __future__ import annotations

import os
import re
from collections.abc import Callable, Iterable, Iterator
from pathlib import Path, PurePosixPath
from typing import Any, TypeVar

from attrs import evolve

from sockscript.expand.files_beside import ENDING, HERE, FilesBeside
from sockscript.text.layout import without_comment
from sockscript.text.source import PACK, Problem, Source
from sockscript.tree.read import read_script
from sockscript.tree.script import BuiltOn, Script, Sizes
from sockscript.tree.slips import nearest

T = TypeVar("T")
MOST_DEEP = 8
"""So many scripts may build on each other; more is a mistake or mischief."""


def put_together(script: Script) -> tuple[Script, list[Problem]]:
    """The whole of a script and those that it builds on, with what is wrong with these.

    It keeps its own ``source``; ``based_on`` are the others, the nearest first.
    """
    if script.builds_on is None:
        return script, []
    beside = FilesBeside(script.source)
    based = tuple(_below(script, beside))
    if beside.problems:
        # Whatever else is not known may only follow from this.
        return Script(script.source, problems=script.problems,
                      builds_on=script.builds_on), beside.problems
    whole, strays = based[-1].script, beside.problems
    for layer in (*(one.script for one in based[-2::-1]), script):
        whole = _over(whole, layer, strays)
    return evolve(whole, source=script.source, builds_on=script.builds_on, based_on=based,
                  problems=script.problems), strays


def _below(script: Script, beside: FilesBeside) -> Iterator[BuiltOn]:
    """The scripts below one, the nearest first; it ends where one cannot be read."""
    folder, chain = HERE, [PurePosixPath(Path(script.source.name).name)]
    shown = os.path.dirname(script.source.name)
    while script.builds_on is not None:
        text, at = script.builds_on
        name = beside.name(text, at, folder)
        if name is None:
            return
        if name.suffix != ENDING:
            beside.problem("use-not-a-script", at, f"'{text}' is not a .sockscript file.",
                           f"Unpack it first (sockscript open {text} -o …) and name the script in "
                           "the new folder." if name.suffix == PACK else
                           f"A script builds on another one, whose name ends in {ENDING}.")
            return
        if name in chain:
            beside.problem("circular-use", at, f"'{text}' and this file build on each other.",
                           "Take the line out of one of them.")
            return
        if len(chain) > MOST_DEEP:
            beside.problem("use-too-many", at, f"More than {MOST_DEEP} scripts build on each "
                           "other.", "Build on one of the first.")
            return
        source = beside.read(name, os.path.join(shown, name))
        if isinstance(source, Problem):
            beside.problem(source.kind, at, f"'{text}': {source.message}", source.hint)
            return
        script, folder = read_script(source), name.parent
        chain.append(name)
        beside.problems.extend(script.problems)
        yield BuiltOn(str(name), script)


def _over(below: Script, own: Script, problems: list[Problem]) -> Script:
    """What a script says put over the one that it builds on."""
    problems += _strays(below, own)
    said: dict[str, Any] = {
        field: getattr(own, field) or getattr(below, field)
        for field in ("title", "author", "licence", "works_for")}
    named = {let.name for let in own.lets} | {option.name for option in own.options}
    measured = set(own.sizes.measures) if own.sizes is not None else set()
    exchanged = ({yarn.name for yarn in own.yarns}, {gauge.fabric for gauge in own.gauges})
    return evolve(
        below, **said, version=own.version,
        machine=own.machine if own.machine.at is not None else below.machine,
        yarns=_put(below.yarns, own.yarns, lambda yarn: yarn.name),
        gauges=_put(below.gauges, own.gauges, lambda gauge: gauge.fabric),
        # A swatch of another yarn or gauge tells nothing of this one.
        swatches=_put([one for one in below.swatches
                       if one.yarn not in exchanged[0] and one.fabric not in exchanged[1]],
                      own.swatches, lambda swatch: (swatch.fabric, swatch.yarn)),
        sizes=own.sizes or _without(below.sizes, named),
        options=_put([one for one in below.options if one.name not in named | measured],
                     own.options, lambda option: option.name),
        lets=_put([one for one in below.lets if one.name not in named | measured],
                  own.lets, lambda let: let.name),
        remarks=below.remarks + own.remarks, allows=below.allows + own.allows,
        techniques={**below.techniques, **own.techniques}, uses=below.uses + own.uses,
        exchanges=_put(below.exchanges, own.exchanges, lambda one: one.name),
        sections=_put(below.sections, own.sections, lambda section: section.title),
        spoiled=below.spoiled | own.spoiled)


def _put(below: Iterable[T], own: Iterable[T], name: Callable[[T], Any]) -> tuple[T, ...]:
    """Each of our own in the place of the one of its name; others behind."""
    found = {name(one): one for one in below}
    found.update((name(one), one) for one in own)
    return tuple(found.values())


def _without(sizes: Sizes | None, named: set[str]) -> Sizes | None:
    """The table without the rows that have become values."""
    return sizes and evolve(sizes, measures={
        name: values for name, values in sizes.measures.items() if name not in named})


def _strays(below: Script, own: Script) -> Iterator[Problem]:
    """Lines that stand for nothing below, and that nothing of our own speaks of."""
    assert own.builds_on is not None
    other, _ = own.builds_on
    titles = [section.title for section in below.sections]
    for section in own.sections:
        if section.title not in titles:
            meant = next((title for title in titles if title.lower() == nearest(
                section.title, [title.lower() for title in titles])), None)
            yield Problem(
                "unknown-name", section.at, f"'{other}' has no section \"{section.title}\", and "
                "where it should come is not known.", f"Did you mean \"{meant}\"?" if meant else
                "A section of your own stands for the one of the same title: "
                + ", ".join(f'"{title}"' for title in titles) + ".")
    sizes = set(below.sizes.measures) if below.sizes is not None else set()
    values = sizes | {let.name for let in below.lets} | {one.name for one in below.options}
    kinds: tuple[tuple[str, Iterable[tuple[str, Any]], set[str]], ...] = (
        ("value", [(let.name, let.at) for let in own.lets], values),
        ("option", [(one.name, one.at) for one in own.options], values),
        ("yarn", [(one.name, one.at) for one in own.yarns], {one.name for one in below.yarns}),
        ("gauge", [(one.fabric, one.at) for one in own.gauges],
         {one.fabric for one in below.gauges}))
    for what, ours, theirs in kinds:
        for name, at in ours:
            if name not in theirs and not _spoken_of(name, at.line, own.source):
                meant = nearest(name, theirs)
                wrong = at.word(name) if meant else None
                yield Problem(
                    "unknown-name", at, f"'{other}' has no {what} '{name}', and nothing else "
                    "speaks of it: this line changes nothing.",
                    f"Did you mean '{meant}'?" if meant else
                    "It has " + (", ".join(sorted(theirs)) or "none") + ".",
                    wrong.replaced_by(meant) if wrong and meant else None)


def _spoken_of(name: str, line: int, source: Source) -> bool:
    word = re.compile(rf"(?<![\w-]){re.escape(name)}(?![\w-])", re.I)
    return any(word.search(without_comment(text)) for number, text in
               enumerate(source.lines, start=1) if number != line)
