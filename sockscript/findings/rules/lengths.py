"""Lines that find their rows from a length: those for which no number of rows is right."""

from __future__ import annotations

from fractions import Fraction

from sockscript.expand.record import Mishap
from sockscript.expand.run import Run
from sockscript.fabric.amounts import gauge_for
from sockscript.fabric.finished import reading
from sockscript.fabric.sock import sock_of
from sockscript.findings.kind import Kind
from sockscript.numbers.quantity import length, show

NO_ROWS_FIT = Kind(
    "no-rows-fit", "fault",
    "No number of rows gives a {name} of {aim}: {why}.",
    "Knit the piece to its end; make heel or toe shorter or the length greater; or look whether "
    "the line stands in that part at all.",
    follows_anywhere=("waste-knitted-in",))

NOT_MEASURED = Kind(
    "not-measured", "advice",
    "The {name} cannot be measured on the finished piece: {missing}.",
    "Look whether that part is as it should be; if it is, leave the line out or allow it.",
    follows_anywhere=("waste-knitted-in",))


def rows_for_lengths(run: Run) -> list[Mishap]:
    """Lengths that cannot be measured, or that come out more than half a step too long or short.

    A step is a row, or two where an even number is wanted: the numbers next to the one found are
    further off.
    """
    if run.stopped is not None or not any(section.wanted for section in run.sections):
        return []
    lengths = reading(run).lengths
    found = []
    for section in run.sections:
        gauge = gauge_for(run, section)
        for wanted in section.wanted:
            value = lengths[wanted.what]
            if value is None:
                why = missing_part(run, wanted.what)
            elif gauge is not None and abs(Fraction(value) - wanted.aim) > \
                    Fraction(wanted.step) / gauge.rows_per_mm / 2:
                many = f"{wanted.rows} of them" if wanted.rows else "none at all"
                why = f"with {many} it comes to {show(length(value, run.script.inches))}"
            else:
                continue
            found.append(Mishap(NO_ROWS_FIT.fault(name=wanted.what), wanted.places,
                                detail={"aim": length(wanted.aim, run.script.inches), "why": why}))
    return found


def missing_part(run: Run, what: str) -> str:
    """Why a length of the whole sock cannot be measured."""
    sock = sock_of(run)
    if not run.script.gauges:
        return "there is no gauge"
    if what in ("girth", "length"):
        return "nothing is knitted in this section"
    if sock is None:
        return "no heel is found: no short rows on one bed that come back to the full number, " \
               "and no slit that is taken up again"
    if what in ("foot length", "toe depth") and not sock.closed:
        return "no toe is found: neither end of the tube is shut or too narrow for a foot"
    if what == "toe depth":
        return "the toe does not narrow"
    return "there are no rows between an open edge and the heel"
