"""A comparison as text, Markdown and JSON."""

from __future__ import annotations

from collections.abc import Iterator
from typing import Any

from sockscript.compare.model import Comparison, Difference, Numbers, Version
from sockscript.numbers.quantity import Exact
from sockscript.sheet.markdown import escaped
from sockscript.text.visible import json_text
from sockscript.text.width import page, wrapped

FORM = "sockscript-compare-1"


def verdict(found: Comparison) -> str:
    """The comparison in one sentence."""
    return {
        "same-script": "The same pattern: at most comments and layout differ.",
        "same-knitting": "The same pattern: it is written otherwise, but every stitch, number and "
                         "printed word is the same.",
        "not-known": "Whether they differ cannot be told.",
        "differs": ""}[found.sameness]


def as_text(found: Comparison, every_step: bool = False) -> str:
    """To read; wrapped."""
    title = _heading(found)
    lines = [*wrapped(title), "=" * min(len(title), page()),
             *wrapped(f"was  {_named(found.was)}", "", "     "),
             *wrapped(f"now  {_named(found.now)}", "", "     ")]
    if verdict(found):
        lines += ["", *wrapped(verdict(found))]
    for limit in found.limits:
        lines += ["", *wrapped(f"Mind: {limit}", "", "      ")]
    for heading, items in _parts(found, every_step):
        lines += ["", heading]
        for item in items:
            lines += wrapped(item, "  - ", "    ")
    return "\n".join(lines) + "\n"


def as_markdown(found: Comparison, every_step: bool = False) -> str:
    """For a page or a message; what authors wrote stays text."""
    lines = [f"# {escaped(_heading(found))}", "", f"- was: {escaped(_named(found.was))}",
             f"- now: {escaped(_named(found.now))}"]
    if verdict(found):
        lines += ["", verdict(found)]
    for limit in found.limits:
        lines += ["", f"> **Mind:** {escaped(limit)}"]
    for heading, items in _parts(found, every_step):
        lines += ["", f"## {heading}", "", *(f"- {escaped(item)}" for item in items)]
    return "\n".join(lines) + "\n"


def _parts(found: Comparison, every_step: bool) -> Iterator[tuple[str, list[str]]]:
    for part in found.parts:
        items = [change.words for change in part.changes if every_step or not change.detail]
        if items:
            yield part.title, items
    if found.half_way:
        yield "If you are half way through", [
            one.words[:1].upper() + one.words[1:] for one in found.half_way]


def _heading(found: Comparison) -> str:
    old, new = found.was.title or "Untitled pattern", found.now.title or "Untitled pattern"
    if old != new:
        return f"{old.upper()} AND {new.upper()}"
    return old.upper()


def _named(version: Version) -> str:
    parts = [f"version {version.version}" if version.version else "", version.mark,
             "" if version.knits else "the check finds something to mend"]
    told = ", ".join(part for part in parts if part)
    return version.file + (f" ({told})" if told else "")


def as_json(found: Comparison) -> str:
    """One object; ``form`` names the layout (``compare.schema.json``)."""
    return json_text({
        "form": FORM, "same": found.sameness, "in-words": verdict(found),
        "was": _version(found.was), "now": _version(found.now),
        "sizes": list(found.sizes), "limits": list(found.limits),
        "parts": [{"name": part.name, "title": part.title,
                   "changes": [_change(change) for change in part.changes]}
                  for part in found.parts],
        "half-way": [{"sizes": list(one.sizes), "words": one.words, "same-until-step": one.until,
                      "same-after-step": one.after, "change-at": list(one.change_at)}
                     for one in found.half_way]}, indent=2) + "\n"


def _version(version: Version) -> dict[str, Any]:
    return {"file": version.file, "title": version.title, "version": version.version,
            "fingerprint": version.mark, "knits": version.knits}


def _change(change: Difference) -> dict[str, Any]:
    return {"what": change.what, "words": change.words, "sizes": list(change.sizes),
            "choice": change.choice, "detail": change.detail,
            "numbers": _numbers(change.numbers) if change.numbers is not None else None}


def _numbers(numbers: Numbers) -> dict[str, Any]:
    return {"unit": numbers.unit, "was": list(map(_plain, numbers.was)),
            "now": list(map(_plain, numbers.now))}


def _plain(value: Exact | None) -> int | float | None:
    if value is None or isinstance(value, int):
        return value
    return int(value) if value.denominator == 1 else round(float(value), 3)
