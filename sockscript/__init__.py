"""Sockscript: a plain-text language for sock patterns on a double-bed knitting machine.

Python programs use the names in ``__all__``; they are loaded when they are first asked for.
"""

from __future__ import annotations

from typing import TYPE_CHECKING, Any

if TYPE_CHECKING:
    from sockscript.interface import (
        AskedForError,
        Checked,
        Finding,
        Problem,
        check,
        check_text,
        sizes,
        steps,
    )

__version__ = "0.1.0"

__all__ = ["AskedForError", "Checked", "Finding", "Problem", "__version__", "check", "check_text",
           "sizes", "steps"]


def __getattr__(name: str) -> Any:
    if name not in __all__:
        raise AttributeError(f"module {__name__!r} has no attribute {name!r}")
    from sockscript import interface

    return getattr(interface, name)


def __dir__() -> list[str]:
    return sorted({*globals(), *__all__})
