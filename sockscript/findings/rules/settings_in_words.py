"""What the words of a step say of carriage, yarn, pitch, racking, comb, weights and the way of
closing, against what its lines do."""

from __future__ import annotations

import re
from collections.abc import Iterator, Sequence
from typing import Literal

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
Closing = Literal["bind off", "graft", "draw together"]
_CLOSINGS: dict[Closing, re.Pattern[str]] = {
    "bind off": re.compile(r"\b(?:bind|cast)(?:ing)? off\b|\bbound off\b", re.I),
    "graft": re.compile(r"\bgraft", re.I),
    "draw together": re.compile(
        r"\bgather|\bdr[ae]w\w{0,3}\b[^.;]{0,60}\b(?:through|together|up)\b", re.I)}
_CLOSED: dict[type, tuple[Closing, str]] = {
    ops.BindOff: ("bind off", "bind off"), ops.Graft: ("graft", "graft"),
    ops.GraftGroups: ("graft", "graft"),
    ops.Gather: ("draw together", "draw the stitches together")}


def settings(run: Run, text: str, changes: Sequence[Transition]) -> Iterator[tuple[str, str]]:
    """What the words name, and what is so instead."""
    yield from _carriage(text, changes)
    yield from _setting(text, changes)
    yield from _yarns(run, text, changes)
    yield from _tackle(text, changes)
    yield from _closing(text, changes)


def last_counter(text: str, changes: Sequence[Transition]) -> Iterator[tuple[str, str]]:
    """Where the words end with the row counter, it shows that when the rows are knitted."""
    match = _COUNTER.search(text)
    knitted = [change for change in changes if isinstance(change.op, ops.Knit)]
    if match is None or not knitted or _ON_THE_WAY.search(
            re.split("[.;]", text[:match.start()])[-1]):
        return
    shown = int(match.group(1))
    ends = {change.after.counter for change in changes}
    if shown not in ends and shown < max(ends):
        yield (f"row counter {shown} at the end",
               f"it shows {knitted[-1].after.counter} there (a round is two rows of the carriage)"
               if 2 * shown == knitted[-1].after.counter
               else f"it shows {knitted[-1].after.counter} there")


def _carriage(text: str, changes: Sequence[Transition]) -> Iterator[tuple[str, str]]:
    named = {(at or start).lower() for at, start in CARRIAGE.findall(text)}
    sides = {side for change in changes for side in (change.before.carriage, change.after.carriage)}
    if len(named) == 1 and len(sides) == 1 and named != sides:
        yield f"the carriage is at the {named.pop()}", f"it is at the {sides.pop()}"


def _setting(text: str, changes: Sequence[Transition]) -> Iterator[tuple[str, str]]:
    pitches = {found.lower() for found in _PITCH.findall(text)}
    set_to = {change.op.pitch for change in changes if isinstance(change.op, ops.SetPitch)}
    if len(pitches) == 1 and len(set_to) == 1 and set_to != pitches:
        yield f"{pitches.pop()} pitch", f"the lines set {set_to.pop()} pitch"
    ways = {found.lower() for found in _RACK.findall(text)}
    racked = {"right" if change.op.steps > change.before.racking else "left" for change in changes
              if isinstance(change.op, ops.Rack) and change.op.steps
              and change.op.steps != change.before.racking}
    if len(ways) == 1 and len(racked) == 1 and ways != racked:
        yield f"racked to the {ways.pop()}", f"the lines rack to the {racked.pop()}"


def _yarns(run: Run, text: str, changes: Sequence[Transition]) -> Iterator[tuple[str, str]]:
    threaded = [change.op.yarn for change in changes
                if isinstance(change.op, (ops.Thread, ops.Add, ops.Change))]
    if threaded:
        named = {yarn.name for yarn in run.script.yarns for match in _THREAD.finditer(text)
                 if match.group("yarn").lower().startswith(yarn.text.lower())}
        if len(named) == 1 and not named & set(threaded):
            said, instead = (run.yarn_words[name] for name in (named.pop(), threaded[0]))
            yield said, f"the lines thread {instead}"
    elif changes and changes[-1].after.feeder and _CUT.search(text) and not any(
            isinstance(change.op, ops.Cut) for change in changes):
        yield "that yarn is cut", "the lines do not cut it"


def _tackle(text: str, changes: Sequence[Transition]) -> Iterator[tuple[str, str]]:
    done = {(change.op.item, change.op.action) for change in changes
            if isinstance(change.op, ops.Tackle)}
    if not changes:
        return
    after = changes[-1].after
    for match in _TACKLE.finditer(text):
        hangs = match.group(1).lower() == "hang"
        for item, hung in (("comb", after.comb), ("weights", after.weights)):
            named = re.search(rf"^(?: the)?(?: \w+ and(?: the)?)? {item}\b", match.group("what"))
            if named and hung is not hangs and not any(one == item for one, _ in done):
                yield (f"the {item} {'is' if item == 'comb' else 'are'} "
                       f"{'hung' if hangs else 'removed'}",
                       f"the lines do not {'hang' if hangs else 'remove'} "
                       f"{'it' if item == 'comb' else 'them'}")


def _closing(text: str, changes: Sequence[Transition]) -> Iterator[tuple[str, str]]:
    said = [way for way, words in _CLOSINGS.items() if words.search(text)]
    done = {_CLOSED[type(change.op)] for change in changes if type(change.op) in _CLOSED}
    if len(said) == 1 and len(done) == 1:
        way, instead = next(iter(done))
        if way != said[0]:
            yield said[0], f"the lines {instead}"
