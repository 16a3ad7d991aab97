"""The leaflet as a PDF for everyone (ISO 14289-1, PDF/UA), laid out by typst."""

from __future__ import annotations

from collections.abc import Sequence
from importlib import resources
from typing import Any

from sockscript.pictures.typeset import compiled
from sockscript.sheet.html_form import Cell, footer_words, margin, sizes_words
from sockscript.sheet.leaflet import Leaflet
from sockscript.text.visible import json_text

COLUMNS = {False: 9, True: 4}
"""Sizes side by side in a table, in common and in large print."""

PAPERS = {"a4": "a4", "letter": "us-letter"}


def render(leaflet: Leaflet, *, paper: str = "a4", large: bool = False) -> bytes:
    """The whole leaflet.  Raises ImportError where typst is not installed, NoLetterError where no
    font has a letter of its words.

    No date goes in: the same leaflet gives the same bytes.
    """
    template = resources.files("sockscript.sheet").joinpath("leaflet.typ").read_bytes()
    data = json_text(_data(leaflet))
    return compiled(template, format="pdf", letters=data, pdf_standards="ua-1", inputs={
        "leaflet": data, "paper": PAPERS[paper], "large": "yes" if large else "no",
        "columns": str(COLUMNS[large])})


def _data(leaflet: Leaflet) -> dict[str, Any]:
    sheet = leaflet.sheet
    about = [f"by {sheet.author}" if sheet.author else "", f"Sizes: {sizes_words(sheet.sizes)}",
             f"with {sheet.choices}" if sheet.choices else "",
             f"for the {sheet.machine}" if sheet.machine else ""]
    lists = [("Materials", sheet.materials), ("Gauge", sheet.gauges), ("Tools", sheet.tools),
             ("The machine needs", sheet.needs), ("On this machine", sheet.machine_words),
             ("Abbreviations", [f"{short}: {words}" for short, words in sheet.abbreviations])]
    schematic = leaflet.schematic
    return {
        "sheet": {"title": sheet.title, "author": sheet.author, "sizes": sheet.sizes,
                  "notes": sheet.notes, "cautions": sheet.cautions,
                  "finishing": sheet.finishing},
        "language": leaflet.language, "footer": footer_words(leaflet),
        "about": [words for words in about if words],
        "lists": _two_columns([(title, list(items)) for title, items in lists if items]),
        "table": [_row(row.name, [Cell(value) for value in row.values]) for row in sheet.table],
        "schematic": schematic.svg if schematic else "", "caption": leaflet.caption,
        "measured": leaflet.measured,
        "described": schematic.description if schematic else "",
        "finished": [_row(f"{row.letter}  {row.name}", [
            Cell(cm, f"{inch} in" if inch != "–" else "") for cm, inch in
            zip(row.centimetres, row.inches, strict=True)]) for row in leaflet.finished],
        "yarn": [_row(row.name, [Cell(value) for value in row.values]) for row in leaflet.yarn],
        "sections": [{"title": section.title, "steps": [
            {"number": step.number, "kind": step.kind, "text": step.text, "only": step.only,
             "margin": margin(step.shows)} for step in section.steps]}
            for section in sheet.sections],
        "script": leaflet.script,
        "ledger": [f"{line.title}: " + ", ".join(f"{name} {value}" for name, value
                                                 in line.entries) for line in sheet.ledger]}


def _two_columns(lists: list[tuple[str, list[str]]]) -> list[list[tuple[str, list[str]]]]:
    """Lists in two columns of about equal length, in their order."""
    heights = [2.5 + sum(1 + len(item) // 48 for item in items) for _, items in lists]
    cut = min(range(len(lists) + 1),
              key=lambda n: (abs(sum(heights[:n]) - sum(heights[n:])), n))
    return [lists[:cut], lists[cut:]]


def _row(name: str, cells: Sequence[Cell]) -> dict[str, Any]:
    return {"name": name, "cells": [cell._asdict() for cell in cells]}
