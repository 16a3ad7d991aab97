"""What is asked of a catalogue on the command line, understood."""

from __future__ import annotations

import re
from collections.abc import Sequence

from sockscript.catalogue.search import Query
from sockscript.commands.band import read_band
from sockscript.commands.counted import LONGEST_TYPED, read_counted
from sockscript.machine.load import load_profile
from sockscript.machine.profile import Profile
from sockscript.numbers.quantity import MM_PER_UNIT, QuantityError, read_amount

_LENGTH = re.compile(r"\s*(?P<amount>.+?)\s*(?P<unit>mm|cm|m|inch(?:es)?|in|[\"”″])\s*", re.I)
_PER_INCH = re.compile(r"\s*(?P<stitches>.+?)\s*(?:stitches\s*)?(?:per|/)\s*1?\s*"
                       r"(?:in|inch|[\"”″])\s*", re.I)
_METRES = re.compile(r"\s*(?P<amount>[\d.,]+)\s*(?:m(?:etres)?(?:\s*(?:/|per|in)\s*100\s*g)?)?\s*",
                     re.I)
SHORTEST, LONGEST = 40, 450
"""Millimetres of a foot, long or round."""
FEWEST, MOST = 14, 200
"""Stitches in 10 cm that a domestic machine knits; fewer are meant in an inch (common practice)."""


class NotUnderstoodError(Exception):
    """Something that is asked cannot be understood; says what is wanted instead."""


def wanted(*, words: Sequence[str], foot: str | None, foot_round: str | None, gauge: str | None,
           yarn: str | None, one_bed: bool, needles: int | None, machine: str | None,
           size: str | None, author: str | None, licence: str | None, technique: Sequence[str],
           fingerprint: str | None, clean: bool, trouble: bool) -> Query:
    """What is looked for.  Raises NotUnderstoodError."""
    stitches, rows = _gauge(gauge)
    if clean and trouble:
        raise NotUnderstoodError("either --clean or --trouble, not both")
    if needles is not None and needles < 1:
        raise NotUnderstoodError("a number of needles after --needles, for example --needles 180")
    return Query(
        words=_typed(" ".join(words)), foot=_length("--foot", foot),
        round=_length("--foot-round", foot_round), stitches=stitches, rows=rows,
        yarn=_metres(yarn), beds=1 if one_bed else None, needles=needles,
        machine=_profile(machine), size=_typed(size), author=_typed(author),
        licence=_typed(licence), techniques=list(map(_typed, technique)),
        mark=_typed(fingerprint), clean=clean, trouble=trouble)


def _typed(text: str | None) -> str:
    """What was typed, as the index can have it: a letter in a coding that is not UTF-8 is shown as
    names of files with such letters are."""
    return re.sub("[\ud800-\udfff]", "\ufffd", text or "")


def _length(option: str, text: str | None) -> float | None:
    if text is None:
        return None
    match = _LENGTH.fullmatch(text) if len(text) <= LONGEST_TYPED else None
    try:
        mm = float(read_amount(match["amount"]) * MM_PER_UNIT[match["unit"].lower()]
                   ) if match else 0.0
    except QuantityError:
        mm = 0.0
    if not SHORTEST <= mm <= LONGEST:
        raise NotUnderstoodError(f"the length of a foot with its unit after {option}, for example "
                                 f"{option} 24cm or {option} 9½in, not '{text}'")
    return mm


def _gauge(text: str | None) -> tuple[float | None, float | None]:
    if text is None:
        return None, None
    inch = _PER_INCH.fullmatch(text) if len(text) <= LONGEST_TYPED else None
    try:
        alone = float(read_amount(inch["stitches"]) * 100 / MM_PER_UNIT["in"] if inch else
                      read_amount(text))
    except QuantityError:
        alone = 0.0
    if FEWEST <= alone <= MOST:
        return alone, None
    counted = read_counted(text)
    if counted is None or not FEWEST <= counted.swatch.stitches_per_10_cm <= MOST:
        raise NotUnderstoodError("stitches in 10 cm or a swatch after --gauge, for example --gauge "
                                 "30, --gauge 7½/in or --gauge 30x42/10cm, not "
                                 f"'{text}'")
    return float(counted.swatch.stitches_per_10_cm), float(counted.swatch.rows_per_10_cm)


def _metres(text: str | None) -> float | None:
    if text is None:
        return None
    match = _METRES.fullmatch(text)
    try:
        band = None if match else read_band(text)
        metres = float(read_amount(match["amount"])) if match else \
            float(100 * band[1]) if band else 0.0
    except QuantityError:
        metres = 0.0
    if not 10 <= metres <= 10_000:
        raise NotUnderstoodError("the metres of a yarn in 100 g after --yarn, for example --yarn "
                                 f"400 or --yarn '430 yards per 4 oz', not '{text}'")
    return metres


def _profile(name: str | None) -> Profile | None:
    if name is None:
        return None
    found = load_profile(name)
    if isinstance(found, tuple):
        raise NotUnderstoodError(
            f"a machine that there is: {found[0].message} {found[0].hint}".rstrip())
    return found
