"""The fingerprint: a short mark over what a script means, to be read aloud and compared.

It is made from the tree of the script, with every technique that it calls, wherever that stands,
and the machine profile if one was named.  Comments, layout, letter case of words, the way a number
is written, names of files and folders and the platform make no difference; any other number or
word does.  The form of the mark is part of what members write down: a change of it changes
``FORM`` and is told in the README.
"""

from __future__ import annotations

import hashlib
from collections.abc import Iterable, Mapping
from fractions import Fraction
from typing import Any, NamedTuple

from sockscript.expand.techniques import Library
from sockscript.machine.profile import Profile
from sockscript.text.source import Source, Span
from sockscript.tree.script import Script
from sockscript.tree.statements import Do

FORM = "sockscript-fingerprint-1"
LETTERS = "3479CFHJKLMRTWXY"
"""Sixteen that are told apart when written by hand and when read aloud: neither 0 nor O, 1 nor I,
2 nor Z, 5 nor S, 6 nor G, 8 nor B, U nor V; no D and P, which sound like T, and no N, like M."""
GROUP = 4
OF_PATTERN, OF_MACHINE = 16, 4
"""Letters of each part: 64 bits keep scripts apart, 16 bits tell one member's machine from
another's.  A mark is for finding that something is not the same; what somebody wants to forge
is settled by a signature."""

_LEFT_OUT = frozenset({"problems", "spoiled", "uses", "techniques", "exchanges", "builds_on",
                       "based_on"})
"""Of a script: slips and names of files; techniques are told after it, each once."""

_OWN = frozenset({"swatches"})
"""Of a profile: a machine stays the same when its owner knits one more."""


class Fingerprint(NamedTuple):
    """The mark of the script with its techniques, and that of the machine (empty: none named)."""

    pattern: str
    machine: str = ""

    def __str__(self) -> str:
        return f"{self.pattern}/{self.machine}" if self.machine else self.pattern


def fingerprint(script: Script, library: Library, profile: Profile | None = None) -> Fingerprint:
    """The mark of a script with the techniques that it calls, and of a machine that was named."""
    called: list[str] = []
    told = _told(script, called)
    techniques: dict[str, list[str]] = {}
    called += script.techniques
    while called:
        name = called.pop()
        technique = None if name in techniques else library.get(name)
        if technique is not None:
            techniques[name] = _told((name, technique), called)
    told += (word for _, words in sorted(techniques.items()) for word in words)
    machine = _letters(_told(profile, []), OF_MACHINE) if profile is not None else ""
    return Fingerprint(_letters(told, OF_PATTERN), machine)


def same_pattern(one: str, other: str) -> bool:
    """Whether two marks, as they are printed or typed, are of the same script and techniques."""
    return _typed(one) == _typed(other)


def _typed(mark: str) -> str:
    return "".join(mark.partition("/")[0].upper().replace("-", " ").split())


_HEX = str.maketrans("0123456789abcdef", LETTERS)


def _letters(told: Iterable[str], count: int) -> str:
    text = "\n".join((FORM, *told))
    return letters_of(hashlib.sha256(text.encode("utf-8")).hexdigest(), count)


def letters_of(digest: str, count: int) -> str:
    """The first figures of a digest (in hexadecimal) as letters in groups."""
    letters = digest[:count].translate(_HEX)
    return "-".join(letters[n:n + GROUP] for n in range(0, count, GROUP))


_FIELDS: dict[type, tuple[str, ...]] = {}


def _fields(kind: type) -> tuple[str, ...]:
    names = _FIELDS.get(kind)
    if names is None:
        attributes = getattr(kind, "__attrs_attrs__", ())
        left_out = _LEFT_OUT if kind is Script else _OWN if kind is Profile else ()
        names = tuple(a.name for a in attributes
                      if a.name not in left_out and a.type not in ("Span", "Source"))
        _FIELDS[kind] = names
    return names


def _told(root: Any, called: list[str]) -> list[str]:
    """A tree as a list of words from which it could be made again; names of techniques that it
    calls go to ``called``.

    A node tells its name and the fields that say something: one that may be there and is not
    leaves no trace, so that a new one does not change the marks of scripts without it.
    """
    told: list[str] = []
    waiting = [root]
    while waiting:
        one = waiting.pop()
        kind = type(one)
        if kind is str:
            told.append(f"'{len(one)}:{one}")
        elif kind is int or kind is Fraction:
            told.append(f"{one.numerator}/{one.denominator}")
        elif isinstance(one, tuple):
            parts = [part for part in one if type(part) is not Span and type(part) is not Source]
            told.append(f"{'' if kind is tuple else kind.__name__}[{len(parts)}")
            waiting += reversed(parts)
        elif isinstance(one, Mapping):
            pairs = [pair for pair in one.items() if not isinstance(pair[1], Span)]
            told.append(f"{{{len(pairs)}")
            waiting += reversed([part for pair in pairs for part in pair])
        elif isinstance(one, frozenset):
            told.append(f"<{len(one)}")
            waiting += sorted(one, reverse=True)
        elif one is None or kind is bool:
            told.append(str(one))
        else:
            if kind is Do:
                called.append(one.name)
            names = []
            values = []
            for name in _fields(kind):
                value = getattr(one, name)
                if (value or value == 0) and value is not False and type(value) is not Span:
                    names.append(name)
                    values.append(value)
            told.append(f"{kind.__name__}({','.join(names)}")
            waiting += reversed(values)
    return told
