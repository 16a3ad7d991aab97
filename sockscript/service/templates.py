"""Whole lines and sets of needles to fill in, with stops at what is to be written."""

from __future__ import annotations

import re
from collections.abc import Mapping, Sequence
from typing import NamedTuple, Union


class TabStop(NamedTuple):
    """A place to fill in; ``text`` stands there until then."""

    text: str


Part = Union[str, TabStop]

HEADER: tuple[tuple[str, str], ...] = (
    ("pattern", 'pattern "<Lantern Sock>"'),
    ("author", 'author "<Quayside Knitting Circle>"'),
    ("version", "version <1>"),
    ("licence", 'licence "<CC BY-SA 4.0>"'),
    ("machine", "machine\n    beds <2>\n    needles <160>\n    needs <circular, hold>"),
    ("yarn", 'yarn <main> "<four-ply sock wool>" <400> m per <100> g'),
    ("yarn", 'yarn <waste> "<smooth waste yarn>" as waste'),
    ("yarn", 'yarn <cord> "<strong smooth cord>" as ravel cord'),
    ("gauge", "gauge <plain> <30> stitches, <42> rows per <10> cm"),
    ("swatch", "swatch <fabric:plain> <60> stitches, <84> rows, <16> g of <yarn:main>"),
    ("sizes", "sizes           <Small>  <Medium>  <Large>\n    <foot-round>  <20>  <22.5>  "
              "<25> cm"),
    ("option", "option <finish> <graft, gather>"),
    ("works_for", "works for\n    <foot-round> <18> to <28> cm by <1> cm"),
    ("use", 'use "<our-toes.sockscript>"'),
    ("builds_on", 'builds on "<lantern.sockscript>"'),
    ("exchange", "exchange <wedge-toe> for <round-toe>"),
    ("let", "let <name> = <stitches(20 cm) to nearest even>"),
    ("section", 'section "<Cuff>"\n    <>'),
    ("section", 'section "<Cuff>" in <fabric:plain>\n    <>'),
    ("technique", "technique <my-toe> with <leave>\n    <>"),
    ("note", 'note "<Read every section through before you begin.>"'),
    ("caution", 'caution "<Mind the latch hooks.>"'),
    ("allow", 'allow <weights-not-moved> because "<the piece is small>"'),
)
"""Lines at the left margin, by their rule in the grammar."""

INSIDE: tuple[tuple[str, str], ...] = (
    ("knit", "knit <2> rows"),
    ("knit", "knit <2> rounds"),
    ("knit", "knit <1> row on <front>"),
    ("knit_for", "knit rounds for a foot length of <24 cm>"),
    ("knit_for", "knit even rows for a leg length of <20 cm>"),
    ("do", "do <wedge-toe> with <leave> = <8>"),
    ("expect", "expect <72> stitches"),
    ("begins_with", "needs <0 stitches on back>"),
    ("leaves", "leaves <count-before(front) stitches on front>"),
    ("expect", "expect tube of <36> stitches a bed"),
    ("step", 'step "<Turn the work.>"\n    <>'),
    ("note", 'note "<See that no stitch is split.>"'),
    ("caution", 'caution "<Mind the latch hooks.>"'),
    ("repeat_times", "repeat <4> times\n    <>"),
    ("repeat_until", "repeat until <8> stitches on <front>\n    <>"),
    ("when", "when size is <size:Small>\n    <>"),
    ("otherwise", "otherwise\n    <>"),
    ("let", "let <name> = <count-on(front) / 2>"),
    ("target", "target girth <20 cm> within <5> mm"),
    ("target", "target length <10 cm>"),
    ("allow", 'allow <weights-not-moved> because "<the piece is small>"'),
    ("bring", "bring <centre 36 of front> into work"),
    ("bring", "bring <centre 36 of front> into work to cast on"),
    ("take_out", "take <empty of front> out of work"),
    ("hold", "hold <left 1 working of front>"),
    ("return_to_work", "return <left 1 held of front> to work"),
    ("return_to_upper", "return <left 1 held of front> to upper work"),
    ("set_bed", "set <front> to knit"),
    ("set_bed", "set <front> to rest"),
    ("set_bed", "set <both> to circular"),
    ("set_needles", "set <every 2nd of all> of <front> to tuck"),
    ("respect_hold", "respect hold on <front>"),
    ("cancel_hold", "cancel hold on <front>"),
    ("stitch_size", "stitch size <5>"),
    ("set_pitch", "half pitch"),
    ("set_pitch", "full pitch"),
    ("rack", "rack to <1> right"),
    ("thread", "thread <yarn:main>"),
    ("thread", "thread <yarn:main> and <yarn:second>"),
    ("thread_along", "thread <yarn:second> along"),
    ("change", "change to <yarn:second>"),
    ("cut", "cut"),
    ("move_carriage", "move carriage to <far side>"),
    ("row_counter", "row counter <0>"),
    ("transfer_to", "transfer <back> to <front>"),
    ("transfer_onto", "transfer <L1 of back> onto <L2 of back>"),
    ("fold", "fold <right 18 stitches of back> onto <front>"),
    ("fashion", "move <3> stitches at <left> of <front> in by <1>"),
    ("wrap", "wrap <carriage side 1 held of front>"),
    ("cast_on", "cast on <centre 36 of front>"),
    ("bind_off", "bind off <front>"),
    ("scrap_off", "scrap off <front> as <toe>"),
    ("rehang", "rehang <group:toe> to <centre 36 of front>"),
    ("graft", "graft <front> to <back>"),
    ("gather", "gather <both>"),
    ("hang", "hang comb"),
    ("hang", "hang weights"),
    ("move_weights", "move weights"),
    ("remove", "remove comb"),
    ("remove", "remove weights"),
    ("drop", "drop <L5 of front>"),
    ("latch_up", "latch up <L5 of front>"),
    ("mark", "mark edge <start> on <front>"),
    ("mark", "mark slit <heel> on <front>"),
    ("knit_in", "knit in <yarn:waste> over <left 8 of back> as <thumb>"),
    ("pick_up", "pick up along <24> rows at <left> of <front> to <empty of front>"),
    ("sew_down", "sew down first <10> rows"),
    ("sew_down", "sew down last <10> rows"),
    ("sew_edge_down", "sew down <group:start> over <10> rows"),
    ("sew_sides", "sew sides"),
    ("fill", "fill <empty of front> from <left>"),
)
"""Lines in a section, a technique or a block of one."""

MACHINE: tuple[tuple[str, str], ...] = (
    ("beds", "beds <2>"),
    ("needle_count", "needles <160>"),
    ("abilities", "needs <circular, hold>"),
    ("abilities", "has <circular, tuck, hold, racking>"),
    ("spacing", "spacing <4.5> mm"),
    ("dial", "dial <0> to <10> by <⅓>"),
    ("pitches", "pitches half, full"),
    ("racking", "racking <10>"),
    ("front_circular", "front knits to the <left> in circular"),
    ("own_swatch", 'swatch <plain> "<four-ply sock wool>" <30> stitches, <42> rows per <10> cm '
                   "at stitch size <6>"),
    ("words", "words\n    <knit> \"<levers back>\""),
)
"""Lines under ``machine``."""

RANGES: tuple[tuple[str, str], ...] = (
    ("range_of_gauge", "gauge <fabric:plain> <26> to <36> stitches"),
    ("range_of_gauge", "gauge <fabric:plain> <38> to <48> rows by <2>"),
    ("range_where", "where <foot-length> is at least <foot-round less 10%>"),
)
"""Lines under ``works for`` that do not begin with a name."""

NEEDLES: tuple[tuple[str, str], ...] = (
    ("left <2> of <front>", "The outermost stitches at the left."),
    ("right <2> of <front>", "The outermost stitches at the right."),
    ("left <1> working of <front>", "The outermost needles at the left that are in work and not "
     "held."),
    ("right <1> working of <front>", "The outermost needles at the right that are in work and "
     "not held."),
    ("left <1> held of <front>", "The held needles at the left next to the working ones."),
    ("right <1> held of <front>", "The held needles at the right next to the working ones."),
    ("carriage side <1> working of <front>", "The needles in work nearest to the carriage."),
    ("far side <1> held of <front>", "The held needles next to the working ones, at the end "
     "opposite the carriage."),
    ("centre <36> of <front>", "So many needles about the middle of the bed."),
    ("<L18> to <R18> of <front>", "From one needle to another, counted from the centre."),
    ("every other of <all> of <front>", "Every second needle, from the left."),
    ("all of <front>", "All needles that are not out of work."),
    ("held of <front>", "All needles in hold."),
    ("empty of <front>", "All needles in work that have no stitch."),
)
"""Sets of needles, with what they are."""

ROUNDINGS: tuple[tuple[str, str], ...] = (
    ("to nearest even", "Rounded to the nearest even number."),
    ("to nearest multiple of <4>", "Rounded to the nearest number that can be divided so."),
    ("to nearest whole", "Rounded to the nearest whole number."),
    ("to nearest odd", "Rounded to the nearest odd number."),
    ("up to even", "Rounded up to an even number."),
    ("down to even", "Rounded down to an even number."),
)
"""Endings of a number, with what they do."""

_STOP = re.compile(r"<(?:(\w+):)?([^<>]*)>")


def parts_of(template: str, known: Mapping[str, Sequence[str]] | None = None) -> tuple[Part, ...]:
    """A template as text and stops.

    A stop ``<yarn:main>`` takes the first name that is ``known`` of its kind, if there is one.
    """
    parts: list[Part] = []
    position = 0
    for match in _STOP.finditer(template):
        if match.start() > position:
            parts.append(template[position:match.start()])
        names = known.get(match.group(1), ()) if known is not None and match.group(1) else ()
        parts.append(TabStop(names[0] if names else match.group(2)))
        position = match.end()
    if position < len(template):
        parts.append(template[position:])
    return tuple(parts)


def text_of(parts: Sequence[Part]) -> str:
    """What stands there before anything is filled in."""
    return "".join(part.text if isinstance(part, TabStop) else part for part in parts)
