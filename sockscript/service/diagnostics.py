"""What is marked in a script: everything that is wrong with it, with places in its own lines."""

from __future__ import annotations

from collections.abc import Iterator
from typing import NamedTuple

from sockscript.findings.finding import Finding
from sockscript.findings.kind import Severity
from sockscript.findings.report import circumstances
from sockscript.service.document import Document
from sockscript.text.mend import (
    Indent,
    Mend,
    PutBefore,
    Replace,
    SpacesForTabs,
    TakeOut,
    mended_line,
    mended_lines,
)
from sockscript.text.source import Problem, Span


class Diagnostic(NamedTuple):
    """One thing that is wrong.

    ``words`` is all that is said of it; ``others`` are places that belong to it (they may lie in
    other files); ``mend`` a change that takes it away, if one is sure.
    """

    kind: str
    severity: Severity
    at: Span
    words: str
    others: tuple[tuple[Span, str], ...]
    mend: Mend | None


def diagnostics(document: Document) -> list[Diagnostic]:
    """Everything that a check of this version finds, in its order."""
    examined = document.examined
    return [*_of_problems(document, examined.problems),
            *(_of_finding(document, finding) for finding in examined.findings)]


def _of_problems(document: Document, problems: tuple[Problem, ...]) -> Iterator[Diagnostic]:
    for problem in problems:
        words = _with_advice(problem.message, problem.hint)
        at, words, others = _in_document(document, problem.at, words)
        # Nothing is wrong yet with a script that was only begun, nor with a file of techniques.
        severity: Severity = "advice" if problem.kind == "empty-script" else "fault"
        yield Diagnostic(problem.kind, severity, at, words, others,
                         problem.mend if not others else None)


def _in_document(document: Document, at: Span, words: str
                 ) -> tuple[Span, str, tuple[tuple[Span, str], ...]]:
    """What lies in another file is marked at the line that names that file."""
    if at.source is document.source:
        return at, words, ()
    return (_line_that_names(document, at.source.name),
            f"In '{at.source.name}', line {at.line}: {words}", ((at, "here"),))


def _line_that_names(document: Document, name: str) -> Span:
    script = document.examined.script
    found = next((at for text, at in script.uses if text == name), None)
    if found is None and script.builds_on is not None:
        found = script.builds_on[1]
    return found if found is not None and found.source is document.source else \
        Span(document.source, 1, 1, 1)


def _of_finding(document: Document, finding: Finding) -> Diagnostic:
    when = circumstances(finding)
    words = _with_advice(finding.message, finding.advice)
    if when:
        words += f"\n({when})"
    if finding.drawing:
        words += f"\n\n{finding.drawing}"
    at, words, here = _in_document(document, finding.at, words)
    return Diagnostic(finding.kind, finding.severity, at, words,
                      here + tuple((other.at, other.label) for other in finding.others),
                      finding.mend if not here else None)


def _with_advice(message: str, advice: str) -> str:
    return f"{message}\nWhat to do: {advice}" if advice else message


class TextEdit(NamedTuple):
    """Part of a script replaced: lines and columns count from 1, the end is one past the last.

    A change of whole lines ends in column 1 of the line after them.
    """

    first: tuple[int, int]
    last: tuple[int, int]
    text: str


def edit_for(mend: Mend, document: Document) -> TextEdit:
    """A mend as a change of the text."""
    lines = document.source.lines
    if isinstance(mend, SpacesForTabs):
        first, last, new = 1, len(lines), mended_lines(lines, [mend])
    else:
        first = last = mend.line
        new = mended_line(document.source.line(mend.line), mend)
    if isinstance(mend, PutBefore):
        # What stands there already is left alone.
        return TextEdit((mend.line, 1), (mend.line, 1), new[0] + "\n")
    if not new:
        return TextEdit((first, 1), (last + 1, 1), "")
    return TextEdit((first, 1), (last, len(lines[last - 1]) + 1), "\n".join(new))


def title_of(mend: Mend, document: Document) -> str:
    """A mend in a few words."""
    line = document.source.line(mend.line)
    match mend:
        case TakeOut():
            return f"Take out the line '{line.strip()}'"
        case PutBefore():
            return f"Add the line '{mend.text}'"
        case Replace():
            return f"Change it to '{mended_line(line, mend)[0].strip()}'"
        case SpacesForTabs():
            return "Indent every line with spaces"
        case Indent():
            return f"Begin this line in column {mend.depth + 1}"
