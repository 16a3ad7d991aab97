"""What words and functions of the language mean at the machine, a short sentence or two for each.

What whole lines mean stands in ``tree.line_kinds``.
"""

from __future__ import annotations

from typing import NamedTuple


class FunctionHelp(NamedTuple):
    """A function, what it takes, and what it works out."""

    name: str
    takes: tuple[str, ...]
    meaning: str

    @property
    def words(self) -> str:
        """How it is written: ``smaller(one, two)``."""
        return f"{self.name}({', '.join(self.takes)})"


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

FUNCTION_HELP = {told.name: told for told in (
    FunctionHelp("stitches", ("length",),
                 "How many stitches a length is, by the gauge."),
    FunctionHelp("rows", ("length",),
                 "How many rows a length is, by the gauge."),
    FunctionHelp("width", ("stitches",),
                 "How wide so many stitches are, by the gauge."),
    FunctionHelp("height", ("rows",),
                 "How high so many rows are, by the gauge."),
    FunctionHelp("number", ("value",),
                 "The bare number of a count, to use stitches where rows are meant."),
    FunctionHelp("smaller", ("one", "two"),
                 "The smaller of two values."),
    FunctionHelp("larger", ("one", "two"),
                 "The larger of two values."),
    FunctionHelp("count-on", ("bed",),
                 "How many needles of a bed have stitches at this moment."),
    FunctionHelp("count-before", ("bed",),
                 "How many stitches a bed had when the technique was called in which this stands."),
    FunctionHelp("count-working", ("bed",),
                 "How many stitches are on needles in work at this moment."),
    FunctionHelp("count-held", ("bed",),
                 "How many stitches are on needles in hold at this moment."),
    FunctionHelp("yarn-end", ("stitches", "times"),
                 "How long an end of yarn to leave: so many times the width of the stitches, by "
                 "the gauge, and a hand longer."),
)}
"""By their names."""
