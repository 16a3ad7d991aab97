"""Findings as text for a person: the line with the place marked, what is wrong, what to do."""

from __future__ import annotations

import re
import textwrap

from sockscript.findings.allow import Allowed
from sockscript.findings.finding import Finding
from sockscript.text.source import Problem, Span
from sockscript.text.visible import visible

WIDTH = 88
_MARK = {"fault": "FAULT", "warning": "WARNING", "advice": "ADVICE", "unusable": "CANNOT READ"}


_COLOURS = {"FAULT": "1;31", "CANNOT READ": "1;31", "WARNING": "1;33", "ADVICE": "1;36"}
"""Escape codes of ECMA-48: bold red, yellow, cyan.  The words say the same without them."""


_SHOWN = re.compile(r"  +\d+ \| ")
_KINDS = {"word": "1", "number": "36", "text": "32", "comment": "2"}
"""Words of the language bold, numbers cyan, texts green, comments faint."""


def _coloured(line: str) -> str:
    """A line of a script with its words coloured."""
    from sockscript.highlight.runs import runs_of

    gutter = _SHOWN.match(line)
    assert gutter is not None
    runs = runs_of([line[gutter.end():]])[0]
    return gutter.group() + "".join(
        f"\x1b[{_KINDS[run.kind]}m{run.letters}\x1b[0m" if run.kind else run.letters
        for run in runs)


def in_colour(text: str) -> str:
    """A report with its severities and marks in colour, for a terminal that has it."""
    lines = []
    for line in visible(text).split("\n"):
        mark = next((mark for mark in _COLOURS if line.startswith(mark + "  ")), None)
        if mark is not None:
            line = f"\x1b[{_COLOURS[mark]}m{mark}\x1b[0m" \
                + "\x1b[1m" + line[len(mark):].replace("    ", "\x1b[0m    ", 1)
        elif line.startswith("        | ") and line.strip(" |^") == "" and "^" in line:
            line = line.replace("^", "\x1b[1;31m^", 1) + "\x1b[0m"
        elif _SHOWN.match(line):
            line = _coloured(line)
        elif line.startswith("  What to do:"):
            line = line.replace("What to do:", "\x1b[1mWhat to do:\x1b[0m", 1)
        lines.append(line)
    return "\n".join(lines)


def problem_text(problem: Problem) -> str:
    """A script that cannot be read or worked out."""
    return _block(_MARK["unusable"], problem.kind, problem.at, problem.message, problem.hint, [])


def circumstances(finding: Finding) -> str:
    """In which sizes, with which choices, when and how often; empty if always."""
    when = []
    if finding.sizes:
        when.append(f"size{'s' if len(finding.sizes) > 1 else ''} {', '.join(finding.sizes)}")
    if finding.choices:
        when.append(f"with {finding.choices}")
    if finding.step is not None:
        when.append(f"printed step {finding.step}")
    if finding.counter is not None:
        when.append(f"row counter {finding.counter}")
    if finding.times > 1:
        when.append(f"{finding.times} times, this is the first")
    return "; ".join(when)


def finding_text(finding: Finding) -> str:
    """One finding."""
    when = circumstances(finding)
    extra = [when] if when else []
    text = _block(_MARK[finding.severity], finding.kind, finding.at, finding.message,
                  finding.advice, extra, finding.drawing)
    for other in finding.others:
        label = other.label[:1].upper() + other.label[1:]
        text += f"\n  {label} ({other.at.source.name}, line {other.at.line}):\n" \
            + _excerpt(other.at)
    return text


def allowed_text(one: Allowed) -> str:
    """A finding that the author wants to stay, with her reason."""
    at = one.finding.at
    return _wrapped(f"ALLOWED  {one.finding.kind}, {at.source.name}, line {at.line}: because "
                    f"{one.reason}", "")


def _block(mark: str, kind: str, at: Span, message: str, hint: str, extra: list[str],
           drawing: str = "") -> str:
    head = f"{mark}  {kind}    {at.source.name}, line {at.line}, column {at.start}"
    lines = [head, _excerpt(at), _wrapped(message), drawing]
    lines.extend(_wrapped(part) for part in extra)
    if hint:
        lines.append(_wrapped(hint, "  What to do: "))
    return "\n".join(line for line in lines if line)


def _wrapped(text: str, lead: str = "  ") -> str:
    return textwrap.fill(text, WIDTH, initial_indent=lead, subsequent_indent="  ",
                         break_long_words=False, break_on_hyphens=False)


def _excerpt(at: Span) -> str:
    """The line as it stands, with the place marked under it."""
    text = at.source.line(at.line).replace("\t", " ")
    if not text.strip():
        return ""
    start = min(at.start, len(text) + 1)
    end = max(start + 1, min(at.end, len(text) + 1))
    # A very long line is shown around the place.
    shift = max(0, start - 60) if len(text) > 120 else 0
    shown = text[shift:shift + 120]
    gutter = f"  {at.line:>5} | "
    blank = " " * (len(gutter) - 2) + "| "
    marks = "^" * max(1, min(end, shift + 121) - start)
    return f"{gutter}{shown}\n{blank}{' ' * (start - 1 - shift)}{marks}"
