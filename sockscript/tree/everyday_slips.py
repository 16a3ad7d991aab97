"""What is said every day at a machine, and is said otherwise in a script."""

from __future__ import annotations

from itertools import starmap

from sockscript.tree.slip_form import PlainSlip

_DECREASING = "Decreasing is a technique."
_DECREASE = r"(?:dec(?:rease)?s?|narrow)\b.{0,60}?\bevery"
_TIMES = r".{0,40}?\b(?P<times>\d++)\s*(?:x|×|times)"
_UNTIL = "; how many times over is worked out, for example  times-over = (36 - 12) / 4."
_COUNTER = "Rows are counted from this line on."
_ENDS = r"(?:\s+(?:at|on)\s+(?:the\s+)?)?"
_POSITION = "So it is said at the machine; in a script it is said in fewer words."
_ROWS_ALONE = "How the beds are set stands in lines of its own; here stand only the rows."

EVERYDAY_SLIPS = tuple(starmap(PlainSlip, (
    # ---- shaping
    (rf"^\s*(?P<here>{_DECREASE}\s+(?P<each>\d++)(?:st|nd|rd|th)?\s+rounds?{_TIMES}.*)",
     _DECREASING, "Write:  do decrease-every with each = {each}, times-over = {times}",
     "do decrease-every with each = {each}, times-over = {times}"),
    (rf"^\s*(?P<here>{_DECREASE}\s+(?:other|second)\s+rounds?{_TIMES}.*)", _DECREASING,
     "Write:  do decrease-every with each = 2, times-over = {times}",
     "do decrease-every with each = 2, times-over = {times}"),
    (rf"^\s*(?P<here>{_DECREASE}\s+(?P<each>\d++)(?:st|nd|rd|th)?\s+rows?{_TIMES}.*)",
     _DECREASING, "Write:  do decrease-every with each = {each}, times-over = {times}  (rounds of "
     "a tube), or on one bed:  do decrease-every with beds = front, each = {each}, "
     "times-over = {times}, in-rounds = no"),
    (rf"^\s*(?P<here>{_DECREASE}\s+(?:other|second)\s+rows?{_TIMES}.*)", _DECREASING,
     "Write:  do decrease-every with each = 2, times-over = {times}  (rounds of a tube), or on one "
     "bed:  do decrease-every with beds = front, each = 2, times-over = {times}, in-rounds = no"),
    (rf"^\s*(?P<here>{_DECREASE}\s+(?P<each>\d++)(?:st|nd|rd|th)?\s+(?:rows?|rounds?).*)",
     _DECREASING, "Write:  do decrease-every with each = {each}, times-over = 4" + _UNTIL),
    (rf"^\s*(?P<here>{_DECREASE}\s+(?:other|second)\s+(?:rows?|rounds?).*)", _DECREASING,
     "Write:  do decrease-every with each = 2, times-over = 4" + _UNTIL),
    (r"^\s*(?P<here>(?:dec(?:rease)?s?|narrow|k2tog|ssk)\b.*)", _DECREASING,
     "Write:  do decrease-once with beds = both"),
    (r"^\s*(?P<here>inc(?:rease)?s?\b.{0,60}?\bevery\s+(?P<each>\d++)(?:st|nd|rd|th)?\s+"
     rf"(?P<unit>rows?|rounds?){_TIMES}.*)", "Increasing is a technique.",
     "Write:  repeat {times} times  and, indented under it,  do increase-once  and  "
     "knit {each} {unit}"),
    (r"^\s*(?P<here>(?:inc(?:rease)?s?|m1)\b.*)", "Increasing is a technique.",
     "Write:  do increase-once"),

    # ---- needles
    (r"^\s*(?P<here>(?:bring|put|push|pull)?\s*(?:out\s+)?(?:needles\s+)?(?P<left>\d++)\s*-\s*0\s*-"
     r"\s*(?P<right>\d++)\b.*)", _POSITION,
     "Write:  bring L{left} to R{right} of front into work"),
    (r"^\s*(?P<here>(?:bring|put|push|pull)?\s*(?:out\s+)?(?:needles\s+)?(?P<left>\d++)\s+"
     rf"(?:needles\s+)?{_ENDS}\s*left\s+(?:and|to)\s+(?P<right>\d++)\s+(?:needles\s+)?{_ENDS}\s*"
     r"right\b.*)", _POSITION, "Write:  bring L{left} to R{right} of front into work"),
    (r"^\s*(?P<here>(?:put|push|pull|bring|move)\s+(?P<end>left|right)\s+(?P<count>\d++)\s+"
     r"(?:needles\s+)?(?:in|into|to|on)\s+hold\w*.*)", _POSITION,
     "Write:  hold {end} {count} working of front"),
    (r"^\s*(?P<here>(?:put|push|pull|bring|move)\s+(?P<count>\d++)\s+needles?\s+(?:in|into|to|on)"
     r"\s+hold\w*.*)", _POSITION, "Write:  hold left {count} working of front"),
    (r"^\s*(?P<here>(?:put|push|pull|bring|move)\s+(?:(?:needles\s+)?(?P<from>[LR]\d++)\s*(?:to|-)"
     r"\s*(?P<till>[LR]\d++))\s+(?:in|into|to|on)\s+hold\w*)\s*$", _POSITION,
     "Write:  hold {from} to {till} of front"),
    (r"^\s*(?P<here>(?:put|push|pull|bring|move)\s+(?:all\s+|the\s+)*needles\s+(?:in|into|to|on)\s+"
     r"hold\w*.*)", _POSITION, "Write:  hold all of front"),
    (r"^\s*(?P<here>(?:pull|push|bring)\s*(?:out|up|forward)?\s+(?P<count>\d++)\s+needles)\s*$",
     _POSITION, "Write:  bring centre {count} of front into work"),
    (r"^\s*wrap\s+(?P<here>(?:the\s+)?(?:next|nearest|needle|stitch)\b.*)",
     "Say which needle is wrapped.", "Write:  wrap carriage side 1 held of front"),

    # ---- carriage, counter, beds
    (r"^\s*(?:knit|work)\s+(?P<here>(?:up\s+)?(?:to|until)\s+(?:the\s+)?(?:row|round|rc)\b.*)",
     _COUNTER, "Write how many more:  knit 12 rows"),
    (r"^\s*(?P<here>(?:reset|clear|zero|set)\s+(?:the\s+)?(?:row\s+)?(?:counter|RC)"
     r"(?:\s+(?:back\s+)?(?:to|at)\s+0+)?)\s*$", "What is set comes first.",
     "Write:  row counter 0", "row counter 0"),
    (r"^\s*(?P<here>(?:free\s+(?:pass|move)|empty\s+(?:row|pass)|slip\s+(?:1|one|a)\s+row|"
     r"(?:take|move|slide|bring|push)\s+(?:the\s+)?carriage\s+(?:across|over|back|without|to\s+the"
     r"\s+other)\b.*))", "The carriage goes over without knitting.",
     "Write:  move carriage to far side", "move carriage to far side"),
    (r"^\s*(?P<here>(?:(?:set\s+)?(?:up\s+|the\s+|carriage\s+)*(?:for|to)\s+)?circular"
     r"(?:\s+knitting)?)\s*$", "Which beds are set is said.", "Write:  set both to circular",
     "set both to circular"),
    (r"^\s*(?P<here>set\b.*\bfor\s+circular\b.*)", "Which beds are set is said.",
     "Write:  set both to circular", "set both to circular"),
    (r"^\s*set\s+(?P<here>(?:the\s+)?beds)\s+to\s+(?=knit|rest|tuck|circular)",
     "The two beds together are called both.", "Write:  both", "both"),
    (r"^\s*set\s+(?:front|back|both)\s+to\s+(?P<here>slip|part|empty)\b",
     "A bed that the carriage passes over rests.", "Write:  rest", "rest"),
    (r"^\s*(?P<here>pitch\s+(?P<pitch>half|full))\b", "Which pitch comes first.",
     "Write:  {pitch} pitch", "{pitch} pitch"),
    (r"^\s*(?:half|full)\s+pitch\s+(?P<here>[a-z]+)\s*$", "'{here}' does not fit here.",
     "Leave it out.", ""),
    (r"^\s*(?P<here>(?:swing|rack(?:ing)?)\s+(?:handle\s+)?(?:(?:to|at)\s+)?0+)\s*$",
     "The bed is racked to a number.", "Write:  rack to 0", "rack to 0"),
    (r"^\s*(?P<here>(?:swing|rack(?:ing)?)\s+(?:handle\s+)?(?:(?:to|at)\s+)?(?P<count>\d++)"
     r"(?:\s+to)?(?:\s+the)?\s+(?P<side>left|right))\s*$", "The bed is racked to a number.",
     "Write:  rack to {count} {side}", "rack to {count} {side}"),
    (r"\b(?P<here>ribber(?:\s+bed)?|main\s+bed|knitter\s+bed)\b", "The beds are called by where "
     "they are.", "Write 'front' for the bed nearer to you, 'back' for the other."),
    (r"^\s*knit\s+(?P<here>(?:straight|even|plain|flat|stockinette|stocking\s+stitch|circular(?:ly)?|"
     r"tubular|in\s+(?:the\s+)?round|another|a\s+further)(?:\s+(?:for|another))?)\s+(?=\d)",
     _ROWS_ALONE, "Leave it out.", ""),
    (r"^\s*knit\b.*\b(?:rows?|rounds?)\s+(?P<here>(?:in\s+|of\s+)?(?:rib|ribbing|stockinette|"
     r"stocking\s+stitch))\s*$", _ROWS_ALONE, "Leave it out.", ""),
    (r"^\s*knit\s+(?P<here>for)\s+(?=\d++\s+(?:rows?|rounds?)\b)", "'for' does not fit here.",
     "Leave it out.", ""),
    (r"^\s*knit\s+(?P<here>an?|one)\s+(?=rows?\b|rounds?\b)", "How many is written in figures.",
     "Write:  1", "1"),
    (r"^\s*stitch\s+(?P<here>dial|tension)\b", "The dial is set with 'stitch size'.",
     "Write:  stitch size 6", "size"),
    (r"^\s*stitch\s+size\s+(?P<here>to|at|of|is)\s+(?=\d)", "'{here}' does not fit here.",
     "Leave it out.", ""),

    # ---- beginning and ending
    (r"^\s*(?P<here>(?:e[\s-]?wrap)(?:\s+cast[\s-]on)?\s+(?P<count>\d++)\b.*)",
     "The yarn laid round each needle is a technique.",
     "Write:  do e-wrap-cast-on with around = {count}, yarn = main"),
    (r"^\s*(?P<here>co\s+(?P<count>\d++))\b", "Casting on is written out.",
     "Write:  cast on centre {count} of front"),
    (r"^\s*(?P<here>bo\b|bind\s+off\s+(?:all\s+)?(?:stitches|sts)\s*$)", "Say on which bed.",
     "Write:  bind off front"),
    (r"^\s*bind\s+off\s+(?P<here>(?P<count>\d++)(?:\s+(?:stitches|sts?))?)\s*$",
     "Say where the stitches are.", "Write:  bind off left {count} of front"),
    (r"^\s*(?P<here>kitchener\b.*|graft\s+[a-z]+)\s*$", "One side is grafted to the other.",
     "Write:  graft front to back"),
    (r"^\s*(?P<here>(?:cut|break)\b.*\bleaving\b.*)", "How long an end is left is told in words.",
     'Write  cut  and, in a line under it,  note "{here}"'),
    (r"^\s*(?P<here>change\s+(?:the\s+)?(?:yarns?|colou?rs?))\s*$", "Say which yarn comes next.",
     "Write:  change to second, or  cut  and  thread second"),
    (r"^\s*(?P<here>(?:knit\s+)?(?P<yarn>waste|ravel)(?:\s+(?:yarn|cord))?\s+(?:for\s+)?"
     r"(?P<count>\d++)\s+(?P<unit>rows?))\s*$", "The yarn is threaded in a line of its own.",
     "Write  thread {yarn}  (or what you have called it) and under it:  knit {count} {unit}"),
    (r"^\s*knit\s+\d++\s+rows?\s+(?P<here>(?:(?:in|with|of|on)\s+)?(?:waste|ravel)(?:\s+\w+)?)\s*$",
     "What is knitted with is the yarn in the feeder.",
     "Write  thread waste  in a line before it, and leave it out here."),
    (r"^\s*(?P<here>(?:take|knit|put|remove|scrap)\b.*\b(?:on|onto|with)\s+waste\b.*|"
     r"(?:remove|take)\s+(?:it\s+|off\s+)?from\s+(?:the\s+)?machine)\s*$",
     "Stitches go onto waste yarn under a name.", "Write:  scrap off front as toe"),
    (r"^\s*(?:hang|remove)\s+(?P<here>(?:claw|edge|side|ribber|large|small|heavy|cast[\s-]on)\s+)"
     r"(?=weights|comb)", "Comb and weights have no more words.", "Leave it out.", ""),
    (r"^\s*transfer\s+(?P<here>(?:(?:all|the)\s+)?(?:stitches\s+)?from\s+(?P<bed>front|back)\s+to\s+"
     r"(?P<other>front|back))\b", "Where the stitches are comes first.",
     "Write:  {bed} to {other}", "{bed} to {other}"),
    (r"^\s*(?P<here>full[\s-]needle\s+rib|k1\s*,?\s*p1(?:\s+rib)?)\b",
     "A rib comes of the needles that are in work, not of a word.",
     "Write:  do rib-1x1 with around = 72  and, under it,  knit rows(6 cm) rows"),

    # ---- counting, again, remarks
    (r"^\s*(?P<here>(?:check|count|you\s+(?:now\s+)?have|there\s+(?:are|should\s+be)|should\s+have)\b"
     r"[^\d]*+(?P<count>\d++)\s*(?:stitches|sts?)\b.*)", "What should be so begins with 'expect'.",
     "Write:  expect {count} stitches", "expect {count} stitches"),
    (r"^\s*(?P<here>[(\[]?(?P<count>\d++)\s*(?:stitches|sts?)[)\]]?)\s*$",
     "What should be so begins with 'expect'.", "Write:  expect {count} stitches",
     "expect {count} stitches"),
    (r"^\s*(?P<here>do\s+(?:this\s+|these\s+rows\s+)?(?P<count>\d++)\s+times)\b",
     "What is done again begins with 'repeat'.", "Write:  repeat {count} times",
     "repeat {count} times"),
    (r"^\s*(?P<here>until)\b", "What is done again begins with 'repeat'.",
     "Write:  repeat until  above the lines, and indent them"),
    (r"^\s*(?P<here>//|--|;|\*|rem\b|comment\b)", "A remark for yourself stands after #.",
     "Write:  #", "# "),
    (r"^\s*(?P<here>(?:(?:change|set)(?:\s+to)?\s+)?(?:the\s+)?(?:tension(?:\s+dial)?|(?:stitch\s+)?dial|mt|t)"
     r"(?:\s+to)?\s*(?P<size>\d+(?:[ ]+\d+/\d+|[.,]\d+)?))\s*$",
     "The dial is set with 'stitch size'.", "Write:  stitch size {size}", "stitch size {size}"),
    (r"^\s*(?P<here>stitch|size)\s+(?P<size>\d+(?:[.,]\d+)?)\s*$",
     "The dial is set with 'stitch size'.", "Write:  stitch size {size}"),
    (r"^\s*(?P<here>cast\s+off)\b", "To cast off is to bind off.", "Write:  bind off front",
     "bind off"),
    (r"^\s*(?P<here>(?:break|snip)(?:\s+off)?(?:\s+the)?(?:\s+yarn)?)\b", "Yarn is cut.",
     "Write:  cut", "cut"),
    (r"^\s*(?P<here>(?:add|attach|put\s+on)\s+(?:the\s+)?(?P<what>weights|comb))\b",
     "Comb and weights are hung.", "Write:  hang {what}", "hang {what}"),
    (r"^\s*(?P<here>hang\s+(?:the\s+|a\s+)?weight)\b\s*$", "It is always 'weights'.",
     "Write:  hang weights", "hang weights"),
    (r"^\s*(?P<here>take\s+(?:off\s+)?(?:the\s+)?(?P<what>weights|comb)(?:\s+off)?)\b",
     "Comb and weights are removed.", "Write:  remove {what}", "remove {what}"),
    (r"^\s*(?P<here>carriage\s+(?:to|at|on)\s+(?:the\s+)?(?P<side>left|right))\b",
     "'carriage' begins no line.",
     "Write:  expect carriage {side}  to be sure of it, or  move carriage to {side}"),
    (r"^\s*(?P<here>k\s*(?P<count>\d+)\s*(?:r|rows?)?)\s*$", "'knit' is written out.",
     "Write:  knit {count} rows", "knit {count} rows"),
    (r"^\s*(?P<here>k)\s+(?=\S)", "'knit' is written out.", "Write:  knit 2 rows", "knit "),
    (r"^\s*(?P<here>work\s+(?P<count>\d+)\s+(?P<unit>rows?|rounds?))\s*$",
     "The carriage knits rows and rounds.", "Write:  knit {count} {unit}", "knit {count} {unit}"),
    (r"^\s*(?P<here>set\s+(?:the\s+)?carriage\s+to\s+hold)\b",
     "The carriage leaves needles in hold alone, or does not.", "Write:  respect hold on front"),
    (r"(?P<here>\bNWP\b)", "Positions of needles are written out.",
     "Write:  take L5 of front out of work"),
    (r"(?P<here>\bUWP\b)", "Positions of needles are written out.",
     "Write:  return left 1 held of front to upper work"),
    (r"(?P<here>\bHP\b)", "Positions of needles are written out.",
     "Write:  hold left 1 working of front"),
    (r"(?P<here>\bWP\b)", "Positions of needles are written out.",
     "Write:  bring L5 of front into work"),
    (r"^\s*(?P<here>(?:sew|weave|wash|press|steam|block|look|leave|make|please|remember)\b.*)",
     "What is done by hand and is only to be read stands in words.", 'Write:  step "{here}"'),
)))
"""Told before the phrases of printed steps, which are wider."""
