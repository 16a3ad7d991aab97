"""Slips of the pen that have a plain sentence of their own."""

from __future__ import annotations

from itertools import starmap
from typing import NamedTuple


class PlainSlip(NamedTuple):
    """A slip that a pattern tells; ``here`` is the place marked.

    ``instead``: what is written in that place if that surely mends it; empty: nothing.  Like the
    sentences it may name groups of the pattern.
    """

    pattern: str
    message: str
    hint: str
    instead: str | None = None


PLAIN_SLIPS = tuple(starmap(PlainSlip, (
    (r"^\s*(?P<word>pattern|author|licence|license|section|step|note|caution)\s+(?P<here>[^_\s].*)$",
     "The words after '{word}' stand between quotation marks.", 'Write:  {word} "{here}"'),
    (r"(?P<here>\bminus\b)", "'minus' does not fit here.", "Write - or less.", "-"),
    (r"(?P<here>\bdivided\s+by\b)", "'divided by' does not fit here.", "Write /.", "/"),
    (r"(?P<here>\bmultiplied\s+by\b)", "'multiplied by' does not fit here.", "Write *.", "*"),
    (r"(?P<way>nearest|up\s+to|down\s+to)\s+(?P<here>\d+)\s*$",
     "A rounding names what it rounds to.", "Write:  {way} multiple of {here}",
     "multiple of {here}"),
    (r"^\s*do\s+(?P<here>(?P<words>(?!with\b|on\b)[a-z][\w-]*"
     r"(?:\s+(?!with\b|on\b|(?:w|wi|wit|o)\s*$)[a-z][\w-]*)+))(?:\s+(?:with|on)\b|\s*$)",
     "The name of a technique is one word, joined by hyphens.", "Did you mean '{joined}'?",
     "{joined}"),
    (r"^\s*do\s+[a-z][\w-]*\s+with\b.*(?P<here>\bon\s+\w+)\s*$",
     "'{here}' stands before the values.", "Write:  do … {here} with …"),
    (r"^\s*do\s+[a-z][\w-]*(?:\s+on\s+\w+)?\s+(?P<here>(?!with\b|on\b)[a-z][\w-]*\s*=)",
     "The values of a technique come after 'with'.", "Write 'with' before {here}"),
    (r"^\s*graft\s+\w+\s+(?P<here>and|with)\b", "One side is grafted to the other.",
     "Write 'to':  graft front to back", "to"),
    (r"^\s*knit\s+(?P<here>(?:\w+\s+)?(?P<unit>st|sts|stitches|stitch))\s*$",
     "The carriage knits rows or rounds, not single stitches.", "Write how many rows: knit 2 rows"),
    (r"^\s*knit\s+(?P<here>(?P<unit>rows?|rounds?)\s+(?P<count>\d+))\s*$",
     "The number comes before what it counts.", "Write:  knit {count} {unit}", "{count} {unit}"),
    (r"(?P<here>\bsts?\b)", "Stitches are written out.", "Write 'stitches'.", " stitches "),
    (r"\d\s*(?P<here>centimet\w+|cms)\b", "Units are written short.", "Write 'cm'.", " cm "),
    (r"\d\s*(?P<here>millimet\w+|mms)\b", "Units are written short.", "Write 'mm'.", " mm "),
    (r"^\s*do\s+[a-z][\w-]*\s*(?P<here>\()", "No brackets stand round the values of a technique.",
     "Write:  do wedge-toe with leave = 8"),
    (r"^\s*do\b(?:(?!\bwith\b).)*+with\b(?:[^,]*+,)*?\s*+(?P<name>[a-z][\w-]*+)\s++"
     r"(?P<here>\d[\w.]*+)",
     "A value is given with an equals sign.", "Write:  {name} = {here}", "= {here}"),
    (r"(?P<here>->|=>|→)", "An arrow is no word of the language.", "Write 'to'.", " to "),
    (r"^\s*set\s+\w+\s+(?P<here>knit|rest|tuck|circular)\b", "A small word is missing.",
     "Write 'to' before it:  to {here}", "to {here}"),
    (r"^\s*move\s+carriage\s+(?P<here>left|right)\b", "A small word is missing.",
     "Write 'to' before it:  move carriage to {here}", "to {here}"),
    (r"[a-z)](?P<here>[.;!])\s*$", "No full stop stands at the end of a line.", "Leave it out.",
     ""),
    (r"^\s*cast\s+on\s+(?P<here>\d+)\b", "Say on which needles the stitches are cast.",
     "Write:  cast on centre {here} of front"),
    (r"^\s*(?P<here>decrease)\b", "Decreasing is a technique.",
     "Write:  do decrease-once with beds = both"),
    (r"^\s*(?P<here>increase)\b", "Increasing is a technique.", "Write:  do increase-once"),
    (r"\ball\s+(?P<here>stitches|needles)\b", "'all' needs no '{here}' after it.",
     "Write:  all of front"),
    (r"\b(?P<here>the)\b", "Small words such as 'the' are left out.", "Leave it out.", ""),
    (r"^\s*(?P<here>turn)\b",
     "The work is not turned on a machine: the carriage goes back by itself.",
     "Leave the line out, or use a technique such as turn-to-tube."),
    (r"(?P<here>[‘’'])", "Words stand between double quotation marks.", 'Write:  "like this"'),
    (r"^\s*(?P<what>row\s+counter|stitch\s+size|knit|repeat)\s*(?P<here>=)",
     "No equals sign stands here.", "Leave it out.", ""),
    (r"^\s*(?P<verb>thread|cut)\s+(?P<here>yarn)\s+(?P<name>[a-z][\w-]*)",
     "The name of the yarn is enough.", "Write:  {verb} {name}", ""),
    (r"^\s*(?P<verb>hold|wrap)\s+(?P<here>\d+)\b", "Say at which end the needles are.",
     "Write:  {verb} left {here} of front"),
    (r"^\s*return\s+(?P<here>\d+)\b", "Say at which end the needles are.",
     "Write:  return left {here} held of front to work"),
    (r"^\s*(?P<here>tension|dial)\b", "The dial is set with 'stitch size'.",
     "Write:  stitch size 5"),
    (r"^\s*(?P<here>if)\b", "What depends on something begins with 'when'.",
     "Write:  when size is Small"),
    (r"^\s*(?P<here>else)\b", "The other case begins with 'otherwise'.", "Write:  otherwise"),
    (r"^\s*(?P<here>end\w*+)\s*+\w*+$", "No line closes a block: its indentation does.",
     "Leave the line out."),
    (r"^\s*(?P<here>for|while|loop)\b", "What is done again begins with 'repeat'.",
     "Write:  repeat 4 times"),
    (r"^\s*let\s+(?P<here>(?P<words>[a-z][\w-]*(?:\s+(?!is\b|to\b|be\b)[a-z][\w-]*)+))\s*=",
     "A name is one word, joined by hyphens.", "Did you mean '{joined}'?", "{joined}"),
    (r"^\s*let\s+(?P<here>\d\w*)", "A name begins with a letter.",
     "Put a word first, for example row-{here}."),
    (r"^\s*graft\s+(?P<here>\d+)\b", "Say what is grafted to what.",
     "Write:  graft front to back"),
)))
