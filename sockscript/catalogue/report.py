"""The catalogue as text, Markdown, CSV and JSON."""

from __future__ import annotations

import csv
import io
from collections.abc import Sequence
from fractions import Fraction
from typing import NamedTuple

from sockscript.catalogue.entry import Entry, Size
from sockscript.numbers.quantity import show_inches
from sockscript.sheet.facts import abilities_in_words
from sockscript.sheet.markdown import escaped
from sockscript.text.visible import cell, json_text
from sockscript.text.width import wrapped

FORM = "sockscript-catalogue-1"


class CatalogueList(NamedTuple):
    """What is printed: the folder, how many files it has, how many were found, and those that are
    told."""

    folder: str
    files: int
    found: int
    entries: Sequence[Entry]


def as_text(told: CatalogueList) -> str:
    """To read."""
    lines: list[str] = []
    for entry in told.entries:
        lines += wrapped(_headline(entry), "", "  ")
        for words in facts_of(entry):
            lines += wrapped(words, "    ", "      ")
        lines.append("")
    return "\n".join([*lines, *wrapped(total(told), "", "")]) + "\n"


def total(told: CatalogueList) -> str:
    """How many there are, and how many are shown."""
    files = f"{told.files} file{'' if told.files == 1 else 's'} in {told.folder}"
    words = files if told.found == told.files else f"{told.found} of {files}"
    if len(told.entries) < told.found:
        return (f"{words}; the first {len(told.entries)} are shown. Ask for less, or for --all of "
                "them.")
    return f"{words}."


def _headline(entry: Entry) -> str:
    parts = [entry.name, f"version {entry.version}" if entry.version else "",
             f"by {entry.author}" if entry.author else ""]
    return ", ".join(part for part in parts if part)


def facts_of(entry: Entry) -> list[str]:
    """What there is to know of an entry, a line each."""
    where = entry.path if entry.path != entry.name else ""
    first = [where, status_in_words(entry), entry.mark]
    lines = [" · ".join(part for part in first if part)]
    sizes = sizes_in_words(entry)
    if sizes:
        lines.append(sizes)
    gauge = gauges_in_words(entry)
    rest = [f"gauge {gauge}" if gauge else "", yarns_in_words(entry), needs_in_words(entry)]
    told = " · ".join(part for part in rest if part)
    if told:
        lines.append(told)
    if entry.techniques and entry.status != "techniques":
        lines.append(f"techniques: {', '.join(entry.techniques)}")
    return lines


def status_in_words(entry: Entry) -> str:
    """What the check says."""
    if entry.status == "unusable":
        return f"cannot be used: {entry.said}"
    if entry.status == "found":
        return f"not clean: {entry.said}"
    return entry.said


def sizes_in_words(entry: Entry) -> str:
    """``9 sizes, Toddler to Man-L: foot 13 to 29.5 cm (5⅛ to 11⅝ in) long, …``: a club has tapes of
    both kinds."""
    sizes = entry.sizes
    if not sizes or (len(sizes) == 1 and sizes[0].foot is sizes[0].round is None):
        return ""
    names = sizes[0].name if len(sizes) == 1 else \
        f"{len(sizes)} sizes, {sizes[0].name} to {sizes[-1].name}"
    feet = [words for words in (_span(sizes, "foot", "long"), _span(sizes, "round", "round"))
            if words]
    told = names + (f": foot {', '.join(feet)}" if feet else "")
    if entry.feet is not None:
        low, high = map(centimetres, entry.feet)
        told += f"; works for feet of {low} to {high} cm"
    return told


def _span(sizes: Sequence[Size], what: str, word: str) -> str:
    values = [getattr(size, what) for size in sizes]
    known = [value for value in values if value is not None]
    if not known:
        return ""
    ends = min(known), max(known)
    both = [" to ".join(dict.fromkeys(map(shown, ends))) for shown in (centimetres, _inches)]
    return f"{both[0]} cm ({both[1]} in) {word}"


def centimetres(mm: float) -> str:
    """Centimetres of a length in mm, to the millimetre."""
    return f"{round(mm) / 10:g}"


def _inches(mm: float) -> str:
    return show_inches(Fraction(round(mm)))


def gauges_in_words(entry: Entry) -> str:
    """``plain 30 × 42, rib 34 × 44``, in 10 cm."""
    return ", ".join(f"{one.fabric} {one.stitches:g} × {one.rows:g}" for one in entry.gauges)


def yarns_in_words(entry: Entry) -> str:
    """Each yarn with its metres in 100 g."""
    return ", ".join(one.text + (f" ({round(one.metres)} m in 100 g)" if one.metres is not None
                                 else "") for one in entry.yarns)


def needs_in_words(entry: Entry) -> str:
    """What the machine must have."""
    if entry.beds is None:
        return ""
    counts = [size.needles for size in entry.sizes if size.needles]
    parts = ["two beds" if entry.beds == 2 else "one bed"]
    if counts:
        ends = list(dict.fromkeys(map(str, (min(counts), max(counts)))))
        parts.append(f"{' to '.join(ends)} needles a bed")
    return ", ".join([*parts, *abilities_in_words(entry.needs, entry.racking)])


def as_markdown(told: CatalogueList) -> str:
    """A list for a page or a message; what authors wrote stays text."""
    lines = [f"# {escaped(told.folder)}", ""]
    for entry in told.entries:
        lines.append(f"- **{escaped(_headline(entry))}**  ")
        lines += [f"  {escaped(words)}  " for words in facts_of(entry)]
    return "\n".join([*lines, "", escaped(total(told))]) + "\n"


COLUMNS = ("file", "status", "check", "title", "author", "version", "licence", "fingerprint",
           "sizes", "foot lengths cm", "foot rounds cm", "gauge", "yarn", "beds", "needs",
           "techniques")


def as_csv(told: CatalogueList) -> str:
    """Comma-separated values (RFC 4180); no cell can be taken for a formula."""
    out = io.StringIO()
    writer = csv.writer(out)
    writer.writerow(COLUMNS)
    for one in told.entries:
        writer.writerow([cell(value) for value in (
            one.path, one.status, one.said, one.title, one.author, one.version, one.licence,
            one.mark, "; ".join(size.name for size in one.sizes),
            "; ".join(centimetres(size.foot) for size in one.sizes if size.foot is not None),
            "; ".join(centimetres(size.round) for size in one.sizes if size.round is not None),
            gauges_in_words(one), yarns_in_words(one), one.beds or "",
            "; ".join(abilities_in_words(one.needs, one.racking)),
            "; ".join(one.techniques))])
    return out.getvalue()


def as_json(told: CatalogueList) -> str:
    """One object; ``form`` names the layout (``catalogue.schema.json``).  Lengths in mm."""
    return json_text({"form": FORM, "folder": told.folder, "files": told.files,
                      "found": told.found,
                      "entries": [entry.as_data() for entry in told.entries]}, indent=2) + "\n"
