"""What the machine has not, and what is hung on it."""

from __future__ import annotations

from sockscript.findings.kind import Kind, LineOut
from sockscript.findings.origins import (
    HUNG,
    NEEDLES_CHANGED,
)

SETTING_NOT_HAD = Kind(
    "setting-not-had", "fault",
    "This machine has no setting for {name}.",
    "Knit it another way, or choose another machine.")

RACKING_TOO_FAR = Kind(
    "racking-too-far", "fault",
    "This machine cannot be racked as far as {amount}.",
    "Transfer by hand instead.")

SIZE_OFF_DIAL = Kind(
    "size-off-dial", "fault",
    "The dial has no such stitch size; it runs from {dial}.",
    "Choose a number that the dial has.")

NEEDLE_OFF_BED = Kind(
    "needle-off-bed", "fault",
    "{off_bed}.",
    "Check the numbers of this size, or use a machine with more needles.")

TOO_FEW_NEEDLES = Kind(
    "too-few-needles", "fault",
    "{Needles_meant} meant here, but there {only_so_many}.",
    "Look at the count before this line.",
    led=NEEDLES_CHANGED)

NO_SECOND_BED = Kind(
    "no-second-bed", "fault",
    "This machine has no back bed.",
    "Knit it flat, or choose a machine with two beds.")

ALREADY_HUNG = Kind(
    "already-hung", "warning",
    "The {name} {is_are} hung already.",
    "Leave the line out, or look for an earlier one.",
    mend=LineOut(),
    led=HUNG)

NOT_HUNG = Kind(
    "not-hung", "warning",
    "The {name} {is_are} not hung.",
    "Leave the line out, or hang the {name} first.",
    mend=LineOut())
