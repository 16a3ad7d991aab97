"""The decorators for models: frozen attrs classes, made lean because there are many.

Every start of the program makes their classes anew, and most of what attrs writes for a class is
never needed here.  Without that they take half the time, a twentieth of a check.
"""

from __future__ import annotations

from typing import Any, TypeVar, cast, dataclass_transform

import attrs

C = TypeVar("C", bound=type)


@dataclass_transform(frozen_default=True, field_specifiers=(attrs.field,))
def model(cls: C) -> C:
    """Make ``cls`` a frozen, slotted class compared by what is in it."""
    return _lean(cls, True)


@dataclass_transform(frozen_default=True, eq_default=False, field_specifiers=(attrs.field,))
def node(cls: C) -> C:
    """Make ``cls`` a frozen, slotted class compared by identity, as nodes of a tree are."""
    return _lean(cls, False)


def _lean(cls: C, eq: bool) -> C:
    made: Any = attrs.frozen(eq=eq, repr=False, match_args=False, getstate_setstate=False)(cls)
    made.__repr__ = _as_written
    return cast(C, made)


def _as_written(self: attrs.AttrsInstance) -> str:
    """One ``__repr__`` for all, instead of one written for each class."""
    fields = (f"{one.name}={getattr(self, one.name)!r}" for one in attrs.fields(type(self)))
    return f"{type(self).__name__}({', '.join(fields)})"
