"""Pictures drawn from the simulated knitting."""

from __future__ import annotations

import json
import re
from pathlib import Path
from xml.etree import ElementTree

import pytest
from support.scripts import HEADER, proof

from sockscript.fabric.courses import courses
from sockscript.fabric.measures import measures
from sockscript.pictures import svg as writer
from sockscript.pictures.beds import bed_picture, mark_needle
from sockscript.pictures.dimensions import dimensions
from sockscript.pictures.kinds import OF_ONE_SIZE
from sockscript.pictures.letters import width
from sockscript.pictures.schematic import schematic_picture
from sockscript.trace.state import BedState
from sockscript.trace.symbols import sign

EXAMPLES = sorted((Path(__file__).resolve().parents[2] / "examples").glob("*.sockscript"))
SVG = "{http://www.w3.org/2000/svg}"
QUICK = [kind for kind in OF_ONE_SIZE if kind != "sock"]


def runs_of(path):
    return [outcomes[0].run for outcomes in proof(path.read_text("utf-8")).outcomes]


def pictures_of(path):
    """Every picture of the middle size, by kind."""
    runs = runs_of(path)
    run = runs[len(runs) // 2]
    found = {kind: OF_ONE_SIZE[kind][1](run, heading=f"{path.stem}: {kind}") for kind in QUICK}
    found["schematic"] = schematic_picture(runs, len(runs) // 2, heading=path.stem)
    for kind in ("fold", "heel"):
        found[f"{kind} of a leaflet"] = OF_ONE_SIZE[kind][1](run, heading="")
    found["schematic of one size"] = schematic_picture([run], 0, heading=path.stem)
    found["schematic of a leaflet"] = schematic_picture([run], 0, heading=path.stem,
                                                        table=False)
    knitted = courses(run)
    found["beds"] = bed_picture(knitted[len(knitted) // 2].state,
                                needles=run.engine.profile.needles,
                                beds=run.engine.profile.beds, heading=path.stem, yarn="wool")
    return {kind: made.svg for kind, made in found.items() if made is not None}


ALL = [pytest.param(text, id=f"{path.stem}-{kind}") for path in EXAMPLES
       for kind, text in pictures_of(path).items()]


# On a leaflet, where the caption names them.
BARE = {param.values[0] for param in ALL if "heel of a leaflet" in param.id
        or "fold of a leaflet" in param.id}


@pytest.mark.parametrize("text", ALL)
def test_a_picture_is_named_and_described_for_those_who_hear_it(text):
    root = ElementTree.fromstring(text)
    title, description = root.find(f"{SVG}title"), root.find(f"{SVG}desc")

    assert root.get("role") == "img"
    assert root.get("aria-labelledby").split() == [title.get("id"), description.get("id")]
    assert title.text or text in BARE
    assert len(description.text) > 40


WIDTHS = json.loads(Path(__file__).with_name("widths.json").read_text("utf-8"))
FONTS = ("DejaVu Sans", "Liberation Sans", "Noto Sans")


def boxes(text, font):
    """Left, top, right and bottom of all words, as a font sets them; letters stand 0.73 of their
    size above the line (the capitals of these fonts) and none of those below it counts."""
    for element in ElementTree.fromstring(text).iter(f"{SVG}text"):
        if element.get("transform"):
            continue
        size = float(element.get("font-size"))
        widths = WIDTHS[f"{font} {element.get('font-weight') or 'regular'}"]
        room = sum(widths.get(letter, 600) for letter in element.text) * size / 1000
        x, y = float(element.get("x")), float(element.get("y"))
        x -= {"start": 0, "middle": room / 2, "end": room}[element.get("text-anchor")]
        yield x, y - 0.73 * size, x + room, y, element.text


@pytest.mark.parametrize("font", FONTS)
@pytest.mark.parametrize("text", ALL)
def test_nothing_lies_outside_the_picture(text, font):
    _, start, width, height = map(float, ElementTree.fromstring(text).get("viewBox").split())

    for left, top, right, bottom, words in boxes(text, font):
        assert left >= 0, words
        assert right <= width, words
        assert start <= top < bottom <= start + height, words


@pytest.mark.parametrize("font", FONTS)
@pytest.mark.parametrize("text", ALL)
def test_words_do_not_lie_on_each_other(text, font):
    found = list(boxes(text, font))
    for number, (l1, t1, r1, b1, one) in enumerate(found):
        for l2, t2, r2, b2, other in found[number + 1:]:
            overlap = min(r1, r2) - max(l1, l2) > 0.5 and min(b1, b2) - max(t1, t2) > 0.5
            assert not overlap, (one, other)


def luminance(colour):
    """Relative luminance as in WCAG 2.1 (W3C), definition of "relative luminance"."""
    channels = [int(colour[n:n + 2], 16) / 255 for n in (1, 3, 5)]
    r, g, b = [c / 12.92 if c <= 0.03928 else ((c + 0.055) / 1.055) ** 2.4 for c in channels]
    return 0.2126 * r + 0.7152 * g + 0.0722 * b


def contrast(one, other):
    """Contrast ratio as in WCAG 2.1."""
    light, dark = sorted((luminance(one), luminance(other)), reverse=True)
    return (light + 0.05) / (dark + 0.05)


@pytest.mark.parametrize("text", ALL)
def test_a_picture_has_no_colour_and_words_stand_out(text):
    """No hue at all, so nothing rests on telling hues apart; words have 4.5:1 (WCAG 1.4.3)."""
    for colour in set(re.findall(r"#[0-9a-f]{6}", text)):
        assert colour[1:3] == colour[3:5] == colour[5:7]
    for element in ElementTree.fromstring(text).iter(f"{SVG}text"):
        # The darkest area that words stand on is the pale one of the carriage.
        ground = writer.PALE if element.text in ("COL", "COR") else "#f2f2f2"
        assert contrast(element.get("fill"), ground) >= 4.5


@pytest.mark.parametrize("path", EXAMPLES, ids=lambda path: path.stem)
def test_the_same_script_gives_the_same_picture(path):
    assert pictures_of(path) == pictures_of(path)


def test_the_unrolled_fabric_has_a_cell_for_every_stitch():
    """Counted from the areas of the cells against the loops that the engine made."""
    for run in runs_of(EXAMPLES[0]):
        text = OF_ONE_SIZE["fabric"][1](run, heading="x").svg
        cells = 0
        for across in re.findall(r"h([\d.]+)v", text):
            cells += round(float(across) / 6)
        assert cells == sum(run.engine.yarn_loops.values())


def test_the_heel_shows_a_row_for_every_short_row():
    run = runs_of(next(p for p in EXAMPLES if p.stem == "family-sock"))[4]
    root = ElementTree.fromstring(OF_ONE_SIZE["heel"][1](run, heading="x").svg)
    squares = [e for e in root.iter(f"{SVG}rect") if e.get("width") == "11"]
    heel = next(n for n, section in enumerate(run.sections) if section.title == "Heel")
    worked = sum(c.worked[0].bit_count() + c.worked[1].bit_count() for c in courses(run)
                 if c.section == heel)

    # Two squares are the legend's.
    assert len(squares) - 2 == worked


def test_what_a_stranger_wrote_stays_text():
    script = '''pattern "</title><script>alert(1)</script>"
yarn main "<img src=x onerror=alert(2)> & \\u0001wool"
gauge plain 30 stitches, 42 rows per 10 cm
section "<b>Tube</b>" in plain
    do tube-cast-on with half = 29, yarn = main
    knit 40 rows
'''
    run = proof(script).outcomes[0][0].run
    for kind in QUICK:
        made = OF_ONE_SIZE[kind][1](run, heading=f"<script>{run.script.title}")
        if made is not None:
            root = ElementTree.fromstring(made.svg)
            assert {e.tag.removeprefix(SVG) for e in root.iter()} <= {
                "svg", "title", "desc", "defs", "pattern", "rect", "path", "line", "circle",
                "text"}


def test_a_piece_that_narrows_is_drawn_and_measured_at_both_ends():
    """92 and 56 stitches at 28 over 10 cm are 32.9 and 20 cm."""
    runs = runs_of(next(p for p in EXAMPLES if p.stem == "leg-warmer"))
    values = {row.name: row.in_centimetres()[2] for row in dimensions(runs)}
    drawn = schematic_picture(runs, 2, heading="x", table=False).svg

    assert (values["Leg, round"], values["Leg, round, narrow end"]) == ("32.9", "20.0")
    leg = ElementTree.fromstring(drawn).findall(f"{SVG}path")
    widths = [max(xs) - min(xs) for xs in (
        [float(corner.split(",")[0]) for corner in re.findall(r"[\d.]+,[\d.]+", path.get("d"))]
        for path in leg if path.get("fill") == "#f2f2f2")]
    lines = [float(line.get("x2")) - float(line.get("x1")) for line in
             ElementTree.fromstring(drawn).iter(f"{SVG}line")
             if line.get("y1") == line.get("y2")]
    assert widths[1] == pytest.approx(lines[1], abs=0.1)
    assert lines[2] / lines[1] == pytest.approx(56 / 92, abs=0.01)


def test_what_is_knitted_onto_a_closed_piece_stands_apart():
    made = proof(HEADER + """machine
    beds 2
    needs circular
section "Hand" in plain
    do tube-cast-on with half = 30, yarn = main
    knit 40 rounds
    cut
    do graft-end
section "Thumb" in plain
    do tube-cast-on with half = 8, yarn = main
    knit 20 rounds
""").outcomes[0][0].run
    root = ElementTree.fromstring(schematic_picture([made], 0, heading="x", table=False).svg)
    hand, thumb = [[float(corner.split(",")[1]) for corner in
                    re.findall(r"[\d.]+,[\d.]+", path.get("d"))]
                   for path in root.findall(f"{SVG}path") if path.get("fill") == "#f2f2f2"]

    assert min(thumb) - max(hand) > 20


@pytest.mark.parametrize("name", ["family-sock", "toe-up-sock", "flat-sock", "afterthought-sock"])
def test_the_schematic_of_a_sock_is_to_scale(name):
    """Every dimension line, at the same scale, is as long as it says: lengths whole, girths
    half; the heel too, however it is knitted."""
    run = runs_of(next(p for p in EXAMPLES if p.stem == name))[1]
    rows = dimensions([run])
    root = ElementTree.fromstring(schematic_picture([run], 0, heading="x", table=False).svg)
    lines = [abs(float(e.get("x2")) - float(e.get("x1")) + float(e.get("y2")) - float(e.get("y1")))
             for e in root.iter(f"{SVG}line") if e.get("stroke-width") == "0.8"]
    letters = [e.text for e in root.iter(f"{SVG}text") if e.get("font-weight") == "bold"]
    drawn = dict(zip(letters, lines, strict=True))
    scale = {row.name: drawn[row.letter] / float(row.values[0] / (2 if "round" in row.name else 1))
             for row in rows}

    assert {"Heel depth, along the foot", "Foot length, heel to tip"} <= scale.keys()
    assert max(scale.values()) / min(scale.values()) < 1.01
    dashed = next(e for e in root.iter(f"{SVG}path") if e.get("stroke-dasharray"))
    corners = [float(c) for c in re.findall(r"[\d.]+", dashed.get("d"))]
    heel = next(row for row in rows if row.name.startswith("Heel depth"))
    assert corners[4] - corners[0] == pytest.approx(drawn[heel.letter], abs=0.2)


@pytest.mark.parametrize(("name", "stitches"), [
    ("family-sock", 24),  # 40 % of 60
    ("flat-sock", 31)])  # every other of 62, in one bed
def test_the_tip_of_the_toe_is_half_of_its_last_round(name, stitches):
    runs = runs_of(next(p for p in EXAMPLES if p.stem == name))
    run = runs[5 if name == "family-sock" else 1]
    root = ElementTree.fromstring(schematic_picture([run], 0, heading="x", table=False).svg)
    foot = next(e.get("d") for e in root.iter(f"{SVG}path") if "Q" in e.get("d"))
    y = [float(found) for found in re.search(r"L[\d.]+,([\d.]+)V([\d.]+)L", foot).groups()]
    top, low = (float(found) for found in re.search(r",([\d.]+)V[\d.]+Q[\d.]+,([\d.]+)",
                                                    foot).groups())
    around = next(m.around for m in measures(run) if m.title == "Foot")

    assert (y[0] - y[1]) / (low - top) == pytest.approx(stitches / around, abs=0.01)


def test_the_schematic_has_both_units_and_one_size_where_one_is_asked_for():
    runs = runs_of(next(p for p in EXAMPLES if p.stem == "family-sock"))
    every, one = ([e.text for e in ElementTree.fromstring(schematic_picture(
        made, 0, heading="x").svg).iter(f"{SVG}text")] for made in (runs, runs[5:6]))

    # 245.2 mm are 9.65 inches.
    assert {"24.5", "9¾ in"} <= set(every) and {"24.5", "9¾ in"} <= set(one)
    assert "Man-L" in every and "Man-L" not in one
    # On the drawing and in the table.
    assert one.count("24.5") == 2
    assert any("to scale for Woman-M, in cm:" in words for words in one)


def test_the_fabric_says_what_is_not_to_scale():
    def told(name):
        run = runs_of(next(p for p in EXAMPLES if p.stem == name))[0]
        root = ElementTree.fromstring(OF_ONE_SIZE["fabric"][1](run, heading="x").svg)
        return [e.text for e in root.iter(f"{SVG}text")
                if any(word in e.text for word in ("scale", "gauge", "Folded"))]

    # Size Small: 2 cm at 42 rows per 10 cm.
    assert told("toe-up-sock") == ["A cell is a stitch, as wide and as high as the gauge plain "
                                   "says.", "Folded, the hem has 8 rows of Hem inside."]
    assert told("family-sock")[1:] == ["Not to scale: Cuff (a rib lies half as wide as its "
                                       "needles); rows of the gauge rib."]


def test_words_are_given_as_much_room_as_the_widest_font_takes():
    for font in FONTS:
        for weight in ("regular", "bold"):
            for words in ("Woman-M", "fifth, WMW & ½ “heel”", "ravel cord → Ö"):
                takes = sum(WIDTHS[f"{font} {weight}"].get(letter, 0) for letter in words)
                assert width(words, 12, bold=weight == "bold") >= 12 * takes / 1000


def test_more_than_26_measurements_have_letters():
    made = proof(HEADER + "".join(
        f'section "Band {n}" in plain\n' + ("""    bring centre 30 of front into work to cast on
    set front to knit
    thread main
""" if n == 0 else "") + "    knit 8 rows\n" for n in range(15))).outcomes[0][0].run
    letters = [row.letter for row in dimensions([made])]

    assert (len(letters), letters[25:28]) == (30, ["Z", "AA", "AB"])


def test_a_foot_knitted_to_its_tip_in_one_section_is_drawn():
    made = proof(HEADER + """machine
    beds 2
    needs circular, hold
section "Leg" in plain
    do tube-cast-on with half = 30, yarn = main
    knit 20 rounds
section "Heel" in plain
    do heel on front with leave = 10
section "Foot" in plain
    set both to circular
    knit 50 rounds
    cut
    do graft-end
""").outcomes[0][0].run
    text = schematic_picture([made], 0, heading="x", table=False).svg
    drawn = {e.text for e in ElementTree.fromstring(text).iter(f"{SVG}text")}

    assert {row.letter for row in dimensions([made])} | {"Foot"} <= drawn


MANY = HEADER + "machine\n    beds 2\n    needs circular\n" + "".join(
    f'yarn y{n} "wool"\n' for n in range(7)) + """section "Start" in plain
    half pitch
    bring centre 20 of both into work to cast on
    set both to circular
    thread main
    knit 2 rounds
    cut
""" + "".join(f'section "Narrow band {n}" in plain\n    thread y{n % 7}\n    knit 1 round\n'
              f"    cut\n" for n in range(24))


@pytest.mark.parametrize("kind", ["fabric", "stitches"])
def test_names_of_many_narrow_sections_have_room(kind):
    text = OF_ONE_SIZE[kind][1](proof(MANY).outcomes[0][0].run, heading="Many bands").svg

    for font in FONTS:
        test_words_do_not_lie_on_each_other(text, font)
        test_nothing_lies_outside_the_picture(text, font)


def test_every_yarn_has_a_filling_and_a_name_of_its_own():
    root = ElementTree.fromstring(OF_ONE_SIZE["fabric"][1](proof(MANY).outcomes[0][0].run,
                                                           heading="x").svg)
    patterns = list(root.iter(f"{SVG}pattern"))
    looks = {"".join(ElementTree.tostring(child, "unicode") for child in one) for one in patterns}
    names = [e.text for e in root.iter(f"{SVG}text") if (e.text or "").startswith("wool")]

    assert len({one.get("id") for one in patterns}) == len(looks) == 8
    assert names == [f"wool (y{n})" for n in range(7)]


def test_a_machine_of_one_bed_has_no_pitch():
    runs = runs_of(next(p for p in EXAMPLES if p.stem == "flat-sock"))
    state = courses(runs[0])[20].state

    for beds in (1, 2):
        text = bed_picture(state, needles=100, beds=beds, heading="x", yarn="wool").svg
        assert ("pitch" in text) == (beds == 2)


def test_a_piece_for_one_bed_is_drawn_once():
    runs = runs_of(next(p for p in EXAMPLES if p.stem == "flat-sock"))
    text = OF_ONE_SIZE["fabric"][1](runs[0], heading="x").svg

    words = [e.text for e in ElementTree.fromstring(text).iter(f"{SVG}text")]
    assert "front bed" in words
    assert "back bed" not in words


@pytest.mark.parametrize("kind", QUICK)
def test_a_long_title_lies_inside_the_picture(kind):
    run = runs_of(EXAMPLES[0])[0]
    made = OF_ONE_SIZE[kind][1](run, heading=f"{'Winter ' * 60}sock, Small: {kind}")

    if made is not None:
        test_nothing_lies_outside_the_picture(made.svg, "DejaVu Sans")
        assert f"sock, Small: {kind}</text>" in made.svg


def test_a_letter_of_another_font_is_drawn_beside_a_ligature():
    from sockscript.pictures.png import unjoined

    assert unjoined("off \u5341") == "of\u200cf \u5341"
    assert unjoined("off") == "off"


def test_a_large_picture_is_made_coarser():
    from sockscript.pictures.png import MOST_PIXELS, as_png

    sizes = {}
    for side in (100, 20_000):
        svg = writer.Drawing("x", "Title", "Words")
        svg.fit(side, side)
        made = as_png(svg.render())
        # PNG (W3C), 11.2.1: width and height are the first two numbers of IHDR.
        sizes[side] = [int.from_bytes(made[n:n + 4], "big") for n in (16, 20)]

    assert sizes[100] == [150, 150]
    assert sizes[20_000][0] * sizes[20_000][1] == pytest.approx(MOST_PIXELS, rel=0.01)


def test_dimensions_are_those_of_the_grading_table():
    from sockscript.fit.pace import Pace
    from sockscript.sheet.grading import grading

    runs = runs_of(next(p for p in EXAMPLES if p.stem == "family-sock"))
    table = {row.name: row.values for row in grading(runs, Pace()) if row.part == "as worn"}
    for row in dimensions(runs):
        if row.name.startswith("Foot length"):
            assert [f"{value} cm" for value in row.in_centimetres()] == list(table["foot length"])
            return
    raise AssertionError("no foot length")


def test_one_sign_means_the_same_on_a_terminal_in_pictures_and_on_the_page():
    """Words of all legends come from one list; a diamond, and nothing else, is a stitch in hold."""
    one, held = state_of_one_needle(hold=0), state_of_one_needle(hold=1)

    assert [sign(state, 0).name for state in (one, held)] == ["one", "held"]
    shapes = []
    for state in (one, held):
        drawing = writer.Drawing("x", "x", "x")
        mark_needle(drawing, state, 0, 10, 10, 1)
        drawing.fit(20, 20)
        shapes.append(drawing.render().svg)
    assert "<circle" in shapes[0] and "<path" not in shapes[0]
    assert "<circle" not in shapes[1] and "<path" in shapes[1]


def state_of_one_needle(hold):
    return BedState(1 - hold, 0, hold, 1, 0, 0, 1, "knit", True, 0, 0)


def test_the_turning_is_drawn_as_it_is_at_the_end_of_its_step():
    """The needles that the fold left empty are out of work by then: none is drawn empty."""
    run = runs_of(next(p for p in EXAMPLES if p.stem == "family-sock"))[0]
    drawn = OF_ONE_SIZE["fold"][1](run, heading="x").svg
    after = drawn[drawn.index(">After<"):drawn.index(">Legend<")]

    assert after.count("<circle") == 36
    assert "<path" not in after
