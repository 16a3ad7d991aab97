"""The proof of a script: every size, every choice, every rule, gathered into findings."""

from __future__ import annotations

from collections.abc import Callable, Sequence
from typing import NamedTuple

from sockscript.expand.after_edit import Again, SectionKey
from sockscript.expand.builds_on import put_together
from sockscript.expand.explore import MOST_COMBINATIONS, Outcome, all_choices
from sockscript.expand.instead import put_instead
from sockscript.expand.known_names import NamedBefore, check_names
from sockscript.expand.record import Mishap
from sockscript.expand.techniques import Library
from sockscript.expand.used import load_library
from sockscript.expand.values import Value
from sockscript.fabric.finished import reading
from sockscript.findings.allow import Allowed, sift, unknown_names
from sockscript.findings.catalogue import KINDS
from sockscript.findings.counts import NOTHING, behind_count
from sockscript.findings.drawing import drawing
from sockscript.findings.filled_in import counter_of, describe
from sockscript.findings.finding import Finding
from sockscript.findings.folding import with_causes
from sockscript.findings.in_one_run import Key, Shapes, seen_in, without_what_follows
from sockscript.findings.mends import mend_of
from sockscript.findings.places import also, places_of, way_to
from sockscript.findings.rules import WHOLE_RULES
from sockscript.machine.load import lacks
from sockscript.machine.profile import Profile
from sockscript.numbers.quantity import Quantity, show
from sockscript.operations.beds import SIDES
from sockscript.text.source import Problem, Source, Span
from sockscript.trace.faults import Fault
from sockscript.tree.read import read_script
from sockscript.tree.script import Script

StepNumber = Callable[[Outcome, int, int], "int | None"]
"""(outcome, size index, instruction number) to the number of the printed step."""

MOST_FINDINGS = 60



class Prepared(NamedTuple):
    """A script with its techniques, and everything that keeps it from being performed."""

    script: Script
    library: Library
    problems: tuple[Problem, ...]

    @property
    def only_techniques(self) -> bool:
        """Whether the file gives techniques to other files and nothing to knit by itself."""
        return bool(self.script.techniques) and not self.script.sections


class Proof(NamedTuple):
    """All outcomes (by size, in order) and what was found."""

    prepared: Prepared
    profile: Profile
    outcomes: tuple[tuple[Outcome, ...], ...]
    combinations: int


def prepare(source: Source, instead: Sequence[str] = ()) -> Prepared:
    """Read a script and look at all its names, before anything is knitted.

    ``instead``: techniques that are exchanged, as ``heel=our-heel``.
    """
    script, slips = put_together(read_script(source))
    library, problems = load_library(script)
    if instead:
        problems += put_instead(library, script, instead)
    return looked_over(script, library, [*slips, *problems])


def looked_over(script: Script, library: Library, problems: Sequence[Problem],
                named: NamedBefore | None = None) -> Prepared:
    """A script that was read, with a library and what is wrong with the files it uses.

    ``named`` keeps whose names were in order for the next version of the script.
    """
    source = script.source
    found = [library.without_do(one) for one in (*script.problems, *problems)]
    found.extend(check_names(script, library, named))
    found.extend(unknown_names(script))
    if not script.sections and not script.techniques and not found:
        whole = Span(source, max(1, len(source.lines)), 1, 1)
        found.append(Problem(
            "empty-script", whole, "There is nothing to knit in this script.",
            "Start with  pattern \"…\"  and a  section \"…\";  'sockscript new' writes a first "
            "one for you."))
    found.extend(_too_many(script))
    unique = {(p.at.source.name, p.at.line, p.at.start, p.message): p for p in found}
    ordered = sorted(unique.values(), key=lambda p: (
        p.at.source is not source, p.at.source.name, p.at.line, p.at.start))
    return Prepared(script, library, tuple(ordered))


def _too_many(script: Script) -> list[Problem]:
    """What is known beforehand to be more than is ever proved."""
    sizes = len(script.sizes.names) if script.sizes is not None else 1
    total = sizes
    for option in script.options:
        total *= len(option.values)
        if total > MOST_COMBINATIONS:
            return [Problem(
                "too-many-choices", script.options[-1].at,
                f"The options{' and sizes' if sizes > 1 else ''} give more than "
                f"{MOST_COMBINATIONS} combinations; no more than these are proved.",
                "Leave fewer choices open.")]
    return []


def prove(prepared: Prepared, profile: Profile) -> Proof:
    """Perform every size with every combination of choices."""
    script = prepared.script
    choices = all_choices(script)
    sizes = len(script.sizes.names) if script.sizes is not None else 1
    # What follows a line that finds its rows is knitted twice over, alike but for the totals.
    keys = [SectionKey(str(number), 0) for number, _ in enumerate(script.sections)]
    outcomes = Again(reading).outcomes(script, prepared.library, profile, choices, "", keys)
    return Proof(prepared, profile, outcomes, sizes * len(choices))


class _Gathered:
    """One finding while its sizes and choices are collected."""

    def __init__(self, what: Mishap | Problem, outcome: Outcome, size: int) -> None:
        self.what = what
        self.outcome = outcome
        self.run = outcome.run
        self.size = size
        self.cases: set[tuple[int, int]] = set()
        self.times: dict[tuple[int, int], int] = {}
        self.twins: list[Mishap] = []


def without_twins(told: Sequence[_Gathered]) -> list[_Gathered]:
    """Findings of one kind, line and sizes (at the left and the right, on both beds) as one."""
    leaders: dict[tuple[object, ...], _Gathered] = {}
    kept = []
    for one in told:
        what = one.what
        if isinstance(what, Problem):
            kept.append(one)
            continue
        own = [place.line for place in what.places if one.run.script.wrote(place)]
        key = (what.fault.kind, own[-1] if own else what.places[-1].line, frozenset(one.cases),
               what.fault.name if what.fault.name not in SIDES else "")
        leader = leaders.setdefault(key, one)
        if leader is one:
            kept.append(one)
        else:
            leader.twins.append(what)
    return kept


def twins_in_words(one: _Gathered) -> str:
    """Where else in the same line the same is found."""
    assert isinstance(one.what, Mishap)
    fault = one.what.fault
    other = dict.fromkeys(_elsewhere(fault, twin.fault) for twin in one.twins)
    where = [words for words in other if words]
    return f" The same {' and '.join(where)}." if where else ""


def _elsewhere(fault: Fault, twin: Fault) -> str:
    if twin.name != fault.name and twin.name in SIDES:
        return f"at the {twin.name}"
    if twin.bed is not fault.bed and twin.bed is not None:
        return f"on the {twin.bed.word} bed"
    return ""


class Judged(NamedTuple):
    """What was found, and what the author allows."""

    findings: list[Finding]
    allowed: list[Allowed]


def judge_proof(proof: Proof, step_number: StepNumber | None, shapes: Shapes | None = None
                ) -> Judged:
    """What the machine lacks, and everything found, in the order of the work; the same thing in
    several sizes is one finding.

    ``shapes``: what is known of runs that look alike, from versions before this one."""
    gathered: dict[Key, _Gathered] = {}
    for size, outcomes in enumerate(proof.outcomes):
        for number, outcome in enumerate(outcomes):
            for key, what in seen_in(outcome.run, shapes):
                kept = gathered.setdefault(key, _Gathered(what, outcome, size))
                kept.cases.add((size, number))
                kept.times[size, number] = kept.times.get((size, number), 0) + 1
    everything = {(size, number) for size, outcomes in enumerate(proof.outcomes)
                  for number in range(len(outcomes))}
    by_size = [[outcome.run for outcome in outcomes] for outcomes in proof.outcomes]
    for whole_rule in WHOLE_RULES:
        for mishap in whole_rule(by_size):
            one = _Gathered(mishap, proof.outcomes[0][0], 0)
            one.cases, one.times = everything, {(0, 0): 1}
            gathered[mishap.fault.kind, mishap.fault.name, ()] = one
    told = without_twins([gathered[key] for key in without_what_follows(gathered)])
    # What led to a finding is looked for only where it may be told.
    found = [_finding(one, proof, step_number, number < 2 * MOST_FINDINGS)
             for number, one in enumerate(told)]
    cases = {id(finding): frozenset(one.cases)
             for finding, one in zip(found, told, strict=True)}
    stays, allowed = sift(proof.prepared.script, found)
    missing = [Finding(lack.kind, "fault", lack.at, lack.message, lack.hint)
               for lack in lacks(proof.prepared.script, proof.profile)]
    return Judged([*missing, *with_causes(stays, cases)][:MOST_FINDINGS], allowed)


def _finding(one: _Gathered, proof: Proof, step_number: StepNumber | None,
             may_be_told: bool = True) -> Finding:
    """One finding in words, from what was gathered of it in all sizes and choices."""
    script = proof.prepared.script
    names = script.sizes.names if script.sizes is not None else ()
    sizes = sorted({size for size, _ in one.cases})
    shown_sizes = tuple(names[size] for size in sizes) if names else ()
    if len(sizes) == len(names):
        shown_sizes = ()
    choices = _choices(one, proof)
    if isinstance(one.what, Problem):
        problem = one.what
        places = (*one.run.stopped_places, problem.at)
        at, others = way_to(places, script)
        behind = behind_count(problem, places, one.run) if may_be_told else NOTHING
        others = also(others, at, *behind.places)
        return Finding(problem.kind, "fault", at, problem.message, behind.advice or problem.hint,
                       shown_sizes,
                       choices, None, None, 1, others,
                       mend=problem.mend if at == problem.at else None,
                       when=(0, len(one.run.moments)), stops=True)
    mishap = one.what
    kind = KINDS[mishap.fault.kind]
    since = mishap.detail.get("since")
    began = one.run.moments[int(since.value)].instruction \
        if isinstance(since, Quantity) and one.run.moments else None
    printed = step_number(one.outcome, one.size, began) \
        if step_number is not None and began is not None else None
    message, advice = describe(kind, mishap, one.run, printed)
    message += twins_in_words(one)
    at, others = places_of(kind, mishap, one.run, with_causes=may_be_told)
    # Inside a technique a line beside the call may not be the place of a mend.
    mend = mend_of(kind, mishap, one.run, at.line) if at == mishap.places[-1] else None
    step = step_number(one.outcome, one.size, mishap.instruction) if step_number else None
    return Finding(kind.name, kind.severity, at, message, advice, shown_sizes, choices, step,
                   counter_of(mishap, one.run), max(one.times.values()), others,
                   drawing(mishap, one.run) if may_be_told else "", mend,
                   (0, mishap.moment) if mishap.moment >= 0 else (1, 0))


def _choices(one: _Gathered, proof: Proof) -> str:
    """Which choices it needs, when it does not happen with all of them."""
    if proof.combinations == len(proof.outcomes):
        return ""
    size = one.size
    outcomes = proof.outcomes[size]
    mine = [c for s, n in one.cases if s == size for c in outcomes[n].choices]
    everything = [c for outcome in outcomes for c in outcome.choices]
    parts = []
    for option in proof.prepared.script.options:
        values = {_text(c[option.name]) for c in mine}
        if len(values) < len({_text(c[option.name]) for c in everything}):
            parts.append(f"{option.name} {' or '.join(sorted(values))}")
    return ", ".join(parts)


def _text(value: Value) -> str:
    return show(value) if isinstance(value, Quantity) else value
