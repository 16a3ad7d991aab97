"""What an editor's document knows of a version beside what a check of that text finds."""

from __future__ import annotations

from sockscript.findings.prove import judge_proof, prepare, prove
from sockscript.machine.load import lacks, script_profile
from sockscript.text.source import Source


def place(at):
    return at.source.name, at.line, at.start, at.end


def cold(text):
    """Problems and findings of a script that is read and proved from nothing, and its proof."""
    ready = prepare(Source("sock.sockscript", text))
    if ready.problems:
        return [told(p, p.hint) for p in ready.problems], None
    proof = prove(ready, script_profile(ready.script))
    found = [told(p, p.hint) for p in lacks(ready.script, proof.profile)]
    return found + [told(f, f.advice, f.sizes, f.choices, f.counter, f.times, f.drawing,
                         [(place(o.at), o.label) for o in f.others])
                    for f in judge_proof(proof, None).findings], proof


def told(one, advice, *more):
    return one.kind, place(one.at), one.message, advice, *(more or ((), "", None, 1, "", []))


def warm(document):
    examined = document.examined
    if examined.proof is None:
        return [told(p, p.hint) for p in examined.problems]
    return [told(f, f.advice, f.sizes, f.choices, f.counter, f.times, f.drawing,
                 [(place(o.at), o.label) for o in f.others]) for f in examined.findings]


def assert_same(document, text):
    found, proof = cold(text)
    assert warm(document) == found
    if proof is None:
        return
    compared = set()
    for mine, theirs in zip(document.examined.proof.outcomes, proof.outcomes, strict=True):
        for one, other in zip(mine, theirs, strict=True):
            assert one.choices == other.choices
            pair = id(one.run), id(other.run)
            if pair in compared:  # two choices may come to the same run
                continue
            compared.add(pair)
            for mine_told, theirs_told in zip(told_of(one.run), told_of(other.run), strict=True):
                assert mine_told == theirs_told


def told_of(run):
    """All that a run keeps, one thing after the other; places as numbers."""
    yield [(m.op, m.state, m.instruction, places(m.places)) for m in run.moments]
    engine = run.engine
    yield engine.snapshot(), engine.ledger, engine.counter
    yield engine.ends, engine.yarn_loops, engine.yarn_strands
    yield run.lines_done, run.instruction_count, run.current, places(run.stopped_places)
    yield run.stopped and told(run.stopped, run.stopped.hint)
    yield [(m.fault, places(m.places), m.moment, m.instruction, m.detail) for m in run.mishaps]
    for one in run.sections:
        yield one.title, one.fabric, one.first, one.last, one.offset, one.loops, one.strands
        yield shown(one.instructions)
        yield [target._replace(places=places(target.places)) for target in one.targets]
        yield [wanted._replace(places=places(wanted.places)) for wanted in one.wanted]


def places(spans):
    return tuple(map(place, spans))


def shown(instructions):
    return [(i.number, i.printed, places(i.places), i.section, i.first, i.last,
             [shown(body) for body in i.rounds]) for i in instructions]
