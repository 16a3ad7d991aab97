"""What a hand writes by habit: the order of words on paper, dashes, quotation marks of other lands,
and lines that say two things at once."""

from __future__ import annotations

import re
from itertools import starmap

from sockscript.tree.slip_form import PlainSlip

_BED = r"(?:the\s+)?(?P<bed>front|back|both)(?:\s+beds?)?"
_HANDLE = r"(?:put|push|pull|bring|move|place)"
_POSITION = r"(?:in|into|to|on)\s+(?:the\s+)?"
_ORDER = "The line begins with what is done."
_NUMBERED = "So it is said at the machine; in a script it is said in fewer words."
_ROWS_ONLY = "Here stand only the rows."

HABIT_SLIPS = tuple(starmap(PlainSlip, (
    # ---- signs
    (r"(?P<here>\b(?P<a>[LR]\d++)\s*[-–−—]\s*(?P<b>[LR]\d++))",
     "From one needle to another is said with 'to'.", "Write:  {a} to {b}", "{a} to {b}"),
    (r"(?P<here>\s*[–−—]\s*)", "A minus is the short sign on the keyboard.", "Write -.", " - "),
    (r"(?P<here>\b(?P<a>[a-z]++)_(?P<b>[a-z][\w-]*+))", "Words of a name are joined by hyphens.",
     "Write:  {a}-{b}", "{a}-{b}"),
    (r"^\s*let\b.*(?P<here>\brounded\s+(?P<way>up|down)(?:\s+to\s+whole)?)\s*$",
     "A rounding names what it rounds to.", "Write:  {way} to whole", "{way} to whole"),
    (r"^\s*let\b.*(?P<here>\brounded)\s*$", "A rounding names what it rounds to.",
     "Write:  to nearest", "to nearest"),
    (r"^\s*let\b.*(?P<here>\bhalf\s+of\s+(?:the\s+)?(?P<what>[a-z][\w-]*+|\d++))\s*$",
     "A half is worked out.", "Write:  {what} / 2", "{what} / 2"),

    # ---- the order of words
    (r"^\s*(?P<here>(?P<count>\d++|[a-z][\w-]*+)\s+(?P<unit>rows?|rounds?)\s+knit)\s*$", _ORDER,
     "Write:  knit {count} {unit}", "knit {count} {unit}"),
    (rf"^\s*(?P<here>{_BED}\s+(?:to|at|on)\s+(?P<way>knit|rest|tuck|circular))\s*$", _ORDER,
     "Write:  set {bed} to {way}", "set {bed} to {way}"),
    (rf"^\s*(?P<here>(?P<way>rest|tuck)\s+{_BED})\s*$", _ORDER, "Write:  set {bed} to {way}",
     "set {bed} to {way}"),
    (rf"^\s*(?P<here>{_BED}\s+(?P<what>cast\s+on|bind\s+off))\s*$", _ORDER,
     "Write:  {what} {bed}", "{what} {bed}"),
    (r"^\s*(?P<here>(?P<name>[a-z][\w-]*+)\s+(?P<what>thread|cut))\s*$", _ORDER,
     "Write:  {what} {name}", "{what} {name}"),
    (rf"^\s*(?P<here>(?P<count>\d++)\s+needles?\b.*?\binto\s+work\s+(?:on|of)\s+{_BED})\s*$",
     _ORDER, "Write:  bring centre {count} of {bed} into work",
     "bring centre {count} of {bed} into work"),
    (r"^\s*(?P<here>(?P<count>\d++)\s+needles?\b.*?\binto\s+work)\s*$", _ORDER,
     "Write:  bring centre {count} of front into work"),

    # ---- needles, with the numbers that she wrote
    (rf"^\s*(?P<here>{_HANDLE}\s+(?P<which>cent(?:re|er)\s+\d++\s+of\s+(?:front|back|both))\s+"
     rf"{_POSITION}work\w*(?:\s+position)?)\s*$", _NUMBERED, "Write:  bring {which} into work",
     "bring {which} into work"),
    (rf"^\s*(?P<here>{_HANDLE}\s+(?:the\s+)?(?P<count>\d++)\s+(?:outer\w*\s+)?"
     rf"(?:needles?|stitch(?:es)?)\s+(?:at|on)\s+(?:the\s+)?(?P<end>left|right)"
     rf"(?:\s+(?:end|side|edge))?\s+of\s+{_BED}\s+{_POSITION}hold\w*)", _NUMBERED,
     "Write:  hold {end} {count} working of {bed}", "hold {end} {count} working of {bed}"),
    (rf"^\s*(?P<here>{_HANDLE}\s+(?:the\s+)?(?P<count>\d++)\s+(?:outer\w*\s+)?"
     rf"(?:needles?|stitch(?:es)?)\s+(?:at|on)\s+(?:the\s+)?(?P<end>left|right)"
     rf"(?:\s+(?:end|side|edge))?\s+{_POSITION}hold\w*)", _NUMBERED,
     "Write:  hold {end} {count} working of front"),
    (r"^\s*hold\s+(?P<here>(?P<count>\d++)\s+(?:needles?|stitch(?:es)?)\s+(?:opposite|away|furthest|"
     r"(?:at|on)\s+(?:the\s+)?(?:far|other))\b.*)", "Say at which end the needles are.",
     "Write:  hold far side {count} working of front"),
    (r"^\s*hold\s+(?P<here>(?P<count>\d++)\s+(?:needles?|stitch(?:es)?)\s+(?:nearest|next|(?:at|on)\s+"
     r"(?:the\s+)?carriage)\b.*)", "Say at which end the needles are.",
     "Write:  hold carriage side {count} working of front"),
    (r"^\s*wrap\s+(?P<here>(?:the\s+)?(?:needle|stitch)\s+(?P<which>[LR]\d++))\s*$",
     "Say on which bed the needle is.", "Write:  wrap {which} of front"),
    (r"^\s*wrap\s+(?P<here>(?:the\s+)?(?:needle|stitch)\s+)(?=[LR]\d)", "The name of the needle is "
     "enough.", "Leave it out.", ""),
    (r"^\s*(?P<here>(?:dec(?:rease)?s?|narrow)\b(?!.*\bevery\s+(?:\d|other|second)).*?\buntil\s+(?:\w+\s+){0,3}?(?P<count>\d++)\b.*)",
     "Decreasing is a technique.", "Write:  repeat until {count} stitches on front  and, indented "
     "under it,  do decrease-once  and  knit 2 rounds"),

    # ---- weights
    (r"^\s*(?P<here>hang\s+(?:(?:the|some|more|all|small|heavy|two|three|four|six|\d++)\s+)+weights?)"
     r"\s*$", "How many weights, and which, is told in words.", "Write:  hang weights",
     "hang weights"),
    (r"^\s*(?P<here>(?:lower|raise|shift|rehang|re-hang)\s+(?:the\s+)?(?:claw\s+)?weights?)\s*$",
     "Weights are moved.", "Write:  move weights", "move weights"),
    (r"^\s*(?P<here>(?:claw\s+)?weights?)\s*$", _ORDER,
     "Write:  hang weights,  move weights  or  remove weights"),

    # ---- two things in one line
    (r"^\s*(?P<here>knit\s+(?P<what>[\w-]++\s+(?:rows?|rounds?)),?\s+(?P<count>\d++)\s*(?:x|×|times))\s*$",
     "What is done again begins with 'repeat'.",
     "Write:  repeat {count} times  and, indented under it,  knit {what}"),
    (r"^\s*knit\s+\S+\s+(?:rows?|rounds?)(?P<here>,?\s+(?:at|with|in|on)\s+(?:the\s+)?(?:stitch\s+size|"
     r"tension|size|dial|mt|t)\s*(?P<size>\d[\d./, ½¼¾⅓⅔]*+))$",
     "The dial is set in a line of its own.",
     "Write  stitch size {size}  in a line before it, and leave it out here.", ""),
    (r"^\s*knit\s+\S+\s+(?P<here>(?:more|further|extra|plain|straight|other)\s+)(?=rows?\b|rounds?\b)",
     _ROWS_ONLY, "Leave it out.", ""),
    (r"^\s*knit\s+[\w-]++\s*(?P<here>rnds?|rds?)\b", "'rounds' is written out.", "Write:  rounds",
     " rounds"),
    (r"^\s*knit\s+(?P<here>rows?\s+\d++\s*(?:-|–|to)\s*\d++)\s*$",
     "Rows are counted from this line on.", "Write how many they are:  knit 20 rows"),
    (r"^\s*bind\s+off\b.*\b(?:front|back|both)(?P<here>\s+loosely)\s*$",
     "That it is done loosely stands in the printed step.", "Leave it out.", ""),

    # ---- settings
    (rf"^\s*(?P<here>set\s+{_BED}\s+to\s+hold(?:ing)?)\s*$", "A bed respects hold, or hold is "
     "cancelled on it.", "Write:  respect hold on {bed}", "respect hold on {bed}"),
    (rf"^\s*(?P<here>(?:set\s+)?hold\s+on\s+{_BED})\s*$", "A bed respects hold, or hold is "
     "cancelled on it.", "Write:  respect hold on {bed}", "respect hold on {bed}"),
    (r"^\s*(?P<here>set\s+(?:the\s+)?pitch\s+to\s+(?P<pitch>half|full))\b", "Which pitch comes "
     "first.", "Write:  {pitch} pitch", "{pitch} pitch"),

    # ---- techniques
    (r"^\s*do\s+(?P<name>[a-z][\w-]*+)(?:\s+on\s+\w++)?\s+(?P<here>(?P<value>(?!with\b|on\b)[a-z]"
     r"[\w-]*+)\s+(?P<count>\d++)\b.*)$", "The values of a technique come after 'with', each with "
     "an equals sign.", "Write:  do {name} with {value} = {count}"),
    (r"^\s*do\s+(?P<here>(?P<words>(?!with\b|on\b)[a-z][\w-]*+(?:\s+(?!with\b|on\b)[a-z][\w-]*+)++"
     r"\s+on))(?=\s+(?:with|on)\b|\s*$)",
     "The name of a technique is one word, joined by hyphens.", "Did you mean '{joined}'?",
     "{joined}"),
)))
"""Told before all others: they are narrow."""

_FOREIGN = re.compile("„(?P<low>[^„“”\"]*)[“”\"]|»(?P<out>[^»«\"]*)«|«(?P<in>[^»«\"]*)»|"
                      "‚(?P<one>[^‚‘’\"]*)[‘’]|‘(?P<two>[^‘’\"]*)’|(?<!\\w)'(?P<three>[^'\"]*)'(?!\\w)")
"""Words between quotation marks as other lands and keyboards have them."""


def in_plain_quotes(bare: str, text: str) -> tuple[int, int, str] | None:
    """Where words stand between other quotation marks (from the first to the last of them), and
    what is written in their place; ``bare``: the text with what is quoted well blotted out."""
    found = list(_FOREIGN.finditer(bare))
    if not found:
        return None
    first, last = found[0].start(), found[-1].end()
    parts, done = [], first
    for match in found:
        words = match[match.lastgroup or 0]
        parts += [text[done:match.start()], f'"{words.strip()}"']
        done = match.end()
    return first, last, "".join(parts)
