"""The kinds of lines in a section, a technique or a block of one, the most usual first."""

from __future__ import annotations

from sockscript.tree.line_kinds.kind import LineKind

INSTRUCTIONS: dict[str, LineKind] = {
    "knit": LineKind(
        "knit",
        "Knits rows, or rounds of a tube. A round is two passes of the carriage, one for each bed.",
        ("knit <2> rows", "knit <2> rounds", "knit <1> row on <front>")),
    "knit_for": LineKind(
        "knit … for",
        "Knits as many rows or rounds as the finished foot or leg needs to be so long, with heel "
        "and toe as they will come out. The steps print the number.",
        ("knit rounds for a foot length of <24 cm>", "knit even rows for a leg length of <20 cm>")),
    "do": LineKind(
        "do",
        "Knits a technique here, with the values that you give it.",
        ("do <wedge-toe> with <leave> = <8>",)),
    "expect": LineKind(
        "expect",
        "What you are sure of here. The check tells you when it is otherwise, and since which "
        "line.",
        ("expect <72> stitches", "expect tube of <36> stitches a bed")),
    "begins_with": LineKind(
        "needs",
        "What must be so when this technique is called. The check tells it at the line that calls "
        "it.",
        ("needs <0 stitches on back>",)),
    "leaves": LineKind(
        "leaves",
        "What is so when this technique is done. The check looks at it after every call.",
        ("leaves <count-before(front) stitches on front>",)),
    "step": LineKind(
        "step",
        "Words that are printed for the knitter. What is indented under them is done and checked "
        "but not printed.",
        ('step "<Turn the work.>"\n    <>',)),
    "more_words": LineKind(
        "",
        "The words of the line above go on."),
    "note": LineKind(
        "note",
        "A remark that is printed as a paragraph.",
        ('note "<See that no stitch is split.>"',),
        at_margin=('note "<Read every section through before you begin.>"',)),
    "caution": LineKind(
        "caution",
        "A warning that is printed where it stands.",
        ('caution "<Mind the latch hooks.>"',),
        at_margin=('caution "<Mind the latch hooks.>"',)),
    "repeat_times": LineKind(
        "repeat … times",
        "Knits the lines indented under it so many times over.",
        ("repeat <4> times\n    <>",)),
    "repeat_until": LineKind(
        "repeat until",
        "Knits the lines indented under it over and over, until this is so. It looks before each "
        "time.",
        ("repeat until <8> stitches on <front>\n    <>",)),
    "when": LineKind(
        "when",
        "The lines indented under it are knitted only if this is so.",
        ("when size is <size:Small>\n    <>",)),
    "otherwise": LineKind(
        "otherwise",
        "The lines indented under it are knitted if what stands after 'when' is not so.",
        ("otherwise\n    <>",)),
    "let": LineKind(
        "let",
        "Gives a number a name. It is worked out anew for every size.",
        ("let <name> = <count-on(front) / 2>",),
        at_margin=("let <name> = <stitches(20 cm) to nearest even>",)),
    "target": LineKind(
        "target",
        "What the section, foot, heel or toe should measure. The check warns when it comes out "
        "otherwise.",
        ("target girth <20 cm> within <5> mm", "target length <10 cm>")),
    "allow": LineKind(
        "allow",
        "A finding of the check that is meant to stay, and why. It holds for the line that "
        "follows, or at the left margin for the whole script.",
        ('allow <weights-not-moved> because "<the piece is small>"',),
        at_margin=('allow <weights-not-moved> because "<the piece is small>"',)),
    "bring": LineKind(
        "bring … into work",
        "Pushes needles up to working position. An empty one catches the yarn at the next row.",
        ("bring <centre 36 of front> into work",
         "bring <centre 36 of front> into work to cast on")),
    "take_out": LineKind(
        "take … out of work",
        "Pushes empty needles back so far that they do not knit. A needle that still has a stitch "
        "would drop it.",
        ("take <empty of front> out of work",)),
    "hold": LineKind(
        "hold",
        "Pulls needles right out to holding position. They keep their stitches and do not knit as "
        "long as hold is respected.",
        ("hold <left 1 working of front>",)),
    "return_to_work": LineKind(
        "return … to work",
        "Pushes needles in hold back to working position; they knit again in the next row.",
        ("return <left 1 held of front> to work",)),
    "return_to_upper": LineKind(
        "return … to upper work",
        "Pushes needles in hold back so far that they knit in the next row even while hold is "
        "respected.",
        ("return <left 1 held of front> to upper work",)),
    "set_bed": LineKind(
        "set",
        "Sets what the carriage does on a bed: knit, rest, tuck or circular.",
        ("set <front> to knit", "set <front> to rest", "set <both> to circular")),
    "set_needles": LineKind(
        "set … of",
        "Sets what some needles do where their bed knits; setting the whole bed afterwards undoes "
        "it.",
        ("set <every 2nd of all> of <front> to tuck",)),
    "respect_hold": LineKind(
        "respect hold",
        "From here on the carriage leaves needles in hold alone.",
        ("respect hold on <front>",)),
    "cancel_hold": LineKind(
        "cancel hold",
        "From here on the carriage knits needles in hold too.",
        ("cancel hold on <front>",)),
    "stitch_size": LineKind(
        "stitch size",
        "Sets the stitch-size dial. A smaller number is tighter.",
        ("stitch size <5>",)),
    "set_pitch": LineKind(
        "half pitch, full pitch",
        "How the needles of the two beds stand to each other: at half pitch between one another, "
        "at full pitch face to face. At full pitch facing needles must not knit in the same pass.",
        ("half pitch", "full pitch")),
    "rack": LineKind(
        "rack",
        "Moves one bed sideways past the other by so many needles.",
        ("rack to <1> right",)),
    "thread": LineKind(
        "thread",
        "Puts a yarn into the feeder, or two that are knitted together.",
        ("thread <yarn:main>", "thread <yarn:main> and <yarn:second>")),
    "thread_along": LineKind(
        "thread along",
        "Puts a second yarn into the feeder: both are knitted together, until one of them is cut "
        "by its name.",
        ("thread <yarn:second> along",)),
    "change": LineKind(
        "change to",
        "Takes up another yarn, with a colour changer or by hand; the one in the feeder waits at "
        "the edge, uncut.",
        ("change to <yarn:second>",)),
    "cut": LineKind(
        "cut",
        "Cuts the yarn in the feeder (both, if there are two and none is named); leave an end long "
        "enough to weave in.",
        ("cut",)),
    "move_carriage": LineKind(
        "move carriage",
        "Takes the carriage to an end of the bed without knitting, with no yarn in the feeder.",
        ("move carriage to <far side>",)),
    "row_counter": LineKind(
        "row counter",
        "Sets the row counter to a number. It counts every pass of the carriage.",
        ("row counter <0>",)),
    "transfer_to": LineKind(
        "transfer … to",
        "Hangs stitches on other needles, which must be empty.",
        ("transfer <back> to <front>",)),
    "transfer_onto": LineKind(
        "transfer … onto",
        "Hangs stitches on needles that have one already: a decrease, finished by the next row.",
        ("transfer <L1 of back> onto <L2 of back>",)),
    "fold": LineKind(
        "fold",
        "Turns a group at the end of a bed round and hangs it on the bed that faces it. First take "
        "the comb off and cut a yarn that is attached.",
        ("fold <right 18 stitches of back> onto <front>",)),
    "fashion": LineKind(
        "move … stitches",
        "Moves the outer stitches of a bed in or out as a group: a full-fashioned decrease or "
        "increase, some stitches from the edge.",
        ("move <3> stitches at <left> of <front> in by <1>",)),
    "wrap": LineKind(
        "wrap",
        "Lays the yarn round a held needle before the carriage turns, so that no hole is left.",
        ("wrap <carriage side 1 held of front>",)),
    "cast_on": LineKind(
        "cast on",
        "Casts on by hand on empty needles in work, with the yarn in the feeder.",
        ("cast on <centre 36 of front>",)),
    "bind_off": LineKind(
        "bind off",
        "Binds off the stitches of these needles with the yarn in the feeder.",
        ("bind off <front>",)),
    "scrap_off": LineKind(
        "scrap off",
        "Takes stitches off onto waste yarn and keeps them under a name, to be hung up again or "
        "grafted.",
        ("scrap off <front> as <toe>",)),
    "rehang": LineKind(
        "rehang",
        "Hangs stitches that were put aside under a name on needles again. See that none is split "
        "or crossed.",
        ("rehang <group:toe> to <centre 36 of front>",)),
    "graft": LineKind(
        "graft",
        "Joins the stitches of two beds, or of two names (scrapped off, or a marked edge), with a "
        "sewing needle.",
        ("graft <front> to <back>",)),
    "gather": LineKind(
        "gather",
        "Draws the yarn through these stitches and pulls them together.",
        ("gather <both>",)),
    "hang": LineKind(
        "hang",
        "Hangs the comb or the weights into the knitting. They are heavy and combs are sharp: hold "
        "them as the manual of your machine shows.",
        ("hang comb", "hang weights")),
    "move_weights": LineKind(
        "move weights",
        "Moves the weights up and under the needles that are knitting, so that no stitch climbs up "
        "and drops.",
        ("move weights",)),
    "remove": LineKind(
        "remove",
        "Takes the comb or the weights out of the knitting. Keep a hand under them, as the manual "
        "of your machine shows.",
        ("remove comb", "remove weights")),
    "drop": LineKind(
        "drop",
        "Lets stitches fall on purpose.",
        ("drop <L5 of front>",)),
    "latch_up": LineKind(
        "latch up",
        "Brings dropped stitches up again row by row with the latch tool. Mind the hook.",
        ("latch up <L5 of front>",)),
    "mark": LineKind(
        "mark",
        "Remembers under a name where waste yarn will come out later and leave open loops.",
        ("mark edge <start> on <front>", "mark slit <heel> on <front>")),
    "knit_in": LineKind(
        "knit in",
        "Knits a length of waste yarn over some needles by hand: the place of an opening that is "
        "taken up later.",
        ("knit in <yarn:waste> over <left 8 of back> as <thumb>",)),
    "pick_up": LineKind(
        "pick up along",
        "Pulls loops out of a side edge, spread evenly over its last rows, and hangs one on each "
        "of the needles named.",
        ("pick up along <24> rows at <left> of <front> to <empty of front>",)),
    "sew_down": LineKind(
        "sew down",
        "Folds the first or the last rows to the inside and sews them down: they do not count for "
        "the length.",
        ("sew down first <10> rows", "sew down last <10> rows")),
    "sew_edge_down": LineKind(
        "sew down",
        "Folds so many rows to the inside and sews the open loops of a marked edge down there.",
        ("sew down <group:start> over <10> rows",)),
    "sew_sides": LineKind(
        "sew sides",
        "The two side edges of the piece are sewn together; the finishing tells how many rows.",
        ("sew sides",)),
    "fill": LineKind(
        "fill",
        "Fills empty needles with a loop of the stitch beside them, so that an increase leaves no "
        "hole.",
        ("fill <empty of front> from <left>",)),
}
