"""Every finding: its name, how bad it is, what is wrong in one sentence, and what to do.

The sentences are filled in with the needles and numbers of the first size concerned:
``{needles}`` names the needles (``L16 to R16``), ``{stitches}`` counts them (``3 stitches``),
``{bed}``, ``{other}``, ``{amount}``, ``{name}`` and the rest come from the fault.
"""

from __future__ import annotations

from typing import Literal, NamedTuple

Severity = Literal["fault", "warning", "advice"]


class Kind(NamedTuple):
    """One kind of finding."""

    severity: Severity
    sentence: str
    advice: str


def _fault(sentence: str, advice: str) -> Kind:
    return Kind("fault", sentence, advice)


def _warning(sentence: str, advice: str) -> Kind:
    return Kind("warning", sentence, advice)


def _advice(sentence: str, advice: str) -> Kind:
    return Kind("advice", sentence, advice)


KINDS: dict[str, Kind] = {
    # ---- stitches lost
    "loop-on-idle-needle": _fault(
        "{Needles} of the {bed} bed still {hold} {loops}; out of work {they} {drop} off.",
        "Transfer, bind off or scrap off the stitches before the needles go out of work."),
    "pass-without-yarn": _fault(
        "The carriage passes with no yarn in the feeder: {lost}.",
        "Thread a yarn before this line, or set the bed to rest."),
    "transfer-to-idle-needle": _fault(
        "{Needles} of the {bed} bed {are} out of work: what is hung there falls off.",
        "Bring the needles into work before anything is hung on them."),
    "conservation-broken": _fault(
        "The count of stitches does not come out: {amount} are astray.",
        "This is a mistake in the simulator, not in your script; please report it."),

    # ---- the pass
    "wrong-carriage-side": _fault(
        "This starts from the {from_side}, but the carriage stands at the {name}.",
        "Count the rows before this line: one more or one less brings the carriage over, or move "
        "it across with 'move carriage' while no yarn is in the feeder."),
    "not-set-to-circular": _fault(
        "Rounds are knitted in a tube, but the {bed} bed is not set to circular.",
        "Write  set both to circular  before it, or knit rows."),
    "bed-left-resting": _fault(
        "This should knit on the {bed} bed, but the {bed} bed is still set to rest.",
        "Write  set {bed} to knit  before it."),
    "bed-left-knitting": _fault(
        "Only the {other} bed should knit here, but the {bed} bed is not set to rest and its "
        "needles knit too.",
        "Write  set {bed} to rest  before it."),
    "nothing-knits": _fault(
        "The carriage passes, but no needle knits.",
        "Look at the settings of the beds and at the needles in work: one bed at rest and the "
        "other one set to circular knits only every second row."),
    "beds-collide": _fault(
        "{Needles} of the front bed and the needles that face {them} knit in the same pass at "
        "full pitch: they collide.",
        "Use half pitch, or take every second needle of each bed out of work."),
    "empty-needle-catches": _fault(
        "{Needles} of the {bed} bed {are} empty but in work: {each} catches the yarn and makes a "
        "loop that nobody wants.",
        "Take the empty needles out of work before this row (take empty of {bed} out of work); if "
        "the new stitch is meant, bring the needle into work 'to increase'."),
    "yarn-jump": _fault(
        "The yarn would have to jump: {jump}.",
        "Start where the yarn is, or cut it and thread it again."),
    "yarn-not-cut": _fault(
        "{name} is still in the feeder.",
        "Cut it before another yarn is threaded."),
    "nothing-to-cut": _warning(
        "There is no yarn in the feeder to cut.",
        "Leave the line out, or look for an earlier cut."),

    # ---- by hand
    "transfer-from-empty": _fault(
        "{Needles} of the {bed} bed {have} no stitch to move.",
        "Look at which needles have stitches at this moment with 'sockscript needles'."),
    "transfer-onto-loop": _fault(
        "{Needles} of the {bed} bed already {hold} {loops_there}; a second is hung on top.",
        "If a decrease is meant, write 'onto' instead of 'to'; if not, choose an empty needle."),
    "nothing-to-join": _warning(
        "{Needles} of the {bed} bed {are} empty: there is nothing to join with.",
        "Write 'to' when a stitch goes to an empty needle."),
    "stack-too-high": _fault(
        "More than two loops lie on {needles} of the {bed} bed: they hardly knit off.",
        "Knit a row between two decreases at the same place, or move the stitches to other "
        "needles."),
    "too-many-strands": _warning(
        "More than {amount} tucked or wrapped strands lie on {needles} of the {bed} bed: they "
        "hardly knit off.",
        "Knit a plain row between (about four strands on a needle are the most in common "
        "practice), or wrap other needles."),
    "double-not-knitted": _warning(
        "{Needles} of the {bed} bed still {hold} two loops that were not knitted together.",
        "Knit a row before the stitches are moved or grafted."),
    "fold-with-comb": _fault(
        "The comb still hangs in the knitting, so the stitches cannot be turned round.",
        "Write  remove comb  (and weights) before the fold."),
    "fold-with-yarn": _fault(
        "The yarn in the feeder is attached to {needles} of the {bed} bed, which is folded over.",
        "Cut the yarn before the fold and thread it again afterwards."),
    "wrap-without-yarn": _fault(
        "There is no yarn in the feeder to wrap {needles} with.", "Thread a yarn first."),
    "wrap-on-idle-needle": _fault(
        "{Needles} of the {bed} bed {are} out of work and cannot be wrapped.",
        "Choose a needle that has a stitch."),
    "wrap-on-empty-needle": _fault(
        "{Needles} of the {bed} bed {are} empty: the wrap becomes a new stitch.",
        "Choose a needle that has a stitch."),
    "cast-on-without-yarn": _fault(
        "There is no yarn in the feeder to cast on with.", "Thread a yarn first."),
    "cast-on-idle-needle": _fault(
        "{Needles} of the {bed} bed {are} out of work, so nothing is cast on there.",
        "Bring the needles into work first."),
    "cast-on-over-loop": _fault(
        "{Needles} of the {bed} bed {have} a stitch already.", "Cast on onto empty needles."),
    "bind-off-without-yarn": _fault(
        "There is no yarn in the feeder to bind off with.", "Thread a yarn first."),
    "bind-off-from-empty": _warning(
        "{Needles} of the {bed} bed {have} no stitch to bind off.",
        "Name only needles that have stitches."),
    "scrap-from-empty": _warning(
        "{Needles} of the {bed} bed {have} no stitch to take off.",
        "Name only needles that have stitches."),
    "graft-from-empty": _warning(
        "{Needles} of the {bed} bed {have} no stitch to graft.",
        "Name only needles that have stitches."),
    "gather-from-empty": _warning(
        "{Needles} of the {bed} bed {have} no stitch to gather.",
        "Name only needles that have stitches."),
    "drop-from-empty": _warning(
        "{Needles} of the {bed} bed {have} no stitch to drop.",
        "Name only needles that have stitches."),
    "unequal-graft": _fault(
        "The two sides of the graft are not equal: one has {difference} more than the other.",
        "Bring both sides to the same number before grafting."),
    "nothing-to-latch-up": _fault(
        "There is no dropped stitch at {needles} of the {bed} bed to latch up.",
        "Latch up only where a stitch was dropped on purpose, onto an empty needle in work."),
    "fill-target-not-free": _fault(
        "{Needles} of the {bed} bed {are} not an empty needle in work.",
        "Fill only needles that are empty and in work."),
    "name-taken": _fault(
        "The name '{name}' already stands for other stitches.", "Choose another name."),
    "no-such-group": _fault(
        "No stitches are called '{name}' at this moment.",
        "Scrap them off or mark them under this name first; each can be hung up only once."),
    "not-scrapped": _fault(
        "'{name}' is not stitches on waste yarn, so it cannot be grafted off the machine.",
        "Rehang it on the needles, or scrap it off first."),
    "rehang-count": _fault(
        "'{name}' has {difference} {more_or_less} than the needles named.",
        "Name as many needles as there are stitches."),
    "mark-on-empty": _fault(
        "There are no stitches on the {bed} bed to mark.", "Mark right after the waste yarn row."),

    # ---- what the machine has
    "setting-not-had": _fault(
        "This machine has no setting for {name}.",
        "Knit it another way, or choose another machine."),
    "racking-too-far": _fault(
        "This machine cannot be racked as far as {amount}.", "Transfer by hand instead."),
    "size-off-dial": _fault(
        "The dial has no such stitch size; it runs from {dial}.",
        "Choose a number that the dial has."),
    "needle-off-bed": _fault(
        "{off_bed}.", "Check the numbers of this size, or use a machine with more needles."),
    "too-few-needles": _fault(
        "{amount} needles are meant here, but there {is_or_are} only {count}.",
        "Look at the count before this line."),
    "no-second-bed": _fault(
        "This machine has no back bed.", "Knit it flat, or choose a machine with two beds."),
    "already-hung": _warning(
        "The {name} {is_are} hung already.", "Leave the line out, or look for an earlier one."),
    "not-hung": _warning(
        "The {name} {is_are} not hung.", "Leave the line out, or hang the {name} first."),

    # ---- what the author expected
    "expectation-not-met": _fault(
        "{expected}, but {found}.", "{since}"),
    "never-true": _fault(
        "The repeat never ends: it waits for {wanted}, but {found}.",
        "Look at what the repeated lines change, and by how much each time."),

    # ---- found over several lines
    "short-row-hole": _fault(
        "The row turns next to {needles} of the {bed} bed, held and not wrapped: a hole.",
        "Wrap the held needle, or put into hold the needle that knitted last, on the carriage "
        "side."),
    "short-row-eyelet": Kind(
        "advice",
        "Needles of the {bed} bed come back from hold without a wrap: a line of small eyelets.",
        "If you mind them, wrap the next held needle before each turn."),
    "unequal-short-rows": _fault(
        "The short rows of the {bed} bed are not equal: {left} held at the left, {right} at the "
        "right.",
        "Put as many needles into hold at one end as at the other."),
    "open-corner": _fault(
        "The corner at the {name} between the heel and the resting {bed} bed is left open.",
        "When the last held needle there is back and the carriage stands at the {name}, lay the "
        "yarn round the nearest needle: wrap {name} 1 of {bed}."),
    "odd-pass-in-tube": _fault(
        "The tube is left after {passes} passes: the front bed has {front_rows} and the back bed "
        "{back_rows} of them.",
        "A round is two passes: knit an even number, or count in rounds."),
    "held-never-returned": _fault(
        "{Needles} of the {bed} bed {are} still in hold with {loops}.",
        "Return the needles to work before this."),
    "live-stitches-left": _fault(
        "The pattern ends with {loops} still on {needles} of the {bed} bed.",
        "Graft, bind off, gather or scrap off what is left."),
    "group-left": _fault(
        "The pattern ends with '{name}' not taken up: {stitches} stay open.",
        "Rehang or graft these stitches before the end."),
    "off-target": _warning(
        "The {name}{where} comes to {comes}: {off} mm {way} than the {aim} aimed at.{parts}",
        "Look at the count it is knitted on, at how it is rounded, and at the gauge; or allow more "
        "with 'within'."),
    "size-missed": _warning(
        "'{name}' is {aim}, but the finished sock comes to {comes} there: {off} mm {way}.{parts}",
        "Look at the rows or stitches that it is knitted on. A line such as  knit rounds for a "
        "foot length of foot-length  finds the rows itself; a 'target' says what else is meant."),
    "not-measured": _advice(
        "The {name} cannot be measured on the finished piece: {missing}.",
        "Look whether that part is as it should be; if it is, leave the line out or allow it."),
    "no-rows-fit": _fault(
        "No number of rows gives a {name} of {aim}: {why}.",
        "Knit the piece to its end; make heel or toe shorter or the length greater; or look "
        "whether the line stands in that part at all."),
    "gauge-exchanged": _advice(
        "The gauge of '{name}' has {stitches} stitches and only {rows} rows: plain knit has about "
        "1.3 times as many rows as stitches.",
        "Look at your swatch: perhaps stitches and rows are exchanged."),
    "grading-uneven": _advice("{what}.", "Look at the numbers of this row and at their units."),
    "ease-left-out": _advice(
        "'{name}' is turned into stitches as it is, but '{other}' with an ease.",
        "Socks are knitted narrower than the leg and foot, plain knit by a tenth: write for "
        "example  {name} less 10%."),
    "cuff-too-tight": _warning(
        "'{section}' is {girth} round and pulls out to about {reach} in {fabric}, but it has to "
        "go over a heel of {heel}.",
        "Knit it on more stitches or more loosely, or in rib; if your own fabric stretches "
        "further, say so on its gauge line: stretches to 190%. A cuff must never cut in: with "
        "poor circulation, diabetes or swelling, ask a clinician."),
    "unlikely-foot": _warning(
        "'{name}' is {value}; on people it lies between {low} and {high}.",
        "Look at the number and at its unit."),
    "measurements-contradict": _warning(
        "'{name}' is {value} and {second} is {other}, but {fact}.",
        "Measure again, or look whether two columns or rows are exchanged."),
    "yarn-and-gauge-apart": _warning(
        "At the gauge for {fabric} the {name} would make a very {looks} fabric (tightness factor "
        "{factor}; plain knitting lies between 9 and 19).",
        "Look at the metres per 100 g and at the gauge; one of them belongs to another yarn."),
    # ---- knowledge of the trade
    "rib-without-weights": _warning(
        "{amount} rows of rib are knitted with neither comb nor weights: its stitches ride up and "
        "drop.",
        "Hang the comb after the zigzag row and weights on it:  hang comb  and  hang weights."),
    "weights-not-moved": _advice(
        "{amount} short rows are knitted with the weights where they were.",
        "Move them under the needles still knitting every few rows (move weights), or tell the "
        "reader to in a note."),
    "held-too-long": _advice(
        "{Needles} of the {bed} bed {hold} stitches past more than {amount} rows: they wear and "
        "stretch.",
        "Scrap them off onto waste yarn and rehang them later, or hold fewer rows."),
    "hold-not-set": _warning(
        "{Needles} of the {bed} bed {are} in hold, but hold is not set there: {they} {knit} in "
        "this row.",
        "Write  respect hold on {bed}  before this row; if they are only pushed out so that they "
        "knit more surely, write  return … to upper work."),
    "hold-on-wrong-bed": _warning(
        "Hold is respected on the {other} bed, where nothing is held, but not on the {bed} bed: "
        "{needles} there {are} knitted after all.",
        "Write  respect hold on {bed}  before this row."),
    "returned-at-carriage": _advice(
        "{Needles} of the {bed} bed {come} back at the {name}, where the carriage stands.",
        "Return needles at the end away from the carriage (return far side 1 held of {bed} to "
        "work): the yarn then comes to them along the row."),
    "size-unchanged-after-rib": _advice(
        "The plain knitting after the rib goes on with the stitch size of the rib, {size}.",
        "Plain knitting usually takes a larger size than rib; set it before the first plain rows."),
    "cast-on-size-unchanged": _advice(
        "The rows after the cast-on go on with the stitch size of the edge, {size}.",
        "An edge is cast on tighter than what follows; set a larger size after the cast-on rows."),
    "tube-not-facing": _warning(
        "The tube begins on needles that do not face each other: its edges lie {amount} needles "
        "apart.",
        "Bring the same needles into work on both beds, or transfer so that the stitches face."),
    "tube-racked": _warning(
        "The back bed is still racked by {amount} in the tube: its stitches do not face those of "
        "the front bed.",
        "Write  rack to 0  before the tube begins."),
    "circular-on-one-bed": _warning(
        "Only the {bed} bed is set to circular: it knits in every other row, and the {other} bed "
        "does not take the turn between.",
        "Write  set both to circular, or set the {bed} bed to knit."),
    "heel-point-unusual": _advice(
        "At its narrowest the heel has {left} of {whole} stitches left: that is {way} beside "
        "{aim}.",
        "Change the number left in work, or say what you want: target heel width 1/3 within 1/10."),
    "toe-too-blunt": _advice(
        "The toe is closed over {left} of {around} stitches: it will be blunt.",
        "Decrease further, to about a third of the round."),
    "toe-too-pointed": _advice(
        "The toe is closed over {left} of {around} stitches: it will be pointed.",
        "Stop decreasing earlier, at about a third of the round."),
    "toe-depth-unusual": _advice(
        "The decreases are {way}: the toe is {shape}, {depth} of a foot of {foot}.",
        "Change how often is decreased, or how many stitches are left."),
    "decreases-not-mirrored": _warning(
        "The tube is not shaped alike at both ends and on both beds; decreases at the left and "
        "right: front {front_left} and {front_right}, back {back_left} and {back_right}.",
        "Decrease at each end of each bed as often."),
    "bare-strand": _fault(
        "The first row lies over empty needles of the {bed} bed alone, side by side: a bare strand "
        "in the hooks, no edge.",
        "Cast on by hand (cast on {bed}), begin with waste yarn, or hang the comb on the strand "
        "before the next row; over both beds the first row makes an edge by itself."),
    "tube-knitted-shut": _fault(
        "Both beds knit in the same pass: the yarn runs from the one to the other and closes the "
        "tube along the whole row.",
        "Write  set both to circular  before it. If the tube is to end here, one such row is "
        "enough; take the stitches off after it."),
    "tube-split": _fault(
        "The {bed} bed knits {amount} rows more than the {other} bed before the rounds go on: the "
        "tube is open at both sides there.",
        "Set both beds to circular for these rows, or make them short rows that come back."),
    "stitch-size-differs": _warning(
        "The tube is knitted with stitch size {front_size} on the front bed and {back_size} on "
        "the back bed.",
        "Write  stitch size …  without a bed, so that it holds for both."),
    "short-rows-at-one-end": _warning(
        "Of the short rows on the {bed} bed all {amount} needles were put into hold at the one "
        "end (left {left}, right {right}): the heel pulls to one side.",
        "Hold as many needles at the left as at the right."),
    "half-round-between": _warning(
        "{amount} passes lie between two decreases: that is not a whole number of rounds, and the "
        "one bed knits a row more than the other.",
        "Knit rounds between them, or an even number of rows."),
    "uneven-pace": _advice(
        "From one decrease to the next it is {rounds} here; before and after it is {usual}.",
        "Knit as many as between the others, unless it is meant."),
    "sizes-reversed": _warning(
        "{tight} is knitted with stitch size {tight_size}, looser than {loose} with {loose_size}.",
        "An edge is the tightest, rib comes next, plain knitting is the loosest: look whether two "
        "sizes were exchanged."),
    "tube-without-weights": _warning(
        "{amount} rows of a tube are knitted with neither comb nor weights: its stitches climb "
        "the needles and drop.",
        "Write  hang weights  before the rounds."),
    "hung-on-nothing": _warning(
        "The {name} {is_are} hung before there is any knitting on the needles.",
        "Knit the first row, then hang the {name}."),
    "fold-with-weights": _warning(
        "Stitches are turned over while the weights hang on them: they are pulled off the tool.",
        "Write  remove weights  before it, and hang them again afterwards."),
    "waste-knitted-in": _fault(
        "{rows} of waste yarn on the {bed} bed stay in the knitting: when they are drawn out, it "
        "comes apart there.",
        "Thread the yarn that is meant. If the waste yarn keeps a place, name it:  mark slit heel "
        "on {bed}."),
    "edge-will-run": _warning(
        "The piece is begun with {rows} of waste yarn on the {bed} bed, and nothing secures the "
        "first row of its own yarn when they come out.",
        "Name the edge before the first row of the yarn (mark edge start on {bed}) and hang or "
        "graft it later, or cast on by hand."),
    "dropped-never-latched": _warning(
        "{Needles} of the {bed} bed {were} dropped and not latched up again: the ladder runs down "
        "the whole piece.",
        "Write  latch up …  before the next row; if the ladder is meant, allow it."),
    "edge-left-open": _warning(
        "{stitches} of '{name}' come free with the waste yarn and are never taken up.",
        "Rehang them (a hem, a graft), or tell the reader how to secure them."),
    "ravel-cord-missing": _advice(
        "The yarn follows straight on {amount} rows of waste yarn, without a row of ravel cord.",
        "Knit one row of strong smooth cord between: drawn out, it frees the waste yarn without "
        "scissors near the stitches."),
    "number-in-words": _warning(
        "The words say {said}, but the lines under them come to {fits}.",
        "Write the number as a value, such as {{half}}, so that it follows the table."),
    "finishing-incomplete": _advice(
        "The section on finishing does not mention {missing}.",
        "Add it, or leave the section out: the printed sheet tells what is left to do."),
    "allow-without-effect": _advice(
        "'{name}' is allowed here, but is not found here any more.",
        "Take the allow line out; it might hide the next one."),
    "yarn-never-used": _advice(
        "The {name} is never threaded.", "Leave the yarn out, or thread it where it is meant."),
    "sizes-alike": _warning(
        "The sizes {one} and {two} are knitted alike, stitch for stitch.",
        "Look at their measurements and at the rounding, or leave one of them out."),
    "yarn-left-in-feeder": _warning(
        "The pattern ends with {name} still in the feeder.", "Cut it at the end."),
    "never-comb-off": _warning(
        "The comb is still hung when the pattern ends.", "Write  remove comb  before the end."),
}
