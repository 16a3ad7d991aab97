"""What is told of a word as an editor shows it: as Markdown, or plain where it draws none.

Tables are set in columns in both, as a block of typewriter letters: many editors draw no table of
Markdown, and show its bars.
"""

from __future__ import annotations

from collections.abc import Iterator

from sockscript.service.hover import Hover


def as_markdown(found: Hover) -> str:
    """Markdown in which nothing of the script is taken for a mark."""
    from sockscript.sheet.markdown import escaped

    return "\n\n".join(filter(None, (
        f"**{escaped(found.title)}**", _block([found.code] if found.code else []),
        escaped(found.text), _block(_columns(found)))))


def as_plain(found: Hover) -> str:
    """The same in plain letters."""
    return "\n\n".join(filter(None, (
        found.title, _block([found.code] if found.code else []), found.text,
        _block(_columns(found)))))


def _columns(found: Hover) -> Iterator[str]:
    """The rows of the table: names at the left, values set to the right."""
    names = max((len(name) for name, _ in found.table), default=0)
    values = max((len(value) for _, value in found.table), default=0)
    for name, value in found.table:
        yield f"{name:<{names}}  {value:>{values}}"


def _block(lines: Iterator[str] | list[str]) -> str:
    """Lines set in: a block of code in Markdown."""
    return "\n".join(f"    {part}" for line in lines for part in line.split("\n"))
