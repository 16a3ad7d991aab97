"""Findings as text for a person: the line with the place marked, what is wrong, what to do."""

from __future__ import annotations

from collections.abc import Sequence

from sockscript.findings.allow import Allowed
from sockscript.findings.finding import Finding
from sockscript.findings.paint import PLAIN, Paint
from sockscript.text.source import Problem, Span
from sockscript.text.width import WIDEST, filled, page

_MARK = {"fault": "FAULT", "warning": "WARNING", "advice": "ADVICE", "unusable": "CANNOT READ"}


def problem_text(problem: Problem, paint: Paint = PLAIN) -> str:
    """A script that cannot be read or worked out."""
    return _block(_MARK["unusable"], problem.kind, problem.at, problem.message, problem.hint, [],
                  "", paint)


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


def finding_text(finding: Finding, paint: Paint = PLAIN) -> str:
    """One finding."""
    when = circumstances(finding)
    extra = [when] if when else []
    text = _block(_MARK[finding.severity], finding.kind, finding.at, finding.message,
                  finding.advice, extra, finding.drawing, paint)
    for other in finding.others:
        label = other.label[:1].upper() + other.label[1:]
        where = _wrapped(f"{label} ({other.at.source.name}, line {other.at.line}):")
        text += f"\n{where}\n{_excerpt(other.at, paint)}"
    return text


MOST_NAMED = 5
LONGEST_SHOWN = 120
"""Columns of a line of the script that are shown on the widest page."""


def following_text(following: Sequence[Finding]) -> str:
    """What may only follow from the finding before it, in a sentence."""
    names = list(dict.fromkeys(one.kind for one in following))
    lines = [one.at.line for one in following]
    where = f"in line {lines[0]}" if min(lines) == max(lines) \
        else f"in lines {min(lines)} to {max(lines)}"
    named = ", ".join(names[:MOST_NAMED]) + (" …" if len(names) > MOST_NAMED else "")
    count = f"{len(lines)} more come" if len(lines) > 1 else "1 more comes"
    return _wrapped(f"{count} after it, {where}, and may only follow from it ({named}): mend this "
                    "first and check again.")


def told_text(told: str) -> str:
    """A paragraph that tells back what was knitted."""
    return _wrapped(told)


def allowed_text(one: Allowed) -> str:
    """A finding that the author wants to stay, with her reason."""
    at = one.finding.at
    return _wrapped(f"ALLOWED  {one.finding.kind}, {at.source.name}, line {at.line}: because "
                    f"{one.reason}", "")


def _block(mark: str, kind: str, at: Span, message: str, hint: str, extra: list[str],
           drawing: str, paint: Paint) -> str:
    where = at.source.name
    if at.line > 1 or any(at.source.lines):
        where += f", line {at.line}, column {at.start}"
    beside = page() == WIDEST or len(f"{mark}  {kind}    {where}") <= page()
    head = (f"{paint.severity(mark)}{paint.strong(f'  {kind}')}"
            + (f"    {where}" if beside else f"\n{_wrapped(where)}"))
    lines = [head, _excerpt(at, paint), _wrapped(message), drawing]
    lines.extend(_wrapped(part) for part in extra)
    if hint:
        lead = "What to do:"
        told = _wrapped(hint, f"  {lead} ")
        lines.append("  " + paint.strong(lead) + told[len(lead) + 2:])
    return "\n".join(line for line in lines if line)


def _wrapped(text: str, lead: str = "  ") -> str:
    return filled(text, lead, "  ")


def _excerpt(at: Span, paint: Paint) -> str:
    """The line as it stands, with the place marked under it."""
    text = at.source.line(at.line).replace("\t", " ")
    if not text.strip():
        return ""
    start = min(at.start, len(text) + 1)
    end = max(start + 1, min(at.end, len(text) + 1))
    # A very long line is shown around the place.
    room = LONGEST_SHOWN if page() == WIDEST else page() - 10
    shift = max(0, start - room // 2) if len(text) > room else 0
    shown = text[shift:shift + room]
    gutter = f"  {at.line:>5} | "
    blank = " " * (len(gutter) - 2) + "| "
    marks = paint.mark("^" * max(1, min(end, shift + room + 1) - start))
    return f"{gutter}{paint.code(shown)}\n{blank}{' ' * (start - 1 - shift)}{marks}"
