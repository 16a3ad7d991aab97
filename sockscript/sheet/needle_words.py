"""Sets of needles and conditions as a pattern says them."""

from __future__ import annotations

from typing import Any

from sockscript.sheet.figures import Figure, number_of

_ENDS = {"left": "at the left end", "right": "at the right end",
         "carriage side": "on the carriage side",
         "far side": "on the side away from the carriage"}
_ORDINALS = {"1": "1st", "2": "2nd", "3": "3rd"}


def bed_words(bed: str) -> str:
    """``the front bed``, ``both beds``."""
    return "both beds" if bed == "both" else f"the {bed} bed"


def needle_words(words: Any, bare: str) -> str:
    """A set of needles.  ``bare`` is said before a bed that stands alone."""
    _, bed, pieces = words
    if not pieces:
        return f"{bare} of {bed_words(bed)}"
    if len(pieces) == 1 and pieces[0][0] == "at-end":
        return _at_end(pieces[0], bed_words(bed))
    return f"{' and '.join(_piece(piece) for piece in pieces)} of {bed_words(bed)}"


def _at_end(piece: Any, bed: str) -> str:
    """``the outermost working needle on the carriage side of the front bed``."""
    _, end, count, reach = piece
    where = {"left": f"at the left end of {bed}", "right": f"at the right end of {bed}",
             "carriage side": f"on the carriage side of {bed}",
             "far side": f"at the end of {bed} away from the carriage"}[end]
    one = isinstance(count, Figure) and count.is_one
    noun = {"stitches": "outermost stitch", "needles": "outermost needle",
            "working": "outermost working needle", "held": "nearest held needle"}[reach]
    if one:
        return f"the {noun} {where}"
    return f"the {count} {noun}{'es' if noun.endswith('stitch') else 's'} {where}"


def _piece(piece: Any) -> str:
    head = piece[0]
    if head == "one":
        return f"needle {piece[1]}"
    if head == "range":
        return f"needles {piece[1]} to {piece[2]}"
    if head in ("all", "held", "empty"):
        return f"all {head} needles" if head != "all" else "all needles"
    if head == "centre":
        return f"the {number_of(piece[1], 'needle', 'needles')} at the centre"
    if head == "every":
        step = str(piece[1])
        start = str(piece[2])
        each = "every other" if step == "2" else f"every {ordinal(step)}"
        return f"{each} needle, beginning with the {ordinal(start)}, of {_piece(piece[3])}"
    _, end, count, reach = piece
    noun = {"stitches": "outermost stitches", "needles": "outermost needles",
            "working": "outermost working needles", "held": "nearest held needles"}[reach]
    return f"the {count} {noun} {_ENDS[end]}"


def ordinal(text: str) -> str:
    """``1`` to ``1st``."""
    return _ORDINALS.get(text, f"{text}th")


def condition_clause(words: Any, falling: bool) -> str:
    """What stands after ``until``: ``10 stitches are left in work on the front bed``."""
    head = words[0]
    if head == "count":
        _, count, where, end, bed = words
        one = isinstance(count, Figure) and count.is_one
        text = f"{number_of(count, 'stitch', 'stitches')} {'is' if one else 'are'}"
        text += " left" if falling and where != "hold" else ""
        text += {"work": " in work", "hold": " in hold"}.get(where, "")
        text += f" {_ENDS[end]}" if end else ""
        return text + (f" on {bed_words(bed)}" if bed else "")
    if head == "counter":
        return f"the row counter shows {words[1]}"
    if head == "carriage":
        return f"the carriage is at the {words[1]}"
    if head == "tube":
        return f"{words[1]} stitches are on each bed"
    if head == "equal":
        return "both beds have the same number of stitches"
    if head == "hung":
        return "a yarn is threaded" if words[1] == "yarn" else f"the {words[1]} hang"
    if head in ("and", "or"):
        return f" {head} ".join(condition_clause(part, falling) for part in words[1:])
    if head == "not":
        return f"it is no longer so that {condition_clause(words[1], falling)}"
    if head == "size":
        return "the size is " + " or ".join(words[1:])
    how = {"equal": "is", "unequal": "is not", "more": "is more than", "less_than": "is less than",
           "at_least": "is at least", "at_most": "is at most"}[words[2]]
    return f"{words[1]} {how} {words[3]}"
