"""Every finding by its name, gathered from beside the rules that tell them.

A rule that is listed in ``rules`` brings the ``Kind``s of its module with it.
"""

from __future__ import annotations

import sys
from collections.abc import Iterable, Iterator
from types import ModuleType

from sockscript.findings.kind import Kind
from sockscript.findings.kinds import expected, hands, machine, passes
from sockscript.findings.rules import RULES, WHOLE_RULES


class WrongKindError(Exception):
    """Two findings of one name, or one that follows from a finding that does not exist."""


def _gathered(modules: Iterable[ModuleType]) -> dict[str, Kind]:
    kinds: dict[str, Kind] = {}
    for module in modules:
        for value in vars(module).values():
            if isinstance(value, Kind) and kinds.setdefault(value.name, value) is not value:
                raise WrongKindError(f"Two findings are called {value.name}.")
    for kind in kinds.values():
        for cause in (*kind.follows, *kind.follows_anywhere):
            if cause not in kinds:
                raise WrongKindError(f"{kind.name} follows from {cause}, which nothing tells.")
    return kinds


def _modules() -> Iterator[ModuleType]:
    yield from (passes, hands, machine, expected)
    for rule in (*RULES, *WHOLE_RULES):
        yield sys.modules[rule.__module__]


KINDS = _gathered(_modules())
