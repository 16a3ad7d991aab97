"""Values that are known in another part of a script: where they got their value."""

from __future__ import annotations

from collections.abc import Iterator

from sockscript.text.source import Span
from sockscript.tree import statements as st
from sockscript.tree.script import Script


def known_elsewhere(script: Script, name: str, at: Span) -> tuple[str, str] | None:
    """What to say, and what to do, where a name has a value in another section or technique, or
    gets it further down; None if it has none anywhere.

    ``at``: where the name is used.
    """
    parts: tuple[st.Section | st.Technique, ...] = (*script.sections, *script.techniques.values())
    for part in parts:
        for let in _lets(part.body):
            here = let.at.source.name == at.source.name
            if let.name != name or (here and let.at.line == at.line):
                continue
            line = f"line {let.at.line}" + ("" if here else f" of {let.at.source.name}")
            if here and part.at.line < at.line < let.at.line:
                return (f"'{name}' gets its value only further down, in {line}.",
                        f"Put the line  let {name} = …  before this one.")
            where = f'the section "{part.title}"' if isinstance(part, st.Section) \
                else f"the technique '{part.name}'"
            return (f"'{name}' is known only in {where}, where it gets its value in {line}.",
                    f"Put the line  let {name} = …  above the sections: what stands there is "
                    "known everywhere.")
    return None


def _inner(line: st.Statement) -> Iterator[st.Statement]:
    for block in ("body", "otherwise"):
        yield from getattr(line, block, ())


def _lets(body: st.Block) -> Iterator[st.Let]:
    for line in body:
        if isinstance(line, st.Let):
            yield line
        yield from _lets(tuple(_inner(line)))
