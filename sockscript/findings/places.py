"""The lines that are shown with a finding: where it is, how that was reached, what led to it."""

from __future__ import annotations

from sockscript.expand.record import Mishap
from sockscript.expand.run import Run
from sockscript.findings.finding import (
    BY_WAY_OF,
    CALLED_BY,
    IN_CONTRACT,
    IN_TECHNIQUE,
    SecondPlace,
)
from sockscript.findings.kind import Kind
from sockscript.findings.kinds.expected import OF_CONTRACTS
from sockscript.findings.named_values import values_behind
from sockscript.findings.origins import origin
from sockscript.text.source import Span
from sockscript.tree.script import Script

Places = tuple[Span, tuple[SecondPlace, ...]]
"""The line of a finding, and further lines that matter."""


def places_of(kind: Kind, mishap: Mishap, run: Run, with_causes: bool) -> Places:
    """The lines of a mishap; ``with_causes``: with what led to it, which takes a search."""
    script = run.script
    if kind in OF_CONTRACTS:
        at, others = way_to(mishap.places[:-1], script)
        others = (*others, SecondPlace(mishap.places[-1], IN_CONTRACT))
    else:
        at, others = way_to(mishap.places, script)
    if not with_causes:
        return at, others
    led = origin(kind, mishap, run)
    ways = tuple(reversed(mishap.places))
    if led is not None:
        # Of the calls by which that line was reached only the nearest.
        calls = [place for place in reversed(led.places) if _calls(place)][:1]
        others = also(others, at, SecondPlace(led.at, led.label),
                      *(SecondPlace(place, CALLED_BY) for place in calls
                        if script.wrote(place)))
        ways += tuple(reversed(led.places))
    if kind.counts:
        others = also(others, at, *values_behind(script, ways))
    return at, others


def way_to(places: tuple[Span, ...], script: Script) -> Places:
    """The innermost line of the script itself; then the lines in other files where it went on,
    and the calls by which it was reached, the nearest first."""
    own = [number for number, place in enumerate(places) if script.wrote(place)]
    here = own[-1] if own else len(places) - 1
    ways = [(places[-1], IN_TECHNIQUE),
            *((place, BY_WAY_OF) for place in places[here + 1:-1] if _calls(place)),
            *((place, CALLED_BY) for place in reversed(places[:here]) if _calls(place))]
    return places[here], also((), places[here], *(SecondPlace(*way) for way in ways))


def also(others: tuple[SecondPlace, ...], at: Span, *more: SecondPlace) -> tuple[SecondPlace, ...]:
    """Further places, of lines that are not shown yet."""
    shown = {_line(at), *(_line(other.at) for other in others)}
    for place in more:
        if _line(place.at) not in shown:
            shown.add(_line(place.at))
            others = (*others, place)
    return others


def _calls(place: Span) -> bool:
    """Whether a line does a technique (others on the way only open a block)."""
    return place.source.line(place.line).split(maxsplit=1)[:1] == ["do"]


def _line(place: Span) -> tuple[str, int]:
    return place.source.name, place.line
