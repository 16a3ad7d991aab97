"""Findings for other programs: JSON, SARIF 2.1.0, and one line each for editors' lists."""

from __future__ import annotations

from collections.abc import Iterable, Sequence
from typing import Any, NamedTuple, Union

from sockscript.findings.catalogue import KINDS
from sockscript.findings.finding import Finding
from sockscript.text.source import Problem, Span
from sockscript.text.visible import json_text

FORM = "sockscript-findings-1"
"""Names the layout of the JSON form; see ``findings.schema.json`` beside this file."""
SARIF_SCHEMA = "https://docs.oasis-open.org/sarif/sarif/v2.1.0/errata01/os/schemas/" \
    "sarif-schema-2.1.0.json"
_LEVEL = {"fault": "error", "warning": "warning", "advice": "note", "cannot read": "error"}


class FileFindings(NamedTuple):
    """What was found in one file: findings, or what kept it from being checked.

    ``fingerprint``: the mark of a script that can be knitted.  ``machine``: the one that it was
    checked on, None for any that is as the script says; ``usual``: nobody named it, it is the
    member's usual one.
    """

    file: str
    found: Sequence[Union[Finding, Problem]]
    fingerprint: str | None = None
    machine: str | None = None
    usual: bool = False


def severity(one: Finding | Problem) -> str:
    """``fault``, ``warning``, ``advice`` or ``cannot read``."""
    return one.severity if isinstance(one, Finding) else "cannot read"


def _advice(one: Finding | Problem) -> str:
    return one.advice if isinstance(one, Finding) else one.hint


def as_lines(files: Iterable[FileFindings]) -> str:
    """``file:line:column: severity: sentence [name]``, one line for each finding."""
    return "".join(
        f"{one.at.source.name}:{one.at.line}:{one.at.start}: {severity(one)}: "
        f"{' '.join(one.message.split())} [{one.kind}]\n"
        for file in files for one in file.found)


def as_json(files: Iterable[FileFindings]) -> str:
    """One object; its layout is told by ``findings.schema.json``."""
    return json_text({"form": FORM, "files": [
        {"file": file.file, "fingerprint": file.fingerprint, "machine": _machine(file),
         "findings": [_object(one) for one in file.found]} for file in files
    ]}, indent=2) + "\n"


def _machine(file: FileFindings) -> dict[str, Any] | None:
    return None if file.machine is None else {"name": file.machine, "usual": file.usual}


def _object(one: Finding | Problem) -> dict[str, Any]:
    told: dict[str, Any] = {
        "name": one.kind, "severity": severity(one), "place": _place(one.at),
        "message": one.message, "advice": _advice(one)}
    if isinstance(one, Finding):
        told.update({
            "sizes": list(one.sizes), "choices": one.choices, "step": one.step,
            "row-counter": one.counter, "times": one.times,
            "other-places": [{**_place(other.at), "why": other.label} for other in one.others],
            "may-follow-from": None if one.cause is None else
            {"name": one.cause.kind, "place": _place(one.cause.at)}})
    return told


def _place(at: Span) -> dict[str, Any]:
    return {"file": at.source.name, "line": at.line, "column": at.start, "end-column": at.end}


def as_sarif(files: Sequence[FileFindings], version: str) -> str:
    """A SARIF 2.1.0 log (OASIS standard) with one run."""
    results = [_result(one) for file in files for one in file.found]
    names = sorted({result["ruleId"] for result in results})
    for result in results:
        result["ruleIndex"] = names.index(result["ruleId"])
    return json_text({
        "$schema": SARIF_SCHEMA, "version": "2.1.0",
        "runs": [{
            "tool": {"driver": {
                "name": "sockscript", "version": version, "semanticVersion": version,
                "rules": [{"id": name, "defaultConfiguration": {
                    "level": _LEVEL[KINDS[name].severity] if name in KINDS else "error"}}
                    for name in names]}},
            "columnKind": "unicodeCodePoints", "results": results,
            "properties": {"machines": [
                {"file": file.file, "machine": _machine(file)} for file in files]}}]},
        indent=2) + "\n"


def _result(one: Finding | Problem) -> dict[str, Any]:
    advice = _advice(one)
    result: dict[str, Any] = {
        "ruleId": one.kind, "level": _LEVEL[severity(one)],
        "message": {"text": one.message + (f" What to do: {advice}" if advice else "")},
        "locations": [_location(one.at)]}
    others = one.others if isinstance(one, Finding) else ()
    if others:
        result["relatedLocations"] = [
            {"id": number, "message": {"text": other.label}, **_location(other.at)}
            for number, other in enumerate(others)]
    return result


def _location(at: Span) -> dict[str, Any]:
    from pathlib import PurePath
    from urllib.parse import quote

    uri = quote(PurePath(at.source.name).as_posix())
    return {"physicalLocation": {
        "artifactLocation": {"uri": uri},
        "region": {"startLine": at.line, "startColumn": at.start,
                   "endColumn": max(at.end, at.start + 1)}}}
