"""What the words of a step say of carriage, yarn, pitch, racking, comb, weights, the way of closing
and where stitches go, against what its lines do."""

from __future__ import annotations

import re
from collections.abc import Iterable, Iterator, Sequence
from functools import lru_cache
from typing import Literal, NamedTuple

from sockscript.expand.record import Transition
from sockscript.expand.run import Run
from sockscript.operations import ops

CARRIAGE = re.compile(
    r"\bcarriage (?:\w+ )?(?:at|on|to|from) the (left|right)\b"
    r"|\b(?:rows?|rounds?|knit|begin(?:ning)?|start(?:ing)?)\b[^.,;:]{0,60} from the "
    r"(left|right)\b", re.I)
"""Where the carriage stands or starts from."""
_NOT = r"(?<!not )(?<!never )(?<!don't )(?<!without )"
_PITCH = re.compile(r"\b(half|full) pitch\b", re.I)
_RACK = re.compile(r"\brack\b[^.;]{0,60}?\b(left|right)\b", re.I)
_THREAD = re.compile(r"\b(?:thread|change to|with|in)(?: the)? (?P<yarn>[^.,;]+)", re.I)
_CUT = re.compile(_NOT + r"\bcut (?:the )?(?:\w+ )?(?:yarn|wool|thread)\b", re.I)
_TACKLE = re.compile(_NOT + r"\b(hang|remove|take off)\b(?P<what>[^.;]*)", re.I)
_COUNTER = re.compile(
    r"\brow counter (?:now )?(?:shows |reads |is at |stands at )?(\d+)\)?"
    r"[.!]?\s*$", re.I)
_ON_THE_WAY = re.compile(r"\b(?:set|reset|turn|when|after|at|from|every)\b", re.I)
_ONTO = re.compile(r"\b(?:transfer|lay|laid|fold|turn|move|hang|rehang)\w*\b[^.;]{0,120}?"
                   r"\b(?:to|onto|on) the (front|back) bed\b", re.I)
"""The bed that stitches go to."""
_OUTER = re.compile(r"\bmov(?:e|ing) (?:the )?(\d+) (?:outer|outermost|outside|edge|end) "
                    r"stitches\b", re.I)
"""How many stitches move along in a decrease or increase."""
Closing = Literal["bind off", "graft", "draw together"]
_CLOSINGS: dict[Closing, re.Pattern[str]] = {
    "bind off": re.compile(r"\b(?:bind|cast)(?:ing)? off\b|\bbound off\b", re.I),
    "graft": re.compile(r"\bgraft", re.I),
    "draw together": re.compile(
        r"\bgather|\bdr[ae]w\w{0,3}\b[^.;]{0,60}\b(?:through|together|up)\b"
        r"(?!(?: the)? (?:last|next)\b)", re.I)}
_CLOSED: dict[type, tuple[Closing, str]] = {
    ops.BindOff: ("bind off", "bind off"), ops.Graft: ("graft", "graft"),
    ops.GraftGroups: ("graft", "graft"),
    ops.Gather: ("draw together", "draw the stitches together")}


class _Named(NamedTuple):
    """What words name; empty or False where they name none, or more than one.

    ``yarns``: words that may begin with the name of a yarn.  ``tackle``: item, and whether it is
    hung.  ``onto``: the bed that stitches go to.  ``outer``: how many move along at an end.
    """

    carriage: str
    pitch: str
    racked: str
    yarns: tuple[str, ...]
    cut: bool
    tackle: tuple[tuple[str, bool], ...]
    closing: str
    onto: str
    outer: str


@lru_cache(maxsize=1000)
def _named(text: str) -> _Named:
    """Every size and choice has the same words."""
    return _Named(
        _only(at or start for at, start in CARRIAGE.findall(text)),
        _only(_PITCH.findall(text)), _only(_RACK.findall(text)),
        tuple(match.group("yarn").lower() for match in _THREAD.finditer(text)),
        bool(_CUT.search(text)), tuple(_tackle_in(text)),
        _only(way for way, words in _CLOSINGS.items() if words.search(text)),
        _only(_ONTO.findall(text)), _only(_OUTER.findall(text)))


def _only(words: Iterable[str]) -> str:
    found = {word.lower() for word in words}
    return found.pop() if len(found) == 1 else ""


def _tackle_in(text: str) -> Iterator[tuple[str, bool]]:
    for match in _TACKLE.finditer(text):
        for item in ("comb", "weights"):
            if re.search(rf"^(?: the)?(?: \w+ and(?: the)?)? {item}\b", match.group("what")):
                yield item, match.group(1).lower() == "hang"


def settings(run: Run, text: str, changes: Sequence[Transition]) -> Iterator[tuple[str, str]]:
    """What the words name, and what is so instead in the lines, of which there are any."""
    named = _named(text)
    if named.carriage:
        yield from _carriage(named.carriage, changes)
    if named.pitch or named.racked:
        yield from _setting(named, changes)
    if named.yarns or named.cut:
        yield from _yarns(run, named, changes)
    if named.tackle:
        yield from _tackle(named, changes)
    if named.closing:
        yield from _closing(named.closing, changes)
    if named.onto or named.outer:
        yield from _moved(named, changes)


def last_counter(text: str, changes: Sequence[Transition]) -> Iterator[tuple[str, str]]:
    """Where the words end with the row counter, it shows that when the rows are knitted."""
    match = _COUNTER.search(text)
    knitted = [change for change in changes if isinstance(change.op, ops.Knit)]
    if match is None or not knitted or _ON_THE_WAY.search(
            re.split("[.;]", text[:match.start()])[-1]):
        return
    shown = int(match.group(1))
    ends = {change.after.counter for change in changes}
    if shown not in ends:
        yield (f"row counter {shown} at the end",
               f"it shows {knitted[-1].after.counter} there (a round is two rows of the carriage)"
               if 2 * shown == knitted[-1].after.counter
               else f"it shows {knitted[-1].after.counter} there")


def _carriage(named: str, changes: Sequence[Transition]) -> Iterator[tuple[str, str]]:
    sides = {side for change in changes for side in (change.before.carriage, change.after.carriage)}
    if len(sides) == 1 and named not in sides:
        yield f"the carriage is at the {named}", f"it is at the {sides.pop()}"


def _setting(named: _Named, changes: Sequence[Transition]) -> Iterator[tuple[str, str]]:
    set_to = {change.op.pitch for change in changes if isinstance(change.op, ops.SetPitch)}
    if named.pitch and len(set_to) == 1 and named.pitch not in set_to:
        yield f"{named.pitch} pitch", f"the lines set {set_to.pop()} pitch"
    racked = {"right" if change.op.steps > change.before.racking else "left" for change in changes
              if isinstance(change.op, ops.Rack) and change.op.steps
              and change.op.steps != change.before.racking}
    if named.racked and len(racked) == 1 and named.racked not in racked:
        yield f"racked to the {named.racked}", f"the lines rack to the {racked.pop()}"


def _yarns(run: Run, named: _Named, changes: Sequence[Transition]) -> Iterator[tuple[str, str]]:
    threaded = [change.op.yarn for change in changes
                if isinstance(change.op, (ops.Thread, ops.Add, ops.Change))]
    if threaded:
        yarns = {yarn.name for yarn in run.script.yarns for words in named.yarns
                 if words.startswith(yarn.text.lower())}
        if len(yarns) == 1 and not yarns & set(threaded):
            said, instead = (run.yarn_words[name] for name in (yarns.pop(), threaded[0]))
            yield said, f"the lines thread {instead}"
    elif named.cut and changes[-1].after.feeder and not any(
            isinstance(change.op, ops.Cut) for change in changes):
        yield "that yarn is cut", "the lines do not cut it"


def _tackle(named: _Named, changes: Sequence[Transition]) -> Iterator[tuple[str, str]]:
    done = {change.op.item for change in changes if isinstance(change.op, ops.Tackle)}
    after = changes[-1].after
    for item, hangs in named.tackle:
        if bool(getattr(after, item)) is not hangs and item not in done:
            yield (f"the {item} {'is' if item == 'comb' else 'are'} "
                   f"{'hung' if hangs else 'removed'}",
                   f"the lines do not {'hang' if hangs else 'remove'} "
                   f"{'it' if item == 'comb' else 'them'}")


def _closing(named: str, changes: Sequence[Transition]) -> Iterator[tuple[str, str]]:
    done = {_CLOSED[type(change.op)] for change in changes if type(change.op) in _CLOSED}
    if len(done) == 1:
        way, instead = done.pop()
        if way != named:
            yield named, f"the lines {instead}"


def _moved(named: _Named, changes: Sequence[Transition]) -> Iterator[tuple[str, str]]:
    """The bed that stitches are moved to from the other, and how many move along at an end."""
    ways = {(move[0].word, move[2].word) for change in changes
            if isinstance(change.op, (ops.Transfer, ops.Fold)) for move in change.op.moves}
    onto = {to for source, to in ways if source != to}
    if named.onto and len(onto) == 1 and len(ways) == 1 and named.onto not in onto:
        yield f"to the {named.onto} bed", f"the lines move stitches to the {onto.pop()} bed"
    groups = {len(change.op.moves) for change in changes if isinstance(change.op, ops.Fashion)}
    if named.outer and groups and int(named.outer) not in groups:
        yield (f"{named.outer} stitches move",
               f"the lines move {' or '.join(map(str, sorted(groups)))}")
