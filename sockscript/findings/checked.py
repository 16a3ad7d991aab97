"""The one verdict on a script: from its text and a machine to everything that was found.

Every command, the editor service and ``import sockscript`` ask here, so that none of them can
leave out a part: reading, names, the machine, what it lacks, the proof, findings, what is allowed.
"""

from __future__ import annotations

import gc
from collections.abc import Callable, Iterator, Sequence
from contextlib import contextmanager
from typing import NamedTuple

from sockscript.expand.techniques import Library
from sockscript.findings.allow import Allowed
from sockscript.findings.finding import Finding
from sockscript.findings.in_one_run import Shapes
from sockscript.findings.prove import (
    Prepared,
    Proof,
    StepNumber,
    judge_proof,
    prepare,
    prove,
)
from sockscript.machine.load import load_profile, script_profile
from sockscript.machine.profile import Profile
from sockscript.text.source import Problem, Source
from sockscript.tree.script import Script


class Checked(NamedTuple):
    """A script as far as it went: problems keep it from being knitted; else there are a proof
    and what was found, or neither of them for a file that has only techniques.

    ``name`` is what messages call the script, ``machine`` the machine that was asked for.
    ``prepared`` is missing only for a file that cannot be read, ``profile`` and ``proof`` as
    long as there are problems.
    """

    name: str
    problems: tuple[Problem, ...] = ()
    prepared: Prepared | None = None
    profile: Profile | None = None
    proof: Proof | None = None
    findings: tuple[Finding, ...] = ()
    allowed: tuple[Allowed, ...] = ()
    machine: str | None = None

    @property
    def knits(self) -> bool:
        """Whether it can be knitted and nothing worse than advice was found."""
        return self.proof is not None and all(f.severity == "advice" for f in self.findings)

    @property
    def script(self) -> Script:
        """The script, even where much of it could not be read."""
        assert self.prepared is not None
        return self.prepared.script

    @property
    def library(self) -> Library:
        """The techniques that the script can call."""
        assert self.prepared is not None
        return self.prepared.library


def check(source: Source | Problem, machine: str | None = None,
          numbering: Callable[[Proof], StepNumber] | None = None,
          instead: Sequence[str] = ()) -> Checked:
    """Read a script and prove it on a machine: a profile's name or file; None: any machine that
    is as the script says.  Never raises for a bad script.

    ``numbering`` looks up the numbers of printed steps, which are told with the findings;
    ``instead``: techniques that are exchanged, as ``heel=our-heel``.
    """
    with much_kept():
        return prove_begun(begin(source, machine, instead), numbering)


def begin(source: Source | Problem, machine: str | None = None,
          instead: Sequence[str] = ()) -> Checked:
    """A script up to the point where it could be knitted, and the machine for it."""
    if isinstance(source, Problem):
        return Checked(source.at.source.name, (source,))
    return begin_prepared(prepare(source, instead), machine)


def begin_prepared(prepared: Prepared, machine: str | None = None) -> Checked:
    """As ``begin``, for a script that was read and looked over."""
    name = prepared.script.source.name
    if prepared.problems or prepared.only_techniques:
        return Checked(name, prepared.problems, prepared)
    script = prepared.script
    profile = (script_profile(script) if machine is None else
               load_profile(machine, script.source.folder))
    if isinstance(profile, tuple):
        return Checked(name, profile, prepared, machine=machine)
    return Checked(name, (), prepared, profile, machine=machine)


def prove_begun(begun: Checked, numbering: Callable[[Proof], StepNumber] | None = None,
                proving: Callable[[Prepared, Profile], Proof] = prove,
                shapes: Shapes | None = None) -> Checked:
    """The whole verdict on a script that was begun; ``proving`` and ``shapes`` may know a part
    already."""
    if begun.prepared is None or begun.profile is None:
        return begun
    proof = proving(begun.prepared, begun.profile)
    judged = judge_proof(proof, numbering(proof) if numbering is not None else None,
                         shapes)
    return begun._replace(proof=proof, findings=tuple(judged.findings),
                          allowed=tuple(judged.allowed))


@contextmanager
def much_kept() -> Iterator[None]:
    """Almost all that a check makes is kept to its end: looking for garbage again and again
    would make the time grow faster than the script."""
    collecting = gc.isenabled()
    gc.disable()
    try:
        yield
    finally:
        if collecting:
            gc.enable()
