"""What goes wrong by hand: moving stitches, casting on and off, wraps, groups."""

from __future__ import annotations

from sockscript.findings.kind import Kind, LineBefore
from sockscript.findings.origins import (
    COMB_HUNG,
    CUT,
    PUT_ON_ONE,
    STITCHES_WENT,
    THREADED,
    TUCKING,
)

TRANSFER_FROM_EMPTY = Kind(
    "transfer-from-empty", "fault",
    "{Needles} of the {bed} bed {have} no stitch to move.",
    "Look at which needles have stitches at this moment with 'sockscript needles'.")

TRANSFER_ONTO_LOOP = Kind(
    "transfer-onto-loop", "fault",
    "{Needles} of the {bed} bed already {hold} {loops_there}; a second is hung on top.",
    "If a decrease is meant, write 'onto' instead of 'to'; if not, choose an empty needle. "
    "{racked}")

NOTHING_TO_JOIN = Kind(
    "nothing-to-join", "warning",
    "{Needles} of the {bed} bed {are} empty: there is nothing to join with.",
    "Write 'to' when a stitch goes to an empty needle.")

STACK_TOO_HIGH = Kind(
    "stack-too-high", "fault",
    "More than two loops lie on {needles} of the {bed} bed: they hardly knit off.",
    "Knit a row between two decreases at the same place, or move the stitches to other needles.",
    led=PUT_ON_ONE)

TOO_MANY_STRANDS = Kind(
    "too-many-strands", "warning",
    "More than {amount} tucked or wrapped strands lie on {needles} of the {bed} bed: they hardly "
    "knit off.",
    "Knit a plain row between (about four strands on a needle are the most in common practice), or "
    "wrap other needles.",
    led=TUCKING)

DOUBLE_NOT_KNITTED = Kind(
    "double-not-knitted", "warning",
    "{Needles} of the {bed} bed still {hold} two loops that were not knitted together.",
    "Knit a row before the stitches are moved or grafted.",
    led=PUT_ON_ONE)

FOLD_WITH_COMB = Kind(
    "fold-with-comb", "fault",
    "The comb still hangs in the knitting, so the stitches cannot be turned round.",
    "Write  remove comb  (and weights) before they are turned.",
    mend=LineBefore("remove comb"),
    led=COMB_HUNG)

FOLD_WITH_YARN = Kind(
    "fold-with-yarn", "fault",
    "The yarn in the feeder comes from the stitch of {needles} of the {bed} bed, which is turned "
    "over.",
    "Cut the yarn before the stitches are turned, and thread it again afterwards.",
    mend=LineBefore("cut"),
    led=THREADED)

WRAP_WITHOUT_YARN = Kind(
    "wrap-without-yarn", "fault",
    "There is no yarn in the feeder to wrap {needles} with.",
    "Thread a yarn first.",
    led=CUT)

WRAP_ON_IDLE_NEEDLE = Kind(
    "wrap-on-idle-needle", "fault",
    "{Needles} of the {bed} bed {are} out of work and cannot be wrapped.",
    "Choose a needle that has a stitch.")

WRAP_ON_EMPTY_NEEDLE = Kind(
    "wrap-on-empty-needle", "fault",
    "{Needles} of the {bed} bed {are} empty: the wrap becomes a new stitch.",
    "Choose a needle that has a stitch.")

CAST_ON_WITHOUT_YARN = Kind(
    "cast-on-without-yarn", "fault",
    "There is no yarn in the feeder to cast on with.",
    "Thread a yarn first{thread_it}.",
    led=CUT)

CAST_ON_IDLE_NEEDLE = Kind(
    "cast-on-idle-needle", "fault",
    "{Needles_to_cast_on} out of work, so nothing is cast on there.",
    "Bring the needles into work first{such_as}.")

CAST_ON_OVER_LOOP = Kind(
    "cast-on-over-loop", "fault",
    "{Needles} of the {bed} bed {have} a stitch already.",
    "Cast on onto empty needles.")

BIND_OFF_WITHOUT_YARN = Kind(
    "bind-off-without-yarn", "fault",
    "There is no yarn in the feeder to bind off with.",
    "Thread a yarn first.",
    led=CUT)

NOTHING_THERE = Kind(
    "nothing-there", "warning",
    "There is no stitch on {where}: nothing is done here.",
    "Look whether the other bed is meant, and where its stitches went.",
    led=STITCHES_WENT)

BIND_OFF_FROM_EMPTY = Kind(
    "bind-off-from-empty", "warning",
    "{Needles} of the {bed} bed {have} no stitch to bind off.",
    "Name only needles that have stitches.")

SCRAP_FROM_EMPTY = Kind(
    "scrap-from-empty", "warning",
    "{Needles} of the {bed} bed {have} no stitch to take off.",
    "Name only needles that have stitches.")

GRAFT_FROM_EMPTY = Kind(
    "graft-from-empty", "warning",
    "{Needles} of the {bed} bed {have} no stitch to graft.",
    "Name only needles that have stitches.")

GATHER_FROM_EMPTY = Kind(
    "gather-from-empty", "warning",
    "{Needles} of the {bed} bed {have} no stitch to gather.",
    "Name only needles that have stitches.")

DROP_FROM_EMPTY = Kind(
    "drop-from-empty", "warning",
    "{Needles} of the {bed} bed {have} no stitch to drop.",
    "Name only needles that have stitches.")

UNEQUAL_GRAFT = Kind(
    "unequal-graft", "fault",
    "The two sides of the graft are not equal: one has {difference} more than the other.",
    "Bring both sides to the same number before grafting.",
    follows=("graft-from-empty",))

NOTHING_TO_LATCH_UP = Kind(
    "nothing-to-latch-up", "fault",
    "There is no dropped stitch at {needles} of the {bed} bed to latch up.",
    "Latch up only where a stitch was dropped on purpose, onto an empty needle in work.")

FILL_TARGET_NOT_FREE = Kind(
    "fill-target-not-free", "fault",
    "{Needles} of the {bed} bed {are} not an empty needle in work.",
    "Fill only needles that are empty and in work.")

NAME_TAKEN = Kind(
    "name-taken", "fault",
    "The name '{name}' already stands for other stitches.",
    "Choose another name.")

NO_SUCH_GROUP = Kind(
    "no-such-group", "fault",
    "No stitches are called '{name}' at this moment.",
    "Scrap them off or mark them under this name first; each can be hung up only once.")

SLIT_GRAFTED = Kind(
    "slit-grafted", "fault",
    "'{name}' is a slit: loops below a row of waste yarn and loops above it, which are no row to "
    "graft to another.",
    "Rehang it on both beds and graft those (graft front to back). By their names scrapped "
    "stitches and marked edges are grafted.")

KNIT_IN_OVER_EMPTY = Kind(
    "knit-in-over-empty", "fault",
    "{Needles} of the {bed} bed {have} no stitch to knit the waste yarn over.",
    "Name the needles of the opening that have stitches.")

NOT_AN_EDGE = Kind(
    "not-an-edge", "fault",
    "'{name}' is no marked edge: its stitches are not the open loops of a first row.",
    "Sew down an edge that was named with  mark edge; a slit or scrapped stitches are hung up or "
    "grafted.")

REHANG_COUNT = Kind(
    "rehang-count", "fault",
    "'{name}' has {difference} {more_or_less} than the needles named.",
    "Name as many needles as there are stitches.",
    follows_anywhere=("wrong-mark",))

MARK_ON_EMPTY = Kind(
    "mark-on-empty", "fault",
    "There are no stitches on the {bed} bed to mark.",
    "Mark right after the waste yarn row.")
