"""The leaflet as one HTML file: nothing is fetched, nothing runs, all words stay words."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from html import escape
from importlib import resources
from typing import NamedTuple

from sockscript.sheet.choices import SheetStep
from sockscript.sheet.leaflet import Leaflet, in_parts

COLUMNS = {False: 9, True: 4}
"""Sizes side by side in a table, in common and in large print."""

FEW = 12
"""A list or table with no more items or rows stays on one page."""

PAPERS = {"a4": "A4", "letter": "letter"}

_POLICY = "default-src 'none'; style-src 'unsafe-inline'"


class Cell(NamedTuple):
    """A cell of a table: what it says, and something smaller below it."""

    words: str
    below: str = ""


def render(leaflet: Leaflet, *, paper: str = "a4", large: bool = False) -> str:
    """The whole leaflet.  ``paper`` a key of ``PAPERS``; ``large``: large print."""
    sheet = leaflet.sheet
    style = resources.files("sockscript.sheet").joinpath("leaflet.css").read_text("utf-8")
    lines = [
        "<!DOCTYPE html>", f'<html lang="{leaflet.language}">', "<head>",
        '<meta charset="utf-8">',
        f'<meta http-equiv="Content-Security-Policy" content="{_POLICY}">',
        '<meta name="viewport" content="width=device-width, initial-scale=1">',
        f'<meta name="author" content="{escape(sheet.author)}">',
        f"<title>{escape(sheet.title)}</title>",
        f"<style>\n{style}{_page(leaflet, paper, large)}</style>", "</head>",
        f'<body class="{"large" if large else "common"}">', "<header>",
        f"<h1>{escape(sheet.title)}</h1>",
        *(f'<p class="{kind}">{escape(words)}</p>' for kind, words in _about(leaflet) if words),
        "</header>", "<main>"]
    lines += [f"<p>{escape(note)}</p>" for note in sheet.notes]
    lines += _lists(leaflet)
    lines += _tables(leaflet, COLUMNS[large])
    lines += _list("Cautions", sheet.cautions, "cautions")
    for section in sheet.sections:
        lines += ["<section>", f"<h2>{escape(section.title)}</h2>", *_steps(section.steps),
                  "</section>"]
    lines += _list("Finishing", sheet.finishing)
    lines += _list("The bank book of stitches", [
        f"{line.title}: " + ", ".join(f"{name} {value}" for name, value in line.entries)
        for line in sheet.ledger], "small")
    lines += _appendix(leaflet)
    lines += ["</main>", f"<footer><p>{escape(footer_words(leaflet))}</p></footer>", "</body>",
              "</html>"]
    return "\n".join(lines) + "\n"


def footer_words(leaflet: Leaflet) -> str:
    """What stands at the foot of every page beside its number."""
    sheet = leaflet.sheet
    return " · ".join(part for part in (
        sheet.title, f"version {sheet.version}" if sheet.version else "", sheet.licence) if part)


def _about(leaflet: Leaflet) -> Iterator[tuple[str, str]]:
    sheet = leaflet.sheet
    yield "by", f"by {sheet.author}" if sheet.author else ""
    yield "sizes", f"Sizes: {sizes_words(sheet.sizes)}"
    yield "quiet", f"with {sheet.choices}" if sheet.choices else ""
    yield "quiet", f"for the {sheet.machine}" if sheet.machine else ""


def sizes_words(sizes: Sequence[str]) -> str:
    """``Small (Medium, Large)``: the order in which numbers stand."""
    return sizes[0] + (f" ({', '.join(sizes[1:])})" if len(sizes) > 1 else "")


def css_string(words: str) -> str:
    """Words as a CSS string in which nothing can end the string or the style sheet."""
    # The blank after an escape belongs to it (CSS Syntax, "consume an escaped code point").
    return '"' + "".join(c if c.isascii() and (c.isalnum() or c in " .,-") else f"\\{ord(c):06x} "
                         for c in words) + '"'


def _page(leaflet: Leaflet, paper: str, large: bool) -> str:
    font = f"font-size: {16 if large else 9}pt;"
    return (f"@page {{ size: {PAPERS[paper]}; @bottom-left {{ {font} content: "
            f"{css_string(footer_words(leaflet))}; }} @bottom-right {{ {font} }} }}\n")


def _lists(leaflet: Leaflet) -> Iterator[str]:
    sheet = leaflet.sheet
    yield '<div class="lists">'
    yield from _list("Materials", sheet.materials)
    yield from _list("Gauge", sheet.gauges)
    yield from _list("Tools", sheet.tools)
    yield from _list("The machine needs", sheet.needs)
    yield from _list("On this machine", sheet.machine_words)
    if sheet.abbreviations:
        yield "<section><h2>Abbreviations</h2><dl>"
        for short, words in sheet.abbreviations:
            yield f"<dt>{escape(short)}</dt><dd>{escape(words)}</dd>"
        yield "</dl></section>"
    yield "</div>"


def _list(title: str, items: Sequence[str], kind: str = "") -> Iterator[str]:
    if items:
        kinds = " ".join([*[kind][:bool(kind)], *["together"][:len(items) <= FEW]])
        yield f'<section class="{kinds}">' if kinds else "<section>"
        yield f"<h2>{escape(title)}</h2>"
        yield "<ul>"
        yield from (f"<li>{escape(item)}</li>" for item in items)
        yield "</ul></section>"


def _tables(leaflet: Leaflet, most: int) -> Iterator[str]:
    sheet = leaflet.sheet
    if sheet.table:
        yield "<section><h2>Sizes and measurements</h2>"
        yield from _table("What each size is made for", sheet.sizes, [
            (row.name, [Cell(value) for value in row.values]) for row in sheet.table], most)
        yield "</section>"
    if leaflet.finished:
        yield "<section><h2>Finished measurements</h2>"
        drawn = leaflet.schematic.svg if leaflet.schematic is not None else ""
        yield f"<figure>{drawn}<figcaption>{escape(leaflet.caption)}</figcaption></figure>"
        yield from _table(leaflet.measured, sheet.sizes, [
                              (f"{row.letter}  {row.name}",
                               [Cell(cm, f"{inch} in" if inch != "–" else "")
                                for cm, inch in zip(row.centimetres, row.inches, strict=True)])
                              for row in leaflet.finished], most)
        yield "</section>"
    if leaflet.yarn:
        yield "<section><h2>Yarn for a pair</h2>"
        yield from _table("Reckoned from the stitches of the simulation; buy some to spare",
                          sheet.sizes, [(row.name, [Cell(value) for value in row.values])
                                        for row in leaflet.yarn], most)
        yield "</section>"


def _table(caption: str, sizes: Sequence[str], rows: Sequence[tuple[str, Sequence[Cell]]],
           most: int) -> Iterator[str]:
    parts = list(in_parts(range(len(sizes)), most))
    kind = "together" if len(rows) <= FEW else "long"
    for number, part in enumerate(parts, start=1):
        name = "" if number == len(parts) else f' aria-label="{escape(caption)}"'
        yield f'<table class="{kind}"{name}>'
        if number == len(parts):
            yield f"<caption>{escape(caption)}</caption>"
        yield ("<thead><tr><td></td>" + "".join(
            f'<th scope="col">{escape(sizes[n])}</th>' for n in part) + "</tr></thead><tbody>")
        for name, cells in rows:
            yield (f'<tr><th scope="row">{escape(name)}</th>' + "".join(
                f"<td>{_cell(cells[n])}</td>" for n in part) + "</tr>")
        yield "</tbody></table>"


def _cell(cell: Cell) -> str:
    below = f"<small>{escape(cell.below)}</small>" if cell.below else ""
    return escape(cell.words) + below


def _steps(steps: Sequence[SheetStep]) -> Iterator[str]:
    """Steps in order; a list is broken off for remarks and goes on after them."""
    listing = False
    for step in steps:
        only = f"<b>Only {escape(', '.join(step.only))}:</b> " if step.only else ""
        if step.number is None:
            if listing:
                yield "</ol>"
                listing = False
            mind = "<b>Mind:</b> " if step.kind == "caution" else ""
            yield f'<p class="remark">{mind}{only}{escape(step.text)}</p>'
            continue
        if not listing:
            yield '<ol class="steps">'
            listing = True
        shows = "".join(f"<span>{escape(part)}</span>" for part in margin(step.shows))
        yield (f'<li value="{step.number}"><span class="tick" aria-hidden="true"></span>'
               f'<span class="number">{step.number}.</span>'
               f"<p>{only}{escape(step.text)}</p>"
               + (f'<p class="shows">{shows}</p>' if shows else "") + "</li>")
    if listing:
        yield "</ol>"


def _appendix(leaflet: Leaflet) -> Iterator[str]:
    """The script itself, its words set off in weight and slope."""
    if leaflet.script:
        lines = "\n".join("".join(
            f'<span class="{run.kind}">{escape(run.letters)}</span>' if run.kind
            else escape(run.letters) for run in line) for line in leaflet.script)
        yield f'<section class="appendix"><h2>The script</h2><pre>{lines}</pre></section>'


def margin(shows: str) -> list[str]:
    """What the machine shows after a step, in the lines of the margin."""
    counts, _, rest = shows.partition(" · ")
    return [part for part in (counts, rest) if part]
