"""The decorator for tree nodes: frozen attrs classes, made lean because there are many."""

from __future__ import annotations

from typing import TypeVar, dataclass_transform

import attrs

C = TypeVar("C", bound=type)


@dataclass_transform(frozen_default=True, field_specifiers=(attrs.field,))
def node(cls: C) -> C:
    """Make ``cls`` a frozen, slotted class compared by identity.

    Leaving out comparison and pickling methods halves the time that the definitions take at
    every start of the program.
    """
    return attrs.frozen(eq=False, match_args=False, getstate_setstate=False)(cls)
