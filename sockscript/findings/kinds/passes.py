"""What goes wrong as the carriage passes: stitches lost, settings, yarn."""

from __future__ import annotations

from sockscript.expand.record import Mishap
from sockscript.expand.run import Run
from sockscript.findings.beds_as_set import bed_at_rest, racked_together
from sockscript.findings.kind import Kind, LineBefore, LineOut
from sockscript.findings.origins import (
    BED_SET,
    CARRIAGE_CAME,
    CUT,
    CUT_ALREADY,
    EMPTIED,
    FIRST_THREADED,
    LEFT_WAITING,
    SET,
    TOGETHER,
    YARN_LEFT,
)
from sockscript.text.mend import Mend, PutBefore

LOOP_ON_IDLE_NEEDLE = Kind(
    "loop-on-idle-needle", "fault",
    "{Needles} of the {bed} bed still {hold} {loops}; out of work {they} {drop} off.",
    "Transfer, bind off or scrap off the stitches before the needles go out of work.")

PASS_WITHOUT_YARN = Kind(
    "pass-without-yarn", "fault",
    "The carriage passes with no yarn in the feeder: {lost}.",
    "Thread a yarn before this line, or set the bed to rest.",
    led=CUT)

TRANSFER_TO_IDLE_NEEDLE = Kind(
    "transfer-to-idle-needle", "fault",
    "{Needles} of the {bed} bed {are} out of work: what is hung there falls off.",
    "Bring the needles into work before anything is hung on them{straight_across}.")

CONSERVATION_BROKEN = Kind(
    "conservation-broken", "fault",
    "The count of stitches does not come out: {amount} are astray.",
    "This is a mistake in the simulator, not in your script; please report it.")

WRONG_CARRIAGE_SIDE = Kind(
    "wrong-carriage-side", "fault",
    "This starts from the {from_side}, but the carriage stands at the {name}.",
    "{bring_over}",
    led=CARRIAGE_CAME)

NOT_SET_TO_CIRCULAR = Kind(
    "not-set-to-circular", "fault",
    "Rounds are knitted in a tube, but the {bed} bed is not set to circular.",
    "Write  set both to circular  before it, or knit rows.",
    mend=LineBefore("set both to circular"))

BED_LEFT_RESTING = Kind(
    "bed-left-resting", "fault",
    "This should knit on the {bed} bed, but the {bed} bed is still set to rest{instead}.",
    "Write  set {bed} to knit  {both_set}before it{or_other}.",
    mend=LineBefore("set {bed} to knit"),
    led=BED_SET,
    follows=("no-second-bed",))

BED_LEFT_KNITTING = Kind(
    "bed-left-knitting", "fault",
    "Only the {other} bed should knit here, but the {bed} bed is not set to rest and its needles "
    "knit too.",
    "Write  set {bed} to rest  before it.",
    mend=LineBefore("set {bed} to rest"),
    led=BED_SET,
    follows=("bed-left-resting",))

def _set_where_stitches_are(mishap: Mishap, run: Run) -> Mend | None:
    """Set the bed that has the stitches to knit, where nothing else is the matter."""
    bed = bed_at_rest(mishap, run)
    return PutBefore(mishap.places[-1].line, f"set {bed} to knit") if bed else None


NOTHING_KNITS = Kind(
    "nothing-knits", "fault",
    "The carriage passes, but no needle knits.",
    "{what_to_set}",
    mend=_set_where_stitches_are,
    led=SET,
    follows=("bed-left-resting", "not-set-to-circular", "circular-on-one-bed", "no-second-bed"))

def _unracked(mishap: Mishap, run: Run) -> Mend | None:
    """Rack back, where only the racking brings the needles before each other."""
    at = mishap.places[-1]
    return PutBefore(at.line, "rack to 0") if racked_together(mishap, run) else None


BEDS_COLLIDE = Kind(
    "beds-collide", "fault",
    "{Needles} of the front bed and the needles that face {them} knit in the same pass at full "
    "pitch: they collide.",
    "{apart}.",
    mend=_unracked,
    led=TOGETHER)

EMPTY_NEEDLE_CATCHES = Kind(
    "empty-needle-catches", "fault",
    "{Needles} of the {bed} bed {are} empty but in work: {each} catches the yarn and makes a loop "
    "that nobody wants.",
    "Take the empty needles out of work before this row (take empty of {bed} out of work); if the "
    "new stitch is meant, bring the needle into work 'to increase'.",
    mend=LineBefore("take empty of {bed} out of work"),
    led=EMPTIED)

YARN_JUMP = Kind(
    "yarn-jump", "fault",
    "The yarn would have to jump: {jump}.",
    "Start where the yarn is, or cut it and thread it again.",
    follows=("circular-on-one-bed",),
    led=YARN_LEFT)

YARN_NOT_CUT = Kind(
    "yarn-not-cut", "fault",
    "{name} is still in the feeder.",
    "Cut it before another yarn is threaded.",
    mend=LineBefore("cut"),
    led=FIRST_THREADED)


def _taken_up(mishap: Mishap, run: Run) -> Mend | None:
    """Change to the yarn, where it waits at the side of the carriage and no other is threaded."""
    before = run.moments[mishap.moment - 1].state
    waiting = dict(before.waiting)[mishap.fault.name]
    if before.feeder is not None or waiting.side != before.carriage:
        return None
    return mishap.places[-1].replaced_by(f"change to {mishap.fault.name}")


YARN_STILL_WAITS = Kind(
    "yarn-still-waits", "fault",
    "The {name} still waits at the edge, uncut: threaded from the cone it is a second end there.",
    "Take it up again where it waits (change to {as_written}), or cut it after its last row "
    "(cut {as_written}).",
    mend=_taken_up,
    led=LEFT_WAITING)

ADDED_TO_NOTHING = Kind(
    "added-to-nothing", "fault",
    "There is no yarn in the feeder that the {name} could be knitted together with.",
    "Thread the main yarn before this line, or thread both at once:  thread main and …")

THIRD_YARN = Kind(
    "third-yarn", "fault",
    "There are two yarns in the feeder already; the {name} would have to come out for a third.",
    "A feeder takes two at most: cut one of them before this line.")

YARN_IN_FEEDER_ALREADY = Kind(
    "yarn-in-feeder-already", "warning",
    "The {name} is in the feeder already.",
    "Leave the line out, or change to the other yarn.",
    mend=LineOut())

YARN_WAITS_ELSEWHERE = Kind(
    "yarn-waits-elsewhere", "fault",
    "The {name} waits at the other side: it last knitted there, and cannot be taken up here.",
    "Knit an even number of rows with each yarn, so that the carriage comes back to where both "
    "are; or cut it there and thread it again.")

NOTHING_TO_CUT = Kind(
    "nothing-to-cut", "advice",
    "There is no yarn in the feeder to cut.",
    "Leave the line out, or look for an earlier cut.",
    mend=LineOut(),
    led=CUT_ALREADY)
