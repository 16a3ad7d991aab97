"""What the words of the language mean at the machine, a short sentence or two for each."""

from __future__ import annotations

from typing import NamedTuple


class Statement(NamedTuple):
    """A kind of line: how it begins, and what it means."""

    words: str
    meaning: str


STATEMENTS: dict[str, Statement] = {
    # ---- header
    "pattern": Statement("pattern", "The title of the pattern, as it is printed at its head."),
    "author": Statement("author", "Who wrote the pattern."),
    "version": Statement("version", "Which version of the pattern this is. Count it up when you "
                         "give a changed pattern to others."),
    "licence": Statement("licence", "What others may do with the pattern."),
    "machine": Statement("machine", "What the pattern needs of a machine. Each need stands in a "
                         "line of its own under this one."),
    "yarn": Statement("yarn", "A yarn, the name that it has in this script, and how long it is "
                      "for its weight, as the band says."),
    "gauge": Statement("gauge", "How many stitches and rows of a fabric there are in a length. "
                       "Count them on a swatch that was washed and has rested."),
    "swatch": Statement("swatch", "A swatch on the scales: how much yarn so many stitches and "
                        "rows took. The yarn for the sock is reckoned from it."),
    "sizes": Statement("sizes", "The names of the sizes. Under this line stands a row for each "
                       "measurement, with a value for every size."),
    "option": Statement("option", "A choice left to the knitter. The check knits every choice; "
                        "the first is meant where nobody chooses."),
    "works_for": Statement("works for", "The measurements and gauges for which the pattern is "
                           "meant to come out. Ranges stand under this line."),
    "use": Statement("use", "Takes the techniques of another script in the same folder."),
    "builds_on": Statement("builds on", "Takes all of another script beside it. What this one says "
                           "stands in the place of what has the same name there."),
    "exchange": Statement("exchange", "Does the second technique in the place of the first."),
    # ---- rows of blocks in the header
    "measure_row": Statement("", "A measurement, with a value for every size."),
    "feet_row": Statement("feet", "Takes a foot from the built-in table for every size, by "
                          "person and shoe size."),
    "range_of_value": Statement("", "The values of a measurement or count for which the pattern "
                                "is meant to come out."),
    "range_of_gauge": Statement("gauge", "The gauges of a fabric for which the pattern is meant "
                                "to come out."),
    "range_where": Statement("where", "Leaves out what no foot has: only measurements for which "
                             "this is true are tried."),
    "beds": Statement("beds", "How many needle beds the machine has: 1 or 2."),
    "needle_count": Statement("needles", "How many needles a bed has."),
    "spacing": Statement("spacing", "How far it is from one needle to the next."),
    "dial": Statement("dial", "The numbers of the stitch-size dial, from the tightest to the "
                      "loosest, and the step between them."),
    "pitches": Statement("pitches", "Whether the beds can stand at half pitch, at full pitch or "
                         "at both."),
    "racking": Statement("racking", "By how many needles one bed can be racked past the other."),
    "abilities": Statement("needs", "What the machine must be able to do, or what it can do."),
    "front_circular": Statement("front knits", "In which direction of the carriage the front bed "
                                "knits when it is set to circular."),
    "own_swatch": Statement("swatch", "A swatch that you have knitted on this machine, washed and "
                            "rested: where a pattern asks for that gauge, the sheet names your "
                            "stitch size instead of leaving a box."),
    "words": Statement("words", "The machine's own words for its settings stand under this "
                       "line; the printed pattern uses them."),
    # ---- glue
    "let": Statement("let", "Gives a number a name. It is worked out anew for every size."),
    "section": Statement("section", "A part of the sock with a title of its own. After 'in' "
                         "stands the fabric whose gauge counts in it."),
    "step": Statement("step", "Words that are printed for the knitter. What is indented under "
                      "them is done and checked but not printed."),
    "more_words": Statement("", "The words of the line above go on."),
    "note": Statement("note", "A remark that is printed as a paragraph."),
    "caution": Statement("caution", "A warning that is printed where it stands."),
    "expect": Statement("expect", "What you are sure of here. The check tells you when it is "
                        "otherwise, and since which line."),
    "allow": Statement("allow", "A finding of the check that is meant to stay, and why. It holds "
                       "for the line that follows, or at the left margin for the whole script."),
    "target": Statement("target", "What the section, foot, heel or toe should measure. The check "
                        "warns when it comes out otherwise."),
    "repeat_times": Statement("repeat … times", "Knits the lines indented under it so many times "
                              "over."),
    "repeat_until": Statement("repeat until", "Knits the lines indented under it over and over, "
                              "until this is so. It looks before each time."),
    "when": Statement("when", "The lines indented under it are knitted only if this is so."),
    "otherwise": Statement("otherwise", "The lines indented under it are knitted if what stands "
                           "after 'when' is not so."),
    "technique": Statement("technique", "A piece of work with a name, to be called with 'do'. "
                           "The values that it takes stand after 'with'."),
    "begins_with": Statement("needs", "What must be so when this technique is called. The check "
                             "tells it at the line that calls it."),
    "leaves": Statement("leaves", "What is so when this technique is done. The check looks at "
                        "it after every call."),
    "do": Statement("do", "Knits a technique here, with the values that you give it."),
    # ---- bed set-up
    "set_pitch": Statement("half pitch, full pitch", "How the needles of the two beds stand to "
                           "each other: at half pitch between one another, at full pitch face to "
                           "face. At full pitch facing needles must not knit in the same pass."),
    "rack": Statement("rack", "Moves one bed sideways past the other by so many needles."),
    "bring": Statement("bring … into work", "Pushes needles up to working position. An empty one "
                       "catches the yarn at the next row."),
    "take_out": Statement("take … out of work", "Pushes empty needles back so far that they do "
                          "not knit. A needle that still has a stitch would drop it."),
    "hold": Statement("hold", "Pulls needles right out to holding position. They keep their "
                      "stitches and do not knit as long as hold is respected."),
    "return_to_work": Statement("return … to work", "Pushes needles in hold back to working "
                                "position; they knit again in the next row."),
    "return_to_upper": Statement("return … to upper work", "Pushes needles in hold back so far "
                                 "that they knit in the next row even while hold is respected."),
    "set_needles": Statement("set … of", "Sets what some needles do where their bed knits; setting "
                             "the whole bed afterwards undoes it."),
    "set_bed": Statement("set", "Sets what the carriage does on a bed: knit, rest, tuck or "
                         "circular."),
    "respect_hold": Statement("respect hold", "From here on the carriage leaves needles in hold "
                              "alone."),
    "cancel_hold": Statement("cancel hold", "From here on the carriage knits needles in hold "
                             "too."),
    "stitch_size": Statement("stitch size", "Sets the stitch-size dial. A smaller number is "
                             "tighter."),
    # ---- carriage and yarn
    "thread": Statement("thread", "Puts a yarn into the feeder, or two that are knitted together."),
    "thread_along": Statement("thread along", "Puts a second yarn into the feeder: both are "
                              "knitted together, until one of them is cut by its name."),
    "change": Statement("change to", "Takes up another yarn, with a colour changer or by hand; the "
                        "one in the feeder waits at the edge, uncut."),
    "cut": Statement("cut", "Cuts the yarn in the feeder (both, if there are two and none is "
                            "named); leave an end long enough to weave in."),
    "move_carriage": Statement("move carriage", "Takes the carriage to an end of the bed without "
                               "knitting, with no yarn in the feeder."),
    "knit": Statement("knit", "Knits rows, or rounds of a tube. A round is two passes of the "
                      "carriage, one for each bed."),
    "knit_for": Statement("knit … for", "Knits as many rows or rounds as the finished foot or leg "
                          "needs to be so long, with heel and toe as they will come out. The "
                          "steps print the number."),
    "row_counter": Statement("row counter", "Sets the row counter to a number. It counts every "
                             "pass of the carriage."),
    # ---- hands
    "transfer_to": Statement("transfer … to", "Hangs stitches on other needles, which must be "
                             "empty."),
    "transfer_onto": Statement("transfer … onto", "Hangs stitches on needles that have one "
                               "already: a decrease, finished by the next row."),
    "fold": Statement("fold", "Turns a group at the end of a bed round and hangs it on the bed "
                      "that faces it. First take the comb off and cut a yarn that is attached."),
    "fashion": Statement("move … stitches", "Moves the outer stitches of a bed in or out as a "
                         "group: a full-fashioned decrease or increase, some stitches from the "
                         "edge."),
    "wrap": Statement("wrap", "Lays the yarn round a held needle before the carriage turns, so "
                      "that no hole is left."),
    "cast_on": Statement("cast on", "Casts on by hand on empty needles in work, with the yarn in "
                         "the feeder."),
    "bind_off": Statement("bind off", "Binds off the stitches of these needles with the yarn in "
                          "the feeder."),
    "scrap_off": Statement("scrap off", "Takes stitches off onto waste yarn and keeps them under "
                           "a name, to be hung up again or grafted."),
    "rehang": Statement("rehang", "Hangs stitches that were put aside under a name on needles "
                        "again. See that none is split or crossed."),
    "graft": Statement("graft", "Joins the stitches of two beds, or two groups that were put "
                       "aside, with a sewing needle."),
    "gather": Statement("gather", "Draws the yarn through these stitches and pulls them "
                        "together."),
    "hang": Statement("hang", "Hangs the comb or the weights into the knitting. They are heavy "
                      "and combs are sharp: hold them as the manual of your machine shows."),
    "move_weights": Statement("move weights", "Moves the weights up and under the needles that "
                              "are knitting, so that no stitch climbs up and drops."),
    "remove": Statement("remove", "Takes the comb or the weights out of the knitting. Keep a "
                        "hand under them, as the manual of your machine shows."),
    "drop": Statement("drop", "Lets stitches fall on purpose."),
    "latch_up": Statement("latch up", "Brings dropped stitches up again row by row with the "
                          "latch tool. Mind the hook."),
    "mark": Statement("mark", "Remembers under a name where waste yarn will come out later and "
                      "leave open loops."),
    "fill": Statement("fill", "Fills empty needles with a loop of the stitch beside them, so "
                      "that an increase leaves no hole."),
    "knit_in": Statement("knit in", "Knits a length of waste yarn over some needles by hand: the "
                         "place of an opening that is taken up later."),
    "pick_up": Statement("pick up along", "Pulls loops out of a side edge, spread evenly over its "
                         "last rows, and hangs one on each of the needles named."),
    "sew_sides": Statement("sew sides", "The two side edges of the piece are sewn together; the "
                           "finishing tells how many rows."),
    "sew_down": Statement("sew down", "Folds the first or the last rows to the inside and sews "
                          "them down: they do not count for the length."),
    "sew_edge_down": Statement("sew down", "Folds so many rows to the inside and sews the open "
                               "loops of a marked edge down there."),
}
"""By the name of the rule in the grammar."""

WORDS: dict[str, str] = {
    # ---- beds, ends, needles
    "front": "The front bed, the one next to you.",
    "back": "The back bed.",
    "both": "The front bed and the back bed.",
    "other": "The bed that faces the one named after it; 'every other' is every second needle.",
    "left": "The left end of the bed as you stand before it.",
    "right": "The right end of the bed as you stand before it.",
    "carriage": "The carriage, which knits as it passes; 'carriage side' is the end where it "
                "stands.",
    "far": "'far side' is the end of the bed opposite the carriage.",
    "side": "'carriage side' is where the carriage stands, 'far side' the other end.",
    "all": "All needles of the bed that are not out of work.",
    "held": "Needles in hold.",
    "empty": "Needles in work that have no stitch.",
    "centre": "So many needles about the middle of the bed.",
    "every": "Every second, third … needle of those named after 'of', counted from the left.",
    "needles": "Counted among all needles that are not out of work.",
    "needle": "Counted among all needles that are not out of work.",
    "stitches": "Counted in stitches. 'stitches(20 cm)' is how many stitches that is by the gauge.",
    "stitch": "Counted in stitches.",
    "working": "Counted among needles in work that are not held.",
    "bed": "A row of needles: the front bed or the back bed.",
    "equal": "As many stitches on the one bed as on the other.",
    "tube": "A tube: so many stitches on each bed, facing each other.",
    # ---- positions and settings
    "work": "Working position: the needles knit.",
    "upper": "Upper working position: the needles knit even while hold is respected.",
    "hold": "Holding position: the needles keep their stitches and rest while hold is respected.",
    "knit": "Every needle in work knits as the carriage passes.",
    "rest": "The carriage passes over this bed and leaves it as it is.",
    "tuck": "The yarn is laid over the stitches without being knitted off.",
    "slip": "The yarn passes behind the needles, which keep their stitches.",
    "circular": "The bed knits in one direction of the carriage only. With both beds so, the "
                "knitting becomes a tube.",
    "pitch": "How the needles of the two beds stand to each other: half or full.",
    "half": "Half pitch: the needles of one bed stand between those of the other.",
    "full": "Full pitch: the needles of the two beds stand face to face.",
    "increase": "The empty needle is meant to catch the yarn: a new stitch with a small hole.",
    "cast": "The empty needles are meant to catch the yarn: a new edge.",
    "in": "Towards the centre of the bed; also where something is: 'in work', 'in hold'.",
    "out": "Away from the centre of the bed; also 'out of work'.",
    "onto": "The needles named here have stitches, so that two lie on one needle: a decrease.",
    "turned": "The group is turned round: what was at its left comes to the right.",
    "comb": "The cast-on comb that hangs in the edge of the knitting.",
    "weights": "The weights that keep the knitting down at the needles.",
    "edge": "The place where waste yarn ends and your own yarn begins.",
    "slit": "A row of waste yarn inside the knitting; taken out, it leaves loops below and "
            "above.",
    "respects": "Whether the carriage leaves needles in hold alone.",
    "hung": "Whether the comb or the weights hang in the knitting.",
    "threaded": "Whether a yarn is in the feeder.",
    "counter": "The row counter, which counts every pass of the carriage.",
    "from": "The side where the carriage should stand before it begins.",
    # ---- counting
    "rows": "Passes of the carriage. 'rows(12 cm)' is how many rows that is by the gauge.",
    "row": "A pass of the carriage from one side to the other.",
    "rounds": "Rounds of a tube; each is two passes of the carriage, one for each bed.",
    "round": "A round of a tube: two passes of the carriage, one for each bed.",
    "times": "How many times over.",
    "time": "How many times over.",
    "until": "It ends as soon as this is so.",
    "nearest": "Rounded to the nearest such number, up or down.",
    "up": "Rounded up to the next such number.",
    "down": "Rounded down to such a number.",
    "whole": "Rounded to a whole number.",
    "even": "Rounded to an even number: 2, 4, 6 …",
    "odd": "Rounded to an odd number: 1, 3, 5 …",
    "multiple": "Rounded to a number that can be divided by the one after 'of'.",
    "plus": "Adds. After it a percentage may stand.",
    "less": "Takes away. After it a percentage may stand: 'less 10%'. In 'is less than' it "
            "compares.",
    "is": "Compares two values, or a choice with one of its words.",
    "more": "Compares: the first value is larger than the second.",
    "least": "Compares: the first value is as large as the second or larger.",
    "most": "Compares: the first value is as large as the second or smaller.",
    "than": "Compares two values.",
    "not": "The contrary: it must not be so.",
    "and": "Both must be so; between needles: these and those too.",
    "or": "At least one of the two must be so.",
    "size": "The size that is being knitted; in 'stitch size' the number on the dial.",
    # ---- what is measured
    "girth": "The way round the finished knitting.",
    "length": "The length of the section; 'foot length' is that of the whole foot.",
    "foot": "The foot of the finished sock, from heel to toe.",
    "leg": "The leg of the finished sock, from its top edge to the heel.",
    "heel": "The heel of the finished sock.",
    "toe": "The toe of the finished sock.",
    "depth": "How deep the heel or toe is when it is finished.",
    "width": "How wide the heel stays at its narrowest, as a share of its stitches.",
    "over": "The needles, or the rows, that it reaches over.",
    "first": "The rows that were knitted first, from the cast-on edge.",
    "last": "The rows that were knitted last, up to the stitches on the needles.",
    "within": "How far off it may be.",
    "measured": "How far the swatch was relaxed when it was measured.",
    "dry": "The swatch was measured as it came off the machine, not washed.",
    "wet": "The swatch was measured while it was wet.",
    "washed": "The swatch was washed and had rested when it was measured.",
    "stretches": "How wide the fabric can be pulled, in per cent of its width lying flat.",
    "per": "The length, or the weight of yarn, over which the numbers before it were taken.",
    "as": "What the yarn is for, or the name under which stitches are put aside.",
    "waste": "Yarn that is taken out again: smooth and in another colour.",
    "ravel": "'ravel cord' is a strong smooth thread that is pulled out to part two pieces.",
    "cord": "'ravel cord' is a strong smooth thread that is pulled out to part two pieces.",
    "tex": "How fine the yarn is: the weight of 1000 m in grams.",
    "nm": "The metric count of the yarn, as on cones: 28/2 is two plies of number 28.",
    "ne": "The cotton count of the yarn, as on cones.",
    "worsted": "The worsted count of the yarn, as on cones.",
    "count": "How fine the yarn is, by a count on its label.",
    "default": "The choice that is meant where nobody chooses.",
    "because": "The reason, in your own words; it is printed with the report.",
    "with": "The values that a technique takes.",
    "on": "The bed that is meant.",
    "by": "By how many needles, or in which steps.",
    "at": "The end of the bed that is meant.",
    "mm": "Millimetres.",
    "cm": "Centimetres.",
    "m": "Metres.",
    **dict.fromkeys(("inch", "inches"), "Inches of 25.4 mm."),
    "g": "Grams.",
}
"""Words within lines, in lower case; words that say nothing by themselves are not here."""

SMALL_WORDS: dict[str, str] = {
    "along": "With the yarn in the feeder, or beside an edge whose loops are picked up.",
    "sides": "The two side edges of a flat piece, which 'sew sides' joins by hand.",
    "for": "For whom or what: 'works for' the sizes of a range, rounds 'for a foot length'.",
    "has": "What a machine can do, in its profile; the same as 'needs' in a pattern.",
    "into": "Where needles go: 'into work'.",
    "knits": "In a machine profile: the way in which a bed knits in circular.",
    "license": "Another spelling of 'licence'.",
    "of": "Of which bed or needles: 'left 2 of front'.",
    "off": "'bind off' and 'scrap off' take stitches off the needles.",
    "the": "Says nothing by itself: 'front knits to the left'.",
    "to": "Where something goes, or the end of a range; before 'nearest' it rounds.",
    **dict.fromkeys(("ounce", "ounces", "oz"), "Ounces of 28.35 g."),
    **dict.fromkeys(("yard", "yards", "yd"), "Yards of 0.9144 m."),
}
"""Words that need no hint in an editor, since the line says it; for whoever asks."""

FUNCTIONS: dict[str, Statement] = {
    "stitches": Statement("stitches(length)", "How many stitches a length is, by the gauge."),
    "rows": Statement("rows(length)", "How many rows a length is, by the gauge."),
    "width": Statement("width(stitches)", "How wide so many stitches are, by the gauge."),
    "height": Statement("height(rows)", "How high so many rows are, by the gauge."),
    "number": Statement("number(value)", "The bare number of a count, to use stitches where rows "
                        "are meant."),
    "smaller": Statement("smaller(one, two)", "The smaller of two values."),
    "larger": Statement("larger(one, two)", "The larger of two values."),
    "count-on": Statement("count-on(bed)", "How many needles of a bed have stitches at this "
                          "moment."),
    "count-before": Statement("count-before(bed)", "How many stitches a bed had when the "
                              "technique was called in which this stands."),
    "count-working": Statement("count-working(bed)", "How many stitches are on needles in work "
                               "at this moment."),
    "count-held": Statement("count-held(bed)", "How many stitches are on needles in hold at this "
                            "moment."),
    "yarn-end": Statement("yarn-end(stitches, times)", "How long an end of yarn to leave: so many "
                          "times the width of the stitches, by the gauge, and a hand longer."),
}
