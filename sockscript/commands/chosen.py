"""Which sizes and choices the reader asked for, and the plans for them."""

from __future__ import annotations

import sys
from collections.abc import Mapping, Sequence
from pathlib import Path

from sockscript.commands.check import check_file, report, tell_pack
from sockscript.commands.machine_asked import machine_asked
from sockscript.expand.called import borrowed, exchanged_words
from sockscript.expand.explore import all_choices
from sockscript.expand.values import Value
from sockscript.findings.checked import Checked
from sockscript.findings.prove import Proof
from sockscript.numbers.quantity import Quantity, show
from sockscript.sharing.stamp import stamp
from sockscript.sheet.choices import ChosenWords
from sockscript.sheet.numbering import Plan, run_with
from sockscript.sheet.outline import Outline
from sockscript.sheet.sheet import make_sheet
from sockscript.text.width import set_in
from sockscript.tree.script import Script
from sockscript.tree.slips import nearest


class AskedForError(Exception):
    """Something asked for that the script does not have."""


def usable(path: Path, machine: str | None, instead: Sequence[str] = ()) -> Checked | None:
    """The checked script, or None after saying why it cannot be used.

    A script with faults can be printed, but the reader is warned first.
    """
    asked = machine_asked(machine)
    asked.tell()
    checked = check_file(path, asked.name, instead)
    if checked.prepared is not None:
        tell_pack(checked.script.source)
    if checked.problems:
        print(report(checked), file=sys.stderr)
        return None
    if checked.proof is None:
        print(f"{path} has only techniques: there is nothing to knit in it by itself.\n"
              "Name it after 'use' in a pattern, and call its techniques with 'do'.",
              file=sys.stderr)
        return None
    sizes = checked.script.sizes
    if sizes is not None and len(checked.proof.outcomes) < len(sizes.names):
        # Given up before the last size was reached.
        print(report(checked), file=sys.stderr)
        return None
    faults = [f for f in checked.findings if f.severity == "fault"]
    if faults:
        print(set_in(f"WARNING: the check found {len(faults)} fault"
                     f"{'s' if len(faults) > 1 else ''} in this pattern; do not knit it before it "
                     f"is mended (sockscript check {path}).\n"), file=sys.stderr)
    return checked


def title_of(checked: Checked, instead: Sequence[str] = ()) -> str:
    """What a table or picture is called: with what was exchanged for this time."""
    title = checked.script.title or "Untitled pattern"
    return f"{title}, {exchanged_words(checked.library)}" if instead else title


def sizes_asked(script: Script, asked: list[str]) -> list[int]:
    """Indices of the sizes asked for, in the order of the table; all when none is named."""
    names = script.sizes.names if script.sizes is not None else ("one size",)
    if not asked:
        return list(range(len(names)))
    lower = [name.lower() for name in names]
    for name in asked:
        if name.lower() not in lower:
            found = nearest(name, set(lower))
            meant = names[lower.index(found)] if found is not None else None
            raise AskedForError(f"There is no size '{name}'. "
                                + (f"Did you mean '{meant}'? " if meant else "")
                                + f"The sizes are {', '.join(names)}.")
    return [n for n, name in enumerate(lower) if name in {a.lower() for a in asked}]


def one_size(script: Script, asked: str | None) -> int:
    """The index of the one size that is wanted; it must be named where there are several."""
    if asked is None and script.sizes is not None and len(script.sizes.names) > 1:
        raise AskedForError(f"Which size? Add --size and one of {', '.join(script.sizes.names)}.")
    return sizes_asked(script, [asked] if asked is not None else [])[0]


def choices_asked(script: Script, asked: list[str]) -> dict[str, Value]:
    """The defaults with what was settled by ``NAME=VALUE``."""
    parts = [text.partition("=") for text in asked]
    names = [name.strip().lower() for name, _, _ in parts]
    for name in names:
        if names.count(name) > 1:
            raise AskedForError(f"'{name}' is chosen {names.count(name)} times: choose one, or "
                                "print every choice with --all-choices.")
    return settled(script, {name: value for name, _, value in parts})


def settled(script: Script, asked: Mapping[str, str]) -> dict[str, Value]:
    """The defaults with what was settled; raises AskedForError for what is no choice."""
    chosen = dict(all_choices(script)[0])
    options = {option.name: option for option in script.options}
    for given, word in asked.items():
        name, value = given.strip().lower(), word.strip().lower()
        option = options.get(name)
        if option is None:
            known = ", ".join(options) or "none"
            raise AskedForError(f"The pattern has no option '{name}'. Its options: {known}.")
        found = [v for v in option.values if as_text(v) == value]
        if not found:
            wrong = f"'{value}' is not a choice for {name}." if value else \
                f"What is chosen for {name} is missing: write {name}=… ."
            raise AskedForError(f"{wrong} Choose from "
                                f"{', '.join(map(as_text, option.values))}.")
        chosen[name] = found[0]
    return chosen


def as_text(value: Value) -> str:
    """A choice as it is written."""
    return show(value) if isinstance(value, Quantity) else value


def as_texts(chosen: Mapping[str, Value]) -> dict[str, str]:
    """All choices as they are written."""
    return {name: as_text(value) for name, value in chosen.items()}


def printed_choices(script: Script, chosen: Mapping[str, Value]) -> ChosenWords:
    """``a pointed heel``, ``finish graft``: in the script's own words where it has some."""
    return tuple(option.words.get(chosen[option.name])
                 or f"{option.name} {as_text(chosen[option.name])}"
                 for option in script.options)


def plans_asked(proof: Proof, sizes: list[int], choose: list[str], every_choice: bool
                ) -> list[tuple[ChosenWords, Plan]]:
    """The plan with the choices asked for, or with every choice that these leave open; each
    with its choices in words."""
    script = proof.prepared.script
    chosen = choices_asked(script, choose)
    combinations = [chosen]
    if every_choice:
        settled = [text.partition("=")[0].strip().lower() for text in choose]
        combinations = [c for c in all_choices(script)
                        if all(c[name] == chosen[name] for name in settled)]
    return [(printed_choices(script, c), plan_of(proof, sizes, c)) for c in combinations]


def sheet_asked(checked: Checked, *, sizes: list[str], choose: list[str], every_choice: bool,
                named_machine: bool, my_size: str | None, bank_book: bool,
                with_script: bool = False, with_pictures: bool = False,
                every_row: bool = False) -> Outline:
    """What is printed of a pattern that can be performed, as it was asked for."""
    proof = checked.proof
    assert proof is not None
    script = proof.prepared.script
    which = sizes_asked(script, sizes)
    plans = plans_asked(proof, which, choose, every_choice)
    mine = None
    if my_size is not None:
        mine_of_all = sizes_asked(script, [my_size])[0]
        if mine_of_all not in which:
            raise AskedForError(f"Size '{my_size}' is not among those that are printed.")
        mine = which.index(mine_of_all)
    return make_sheet(
        script, plans, proof.profile, named_machine, mine=mine, bank_book=bank_book,
        others="" if every_choice else other_choices(script, choices_asked(script, choose)),
        with_script=with_script, with_pictures=with_pictures, every_row=every_row,
        stamp=stamp(checked),
        techniques=[str(one) for one in borrowed(script, checked.library)])


def other_choices(script: Script, chosen: dict[str, Value]) -> str:
    """What the pattern leaves to choose besides what is printed, in words."""
    others = []
    for option in script.options:
        named = [v for v in option.values if v != chosen[option.name]]
        told = [option.words[v] for v in named if v in option.words]
        bare = [as_text(v) for v in named if v not in option.words]
        others += [" or ".join([*told, *([f"{option.name} {' or '.join(bare)}"] if bare else [])])
                   ] if named else []
    return f"The pattern can also be made with {', or with '.join(others)}." if others else ""


def plan_of(proof: Proof, sizes: list[int], chosen: dict[str, Value]) -> Plan:
    """The plan of some sizes with one set of choices."""
    return Plan([run_with(proof.outcomes[n], chosen) for n in sizes], proof.profile)
