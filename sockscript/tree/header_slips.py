"""Slips of the lines before the sections: yarn, gauge, sizes, options, values."""

from __future__ import annotations

from itertools import starmap

from sockscript.tree.slip_form import PlainSlip

_NUMBER = r"\d[\d.,/½¼¾⅓⅔]*+(?:\s\d++/\d++)?"
_COUNT = r"\d++(?:[.,]\d++)?(?:[½¼¾]|\s\d/\d)?"
_RUN = rf"(?P<run>{_NUMBER})\s*(?P<unit>m|yards?|yd)"
_WEIGHT = rf"(?P<weight>{_NUMBER})\s*(?P<of>g|oz|ounces?)"
_PER = "So much for so much is said with 'per'."
_SHORT = "Units are written short."
_COUNTED = "Stitches and rows are named, and over which length."

BY_SIZE = ("One line tells of every size: what differs is in the table of sizes.",
           "Write a row in the table, such as  my-rows  12  14  16, and here its name:  my-rows")

HEADER_SLIPS = tuple(starmap(PlainSlip, (
    # ---- units
    (r"^\s*yarn\b.*\d\s*(?P<here>met(?:re|er)s?)\b", _SHORT, "Write 'm'.", " m "),
    (r"^\s*yarn\b.*\d\s*(?P<here>yds)\b", _SHORT, "Write 'yards'.", " yards "),
    (r"^\s*(?:yarn|swatch)\b.*\d\s*(?P<here>gr|gms?|grams?|grammes?)\b", _SHORT, "Write 'g'.",
     " g "),
    (r"\d\s*(?P<here>per\s?cent|pct)\b", "Of a hundred is written %.", "Write %.", "%"),

    # ---- yarn
    (rf"^\s*yarn\b.*(?P<here>\b{_WEIGHT}\s*(?:is|=|per|to|in|,|for|are|gives?|/)\s*{_RUN})\b",
     "How far it runs comes before its weight.", "Write:  {run} {unit} per {weight} {of}",
     "{run} {unit} per {weight} {of}"),
    (rf"^\s*yarn\b.*\d\s*(?:m|yards?|yd)\s*(?P<here>is|=|to|in|for|at|,|:|/|weighs?)\s*{_WEIGHT}\b",
     _PER, "Write 'per'.", " per "),
    (rf"^\s*yarn\b.*\bper\s+(?P<here>(?:a\s+)?(?:ball|skein|hank|cone)s?\s+of)\s+{_WEIGHT}\b",
     "The weight is enough.", "Leave '{here}' out.", ""),
    (r"^\s*yarn\b.*\bper\s+(?P<here>(?:a\s+)?(?:ball|skein|hank|cone)s?)\b",
     "The weight of the ball tells how thick the yarn is; it stands on the band.",
     "Write it in the place of '{here}':  400 m per 100 g"),
    (r"^\s*yarn\s+(?P<name>[a-z][\w-]*+)\s+(?P<here>(?!(?:as|nm|ne|worsted|tex)\b)"
     r"[a-z][a-z -]*[a-z])(?=\s*+(?:\d|$|as\b|_))", "What its band says stands between quotation "
     "marks.", 'Write:  yarn {name} "{here}"', '"{here}"'),
    (r"^\s*yarn\s+(?P<name>[a-z][\w-]*+)\s+(?P<here>\d.*)$",
     "After its name a yarn is told in words.", 'Write:  yarn {name} "four-ply wool" {here}'),
    (r"^\s*yarn\b[^,]*_(?P<here>\s*,)", "No comma stands here.", "Leave it out.", " "),
    (r"^\s*yarn(?P<here>\s+)_", "A yarn has a name by which the sections call it.",
     'Write:  yarn main "four-ply wool"', " main "),
    (r"^\s*yarn\b.*_\s+(?P<here>(?P<kind>waste|ravel\s+cord))\s*$", "A small word is missing.",
     "Write:  as {kind}", "as {kind}"),
    (r"^\s*(?P<here>(?P<name>main|waste|contrast|second)\s+yarn)\s+_",
     "The line begins with what it tells of.", "Write:  yarn {name}", "yarn {name}"),
    (r"^\s*(?P<here>(?P<name>waste|cord))\s+_", "The line begins with what it tells of.",
     'Write:  yarn {name} "…" as waste'),

    # ---- gauge
    (r"^\s*(?P<here>tension)\b(?=.*\b(?:st|sts|stitches)\b)", "How dense a fabric is stands in "
     "'gauge'.", "Write:  gauge plain 30 stitches, 42 rows per 10 cm", "gauge"),
    (r"^\s*gauge(?:\s+[a-z][\w-]*+)?\s*(?P<here>=)\s*\d", "No equals sign stands here.",
     "Leave it out.", " "),
    (rf"^\s*gauge\b.*?(?P<here>(?P<wide>{_COUNT})\s*[x×,/]\s*(?P<high>{_COUNT}))"
     r"\s*(?=per\b|over\b|/|in\b|to\b|=|$)", _COUNTED,
     "Write:  {wide} stitches, {high} rows per 10 cm", "{wide} stitches, {high} rows "),
    (r"^\s*gauge\b.*\d\s*(?P<here>r|rs|rws?)\b", "Rows are written out.", "Write 'rows'.",
     " rows "),
    (r"^\s*gauge\b.*\bstitches\s+(?P<here>by|x|×)\s+\d",
     "Between stitches and rows stands a comma.", "Write:  30 stitches, 42 rows per 10 cm", ", "),
    (r"^\s*gauge\b.*\brows?\s*(?P<here>over|in|to|for|on|at|/|=)\s*(?=\d)", _PER, "Write 'per'.",
     " per "),
    (r"^\s*gauge\b[^,]*\b(?P<here>stitches\s+per\b[^,]*)$", "The rows are missing.",
     "Write:  gauge plain 7½ stitches per inch, 11 rows per inch"),
    (rf"^\s*gauge\b.*?(?P<here>{_COUNT}\s+stitches,?\s*(?:and\s+)?{_COUNT}\s+rows?)\s*$",
     "Over which length is missing.", "Write:  {here} per 10 cm, or: per 4 in"),
    (r"^\s*swatch\b.*\brows?\s+(?P<here>weighs?|weighing|is|=)\s*\d", "What a swatch weighs comes "
     "after a comma.", "Write:  60 stitches, 84 rows, 18 g of main", ", "),

    # ---- sizes and measurements
    (r"^\s*sizes\b[^,;/]*+(?P<here>[,;/])", "Between the sizes stand blanks only.", "Leave it out.",
     " "),
    (r"^\s*[a-z]++(?:-[a-z]++)++\s+\d[\d.½¼¾⅓⅔/\"”″ ]*+(?:cm|mm|in)?(?P<here>\s*[,;])\s",
     "Between the values stand blanks only.", "Leave it out.", " "),
    (r"^(?P<here>(?:foot|leg|cuff|ankle|heel|calf|hand|arm)-(?:length|round|depth))\s+\d",
     "A measurement stands in the table of sizes.",
     "Indent it under the line 'sizes', or write:  let {here} ="),
    (r"\d\s*+(?P<here>[(\[]\s*\d[\d\s.,:;/½¼¾-]*+[)\]])",
     *BY_SIZE),
    (r"^\s*(?:knit|bring|hold|return|take|move|repeat|wrap|cast|bind|expect|transfer)\b[^\d\"#]*+"
     r"(?P<here>\d++(?:\s*+[,;]\s*+\d++){2,}|\d++(?:\s*+[,;]\s++\d++|\s++\d++)+)"
     r"\s+(?:rows?|rounds?|stitch(?:es)?|needles?|times?|of)\b", *BY_SIZE),

    # ---- options
    (r"^\s*option\b.*?\s(?P<here>or|and)\s", "Between the choices stands a comma.",
     "Write:  option finish graft, gather", ", "),
    (r"^\s*option\s+[a-z][\w-]*+\s*(?P<here>=)", "No equals sign stands here.", "Leave it out.",
     " "),

    # ---- values
    (r"^\s*let\s+[a-z][\w-]*+\s+(?P<here>(?P<value>\d.*))$", "A value is given with =.",
     "Write:  = {value}", "= {value}"),
    (r"^\s*(?P<here>(?!let\b|option\b|gauge\b|knit\b|repeat\b)[a-z][\w-]*+)\s*=(?!=)",
     "A value begins with 'let'.", "Write:  let {here} =", "let {here}"),
    (r"^\s*let\b.*?[\w)½¼¾]\s+(?P<here>x)\s+[\w(]", "Times is written × or *.", "Write ×.", "×"),
    (r"\b(?P<here>(?:rounded|to)\s+(?:off\s+|up\s+|down\s+)?to\s+(?:the\s+)?nearest)\b",
     "How it is rounded is said in fewer words.", "Write:  to nearest", "to nearest"),
    (r"\b(?P<here>(?:rounded\s+)?(?:to\s+(?:an?\s+)?)?(?<!nearest )(?<!down to )(?<!up to )"
     r"(?:multiple\s+of|divisible\s+by))\s+(?=\d)", "A rounding says which way.",
     "Write:  to nearest multiple of", "to nearest multiple of"),
    (r"\b(?P<here>rounded\s+(?:to|by))\s+(?=\d)", "A rounding says which way and to what.",
     "Write:  to nearest multiple of", "to nearest multiple of"),
    (r"(?P<here>\b(?:an?\s+)?half\s+(?:of\s+)?(?P<what>[a-z][\w-]*+))\s*$",
     "A part of a value is worked out.", "Write:  {what} / 2", "{what} / 2"),
    (r"(?P<here>\b(?:an?\s+|one\s+)?(?:third|1/3)\s+of\s+(?P<what>[a-z][\w-]*+))\s*$",
     "A part of a value is worked out.", "Write:  {what} / 3", "{what} / 3"),
    (r"(?P<here>\b(?:an?\s+|one\s+)?(?:quarter|1/4)\s+of\s+(?P<what>[a-z][\w-]*+))\s*$",
     "A part of a value is worked out.", "Write:  {what} / 4", "{what} / 4"),
    (r"^\s*let\b.*\b(?P<here>halved)\b", "A part of a value is worked out.", "Write:  / 2", "/ 2"),

    # ---- other lines
    (r"^\s*technique\s+(?P<here>(?P<words>(?!with\b)[a-z][\w-]*+(?:\s+(?!with\b)[a-z][\w-]*+)+))",
     "A name is one word, joined by hyphens.", "Did you mean '{joined}'?", "{joined}"),
    (r"^\s*machine\s+(?P<here>[a-z0-9].*)$",
     "Under 'machine' stands what the pattern needs; your own is named when you print.",
     "Write the line with nothing after it, and print with  --machine harbour-45"),
    (r"^(?P<here>(?:needles|beds)\s+\d++)\s*$", "What the machine needs stands under 'machine'.",
     "Write  machine  in the line above it, and indent this one."),
    (r"^\s*(?P<here>title|name)\s+(?=_)", "The title stands after 'pattern'.", "Write:  pattern",
     "pattern"),
    (r"^\s*(?P<here>(?:design(?:er|ed\s+by|\s+by)?|by|written\s+by))\s+(?=_)",
     "Who wrote it stands after 'author'.", "Write:  author", "author"),
    (r"^\s*(?P<here>copyright)\b", "What others may do with it stands after 'licence'.",
     'Write:  licence "CC BY-SA 4.0"'),
    (r"^\s*(?P<here>date)\b.*", "A date is a remark, or tells of a version.",
     'Write:  version 1, or:  note "…"'),
    (r"^\s*(?P<here>(?P<part>cuff|leg|heel|foot|toe|hem|ankle|instep)\s*:?)\s*$",
     "A part of the pattern begins with 'section'.", 'Write:  section "{part}"',
     'section "{part}"'),
)))
