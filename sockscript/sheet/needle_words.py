"""Sets of needles and conditions as a pattern says them."""

from __future__ import annotations

from typing import assert_never

from sockscript.expand import described as de
from sockscript.expand.described import ConditionSaid, NeedlePiece, NeedleSet
from sockscript.findings.condition_words import COUNT_WORDS, WHERE_WORDS
from sockscript.numbers.figures import number_of

_ENDS = {"left": "at the left end", "right": "at the right end",
         "carriage side": "on the carriage side",
         "far side": "at the end opposite the carriage"}
_OUTER = {"stitches": ("outermost stitch", "outermost stitches"),
          "needles": ("outermost needle", "outermost needles"),
          "working": ("outermost working needle", "outermost working needles"),
          "held": ("nearest held needle", "nearest held needles")}
_ORDINALS = {"1": "1st", "2": "2nd", "3": "3rd"}
_HOW = {"equal": "is", "unequal": "is not", "more": "is more than", "less_than": "is less than",
        "at_least": "is at least", "at_most": "is at most", "multiple": "is a multiple of"}
_MANY = {**COUNT_WORDS, "unequal": "other than "}


def bed_words(bed: str) -> str:
    """``the front bed``, ``both beds``."""
    return "both beds" if bed == "both" else f"the {bed} bed"


def needle_words(needles: NeedleSet, bare: str) -> str:
    """A set of needles.  ``bare`` is said before a bed that stands alone."""
    bed = "each bed" if needles.bed == "both" else bed_words(needles.bed)
    match needles.pieces:
        case ():
            return f"{bare} of {bed_words(needles.bed)}"
        case (de.OuterNeedles() as outer,):
            return _alone_at_end(outer, bed)
    return f"{' and '.join(map(_piece, needles.pieces))} of {bed}"


def _alone_at_end(piece: de.OuterNeedles, bed: str) -> str:
    """``the outermost working needle on the carriage side of the front bed``."""
    where = {"left": f"at the left end of {bed}", "right": f"at the right end of {bed}",
             "carriage side": f"on the carriage side of {bed}",
             "far side": f"at the end of {bed} opposite the carriage"}[piece.end]
    return f"{_outer(piece)} {where}"


def _outer(piece: de.OuterNeedles) -> str:
    one, many = _OUTER[piece.reach]
    return f"the {one}" if piece.count.is_one else f"the {piece.count} {many}"


def _piece(piece: NeedlePiece) -> str:
    match piece:
        case de.OneNeedle(name=name):
            return f"needle {name}"
        case de.NeedleRow(first=first, last=last):
            return f"needles {first} to {last}"
        case de.NeedlesThat(are="all"):
            return "all needles"
        case de.NeedlesThat(are=are):
            return f"all {are} needles"
        case de.CentreNeedles(count=count):
            return f"the {number_of(count, 'needle', 'needles')} at the centre"
        case de.EveryNth(step=step, start=start, piece=inner):
            each = "every other" if str(step) == "2" else f"every {ordinal(str(step))}"
            return (f"{each} needle, beginning with the {ordinal(str(start))}, of "
                    f"{_piece(inner)}")
        case de.OuterNeedles(end=end):
            return f"{_outer(piece)} {_ENDS[end]}"
        case _:
            assert_never(piece)


def ordinal(text: str) -> str:
    """``1`` to ``1st``."""
    return _ORDINALS.get(text, f"{text}th")


def told_by_the_machine(condition: ConditionSaid) -> bool:
    """Whether a reader sees on the machine that it is so: a value of a name is not to be seen."""
    match condition:
        case de.Compared(where=where):
            return bool(where)
        case de.Several(parts=parts):
            return all(map(told_by_the_machine, parts))
        case de.NotSo(part=part):
            return told_by_the_machine(part)
        case de.SizeIn():
            return False
        case _:
            return True


def condition_clause(condition: ConditionSaid, falling: bool) -> str:
    """What stands after ``until``: ``10 stitches are left in work on the front bed``."""
    match condition:
        case de.Counted(count=count, where=where, end=end, bed=bed):
            text = f"{number_of(count, 'stitch', 'stitches')} {'is' if count.is_one else 'are'}"
            text += " left" if falling and where != "hold" else ""
            text += WHERE_WORDS[where]
            text += f" {_ENDS[end]}" if end else ""
            return text + (f" on {bed_words(bed)}" if bed else "")
        case de.CounterShows(value=value):
            return f"the row counter shows {value}"
        case de.CarriageStands(side=side):
            return f"the carriage is at the {side}"
        case de.TubeHas(count=count):
            return f"{count} stitches are on each bed"
        case de.SetTo(bed=bed, action=action):
            return f"{bed_words(bed)} {'are' if bed == 'both' else 'is'} set to {action}"
        case de.AtPitch(pitch=pitch):
            return f"the beds are at {pitch} pitch"
        case de.HoldRespected(bed=bed):
            return f"hold is respected on {bed_words(bed)}"
        case de.BedsAlike():
            return "both beds have the same number of stitches"
        case de.Hangs(what="yarn"):
            return "a yarn is threaded"
        case de.Hangs(what=what):
            return f"the {what} {'hangs' if what == 'comb' else 'hang'}"
        case de.Several(joined=joined, parts=parts):
            return f" {joined} ".join(condition_clause(part, falling) for part in parts)
        case de.NotSo(part=part):
            return f"it is no longer so that {condition_clause(part, falling)}"
        case de.SizeIn(names=names):
            return "the size is " + " or ".join(names)
        case de.Compared(how=how, right=right, where=where, bed=bed) if where:
            left_over = " left" if falling and where != "hold" else ""
            on = f" on {bed_words(bed)}" if bed else ""
            return f"{_MANY[how]}{right} stitches are{left_over}{WHERE_WORDS[where]}{on}"
        case de.Compared(left=left, how=how, right=right):
            return f"{left} {_HOW[how]} {right}"
        case _:
            assert_never(condition)
