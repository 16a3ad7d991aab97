"""The kinds of lines at the head of a script, and under ``sizes``, ``works for``, ``machine``."""

from __future__ import annotations

from sockscript.tree.line_kinds.kind import LineKind

HEADER: dict[str, LineKind] = {
    "pattern": LineKind(
        "pattern",
        "The title of the pattern, as it is printed at its head.",
        at_margin=('pattern "<Lantern Sock>"',)),
    "author": LineKind(
        "author",
        "Who wrote the pattern.",
        at_margin=('author "<Quayside Knitting Circle>"',)),
    "version": LineKind(
        "version",
        "Which version of the pattern this is. Count it up when you give a changed pattern to "
        "others.",
        at_margin=("version <1>",)),
    "licence": LineKind(
        "licence",
        "What others may do with the pattern.",
        at_margin=('licence "<CC BY-SA 4.0>"',)),
    "machine": LineKind(
        "machine",
        "What the pattern needs of a machine. Each need stands in a line of its own under this "
        "one.",
        at_margin=("machine\n    beds <2>\n    needles <160>\n    needs <circular, hold>",)),
    "yarn": LineKind(
        "yarn",
        "A yarn, the name that it has in this script, and how long it is for its weight, as the "
        "band says.",
        at_margin=('yarn <main> "<four-ply sock wool>" <400> m per <100> g',
                   'yarn <waste> "<smooth waste yarn>" as waste',
                   'yarn <cord> "<strong smooth cord>" as ravel cord')),
    "gauge": LineKind(
        "gauge",
        "How many stitches and rows of a fabric there are in a length. Count them on a swatch that "
        "was washed and has rested.",
        at_margin=("gauge <plain> <30> stitches, <42> rows per <10> cm",)),
    "swatch": LineKind(
        "swatch",
        "A swatch on the scales: how much yarn so many stitches and rows took. The yarn for the "
        "sock is reckoned from it.",
        at_margin=("swatch <fabric:plain> <60> stitches, <84> rows, <16> g of <yarn:main>",)),
    "sizes": LineKind(
        "sizes",
        "The names of the sizes. Under this line stands a row for each measurement, with a value "
        "for every size.",
        at_margin=("sizes           <Small>  <Medium>  <Large>\n    <foot-round>  <20>  <22.5>  "
                   "<25> cm",)),
    "option": LineKind(
        "option",
        "A choice left to the knitter. The check knits every choice; the first is meant where "
        "nobody chooses.",
        at_margin=("option <finish> <graft, gather>",)),
    "works_for": LineKind(
        "works for",
        "The measurements and gauges for which the pattern is meant to come out. Ranges stand "
        "under this line.",
        at_margin=("works for\n    <foot-round> <18> to <28> cm by <1> cm",)),
    "use": LineKind(
        "use",
        "Takes the techniques of another script in the same folder.",
        at_margin=('use "<our-toes.sockscript>"',)),
    "builds_on": LineKind(
        "builds on",
        "Takes all of another script beside it. What this one says stands in the place of what has "
        "the same name there.",
        at_margin=('builds on "<lantern.sockscript>"',)),
    "exchange": LineKind(
        "exchange",
        "Does the second technique in the place of the first.",
        at_margin=("exchange <wedge-toe> for <round-toe>",)),
    "section": LineKind(
        "section",
        "A part of the sock with a title of its own. After 'in' stands the fabric whose gauge "
        "counts in it.",
        at_margin=('section "<Cuff>"\n    <>', 'section "<Cuff>" in <fabric:plain>\n    <>')),
    "technique": LineKind(
        "technique",
        "A piece of work with a name, to be called with 'do'. The values that it takes stand after "
        "'with'.",
        at_margin=("technique <my-toe> with <leave>\n    <>",)),
}

SIZE_ROWS: dict[str, LineKind] = {
    "measure_row": LineKind(
        "",
        "A measurement, with a value for every size."),
    "feet_row": LineKind(
        "feet",
        "Takes a foot from the built-in table for every size, by person and shoe size."),
}
"""Rows under ``sizes``: they begin with the names of measurements."""

RANGES: dict[str, LineKind] = {
    "range_of_value": LineKind(
        "",
        "The values of a measurement or count for which the pattern is meant to come out."),
    "range_of_gauge": LineKind(
        "gauge",
        "The gauges of a fabric for which the pattern is meant to come out.",
        ("gauge <fabric:plain> <26> to <36> stitches",
         "gauge <fabric:plain> <38> to <48> rows by <2>")),
    "range_where": LineKind(
        "where",
        "Leaves out what no foot has: only measurements for which this is true are tried.",
        ("where <foot-length> is at least <foot-round less 10%>",)),
}
"""Lines under ``works for``."""

MACHINE: dict[str, LineKind] = {
    "beds": LineKind(
        "beds",
        "How many needle beds the machine has: 1 or 2.",
        ("beds <2>",)),
    "needle_count": LineKind(
        "needles",
        "How many needles a bed has.",
        ("needles <160>",)),
    "abilities": LineKind(
        "needs",
        "What the machine must be able to do, or what it can do.",
        ("needs <circular, hold>", "has <circular, tuck, hold, racking>")),
    "spacing": LineKind(
        "spacing",
        "How far it is from one needle to the next.",
        ("spacing <4.5> mm",)),
    "dial": LineKind(
        "dial",
        "The numbers of the stitch-size dial, from the tightest to the loosest, and the step "
        "between them.",
        ("dial <0> to <10> by <⅓>",)),
    "pitches": LineKind(
        "pitches",
        "Whether the beds can stand at half pitch, at full pitch or at both.",
        ("pitches half, full",)),
    "racking": LineKind(
        "racking",
        "By how many needles one bed can be racked past the other.",
        ("racking <10>",)),
    "front_circular": LineKind(
        "front knits",
        "In which direction of the carriage the front bed knits when it is set to circular.",
        ("front knits to the <left> in circular",)),
    "own_swatch": LineKind(
        "swatch",
        "A swatch that you have knitted on this machine, washed and rested: where a pattern asks "
        "for that gauge, the sheet names your stitch size instead of leaving a box.",
        ('swatch <plain> "<four-ply sock wool>" <30> stitches, <42> rows per <10> cm at stitch '
         'size <6>',)),
    "words": LineKind(
        "words",
        "The machine's own words for its settings stand under this line; the printed pattern uses "
        "them.",
        ('words\n    <knit> "<levers back>"',)),
}
"""Lines under ``machine``, in a script and in a profile."""
