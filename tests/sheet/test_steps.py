"""The printed steps: sheets that were read, and the rules by which sizes are put together."""

from __future__ import annotations

import re
from pathlib import Path

import pytest
from hypothesis import given
from hypothesis import strategies as st
from support.scripts import FLAT, HEADER, TUBE, proof, run

from sockscript.commands import steps
from sockscript.expand.described import NeedleSet, OuterNeedles
from sockscript.expand.printed import CarriageMove, GraftingGroups
from sockscript.expand.record import Instruction
from sockscript.fabric.measures import measures
from sockscript.fabric.side_edges import edge_rows
from sockscript.machine.profile import ANY_DOUBLE_BED
from sockscript.numbers.figures import figure, number_of, shown
from sockscript.numbers.quantity import Quantity
from sockscript.sheet.facts import finishing, tools
from sockscript.sheet.markdown import escaped
from sockscript.sheet.merge import align, blend, shape
from sockscript.sheet.numbering import plan_for
from sockscript.sheet.sentences import sentence
from sockscript.sheet.sheet import materials

HERE = Path(__file__).resolve().parent
GOLDEN = HERE / "golden"
EXAMPLES = HERE.parents[1] / "examples"

SHEETS = {
    "small.txt": (GOLDEN / "small.sockscript", {}),
    "small-all-choices.txt": (GOLDEN / "small.sockscript", {"all_choices": True}),
    "small.md": (GOLDEN / "small.sockscript", {"format": "markdown"}),
    "small-rows.txt": (GOLDEN / "small.sockscript", {"every_row": True, "sizes": ["Small"]}),
    "small-machine.txt": (GOLDEN / "small.sockscript", {"machine": "dunlin-60"}),
    "family-sock.txt": (EXAMPLES / "family-sock.sockscript", {}),
    "leg-warmer.txt": (EXAMPLES / "leg-warmer.sockscript", {}),
    "three-sizes.txt": (EXAMPLES / "family-sock.sockscript", {
        "sizes": ["Woman-S", "Woman-M", "Woman-L"], "my_size": "Woman-M", "bank_book": True}),
    "flat-sock.txt": (EXAMPLES / "flat-sock.sockscript", {"sizes": ["medium"]}),
}


PLAIN = {"sizes": [], "choose": [], "all_choices": False, "machine": None, "format": "text",
         "every_row": False, "out": None, "my_size": None, "bank_book": False}


def printed(capsys, file, **options) -> str:
    """What ``steps`` prints."""
    assert steps.run(file=file, **{**PLAIN, **options}) == 0
    out, err = capsys.readouterr()
    assert err == ""
    return out


@pytest.mark.parametrize("name", sorted(SHEETS))
def test_the_sheet_is_as_reviewed(name, capsys):
    file, options = SHEETS[name]

    assert printed(capsys, file, **options) == (GOLDEN / name).read_text("utf-8")


def test_lines_of_text_fit_the_page(capsys):
    for line in printed(capsys, EXAMPLES / "family-sock.sockscript").splitlines():
        assert len(line) <= 90


def test_one_size_and_a_settled_choice(capsys):
    text = printed(capsys, EXAMPLES / "family-sock.sockscript", sizes=["woman-m"],
                   choose=["finish=gather"])

    assert "Size: Woman-M" in text and "(" not in text.split("CUFF")[1].split("[")[0]
    assert "draw it twice through all" in " ".join(text.split())


@pytest.mark.parametrize("options, says", [
    ({"sizes": ["Giant"]}, "There is no size 'Giant'"),
    ({"sizes": ["Womn-M"]}, "Did you mean 'Woman-M'"),
    ({"choose": ["colour=red"]}, "no option 'colour'"),
    ({"choose": ["finish=knot"]}, "not a choice for finish"),
    ({"choose": ["finish"]}, "missing: write finish=… . Choose from"),
    ({"format": "pdf"}, "There is no format 'pdf'"),
    ({"my_size": "Giant"}, "There is no size 'Giant'"),
    ({"sizes": ["Man-M"], "my_size": "Woman-M"}, "not among those that are printed"),
])
def test_what_is_not_there_is_told(options, says, capsys):
    assert steps.run(file=EXAMPLES / "family-sock.sockscript", **{**PLAIN, **options}) == 2
    assert says in capsys.readouterr().err


def test_a_pattern_with_faults_is_printed_with_a_warning(capsys):
    file = EXAMPLES / "broken" / "empty-needle-catches.sockscript"
    assert steps.run(file=file, **PLAIN) == 0
    out, err = capsys.readouterr()

    assert "do not knit it" in err and "EMPTY NEEDLE CATCHES" in out


def test_every_row_has_a_box_and_plain_rows_ten_on_a_line(capsys):
    """84 passes of the leg; the heel's rows, each with needles of its own, one by one."""
    text = printed(capsys, EXAMPLES / "family-sock.sockscript", every_row=True, sizes=["Woman-M"])
    leg = text[text.index("\nLEG\n"):text.index("\nHEEL\n")]
    heel = text[text.index("\nHEEL\n"):text.index("\nFOOT\n")]
    full = "      [ ][ ][ ][ ][ ] [ ][ ][ ][ ][ ]  RC   10  COR  30 + 30"

    assert leg.count("[ ]") == 84
    lines = [line for line in leg.splitlines() if "[ ]" in line]
    assert lines[0] == full
    assert lines[-1] == "      [ ][ ][ ][ ]                     RC   84  COR  30 + 30"
    assert [line.count("[ ]") for line in heel.splitlines() if "[ ]" in line] == [1] * 40


def test_the_file_is_written_whole_or_not_at_all(tmp_path, capsys):
    options = {key: value for key, value in PLAIN.items() if key != "out"}
    out = tmp_path / "sheet.txt"
    assert steps.run(file=GOLDEN / "small.sockscript", out=out, **options) == 0
    assert out.read_text("utf-8") == (GOLDEN / "small.txt").read_text("utf-8")
    nowhere = tmp_path / "no" / "x.txt"
    assert steps.run(file=GOLDEN / "small.sockscript", out=nowhere, **options) == 2
    assert "cannot be written" in capsys.readouterr().err
    assert list(tmp_path.iterdir()) == [out]


def test_a_choice_that_stops_early_is_printed_as_far_as_it_goes(tmp_path, capsys):
    path = tmp_path / "a.sockscript"
    path.write_text(HEADER + '''option way good, bad
section "One"
    half pitch
    when way is bad
        knit 1 / 2 rows
section "Two"
    full pitch
''')
    assert steps.run(file=path, **{**PLAIN, "all_choices": True}) == 0
    said = capsys.readouterr().out
    assert "TWO, WITH WAY GOOD" in said and "Set the beds to full pitch." in said


# ---- sizes put together


@pytest.mark.parametrize("values, text", [((48, 52, 56), "48 (52, 56)"), ((48, 48), "48"),
                                          ((1,), "1")])
def test_numbers_of_several_sizes(values, text):
    assert shown(figure(values)) == text


def test_a_noun_is_singular_only_if_all_sizes_have_one():
    assert number_of(figure((1, 1)), "row", "rows") == "1 row"
    assert shown(number_of(figure((1, 2)), "row", "rows")) == "1 (2) rows"
    assert shown(number_of(figure((1, None)), "row", "rows")) == "1 row"


def outer(end, count):
    return NeedleSet("front", (OuterNeedles(end, Quantity(count), "stitches"),))


def test_parts_of_descriptions_are_blended_one_by_one():
    both = blend([outer("left", 3), outer("left", 4)])

    assert shown(both.pieces[0].count) == "3 (4)"
    assert both.pieces[0].count.values == (3, 4)


def test_what_differs_in_more_than_numbers_is_no_one_sentence():
    assert shape(outer("left", 3)) == shape(outer("left", 4))
    assert shape(outer("left", 3)) != shape(outer("right", 3))
    assert shape(CarriageMove("left")) == shape(CarriageMove("right"))


def test_lines_that_differ_in_more_than_numbers_are_printed_apart():
    """In two sizes there is a yarn to cut: one sentence for all would be wrong in one of them."""
    text = HEADER + '''sizes S M L
    wide 20 20 24
section "Test"
    bring centre wide of both into work to cast on
    when wide is 20
        thread main
    cut
'''
    made = proof(text)
    steps = plan_for(made, made.outcomes[0][0]).sections[0].steps

    assert [(step.only, step.text.rpartition(" into work. ")[2]) for step in steps][1:] == [
        (("S", "M"), "Thread the four-ply sock wool. Cut the four-ply sock wool."),
        (("L",), "Cut the yarn.")]


@given(st.lists(st.lists(st.integers(0, 9), unique=True), min_size=1, max_size=5))
def test_aligning_keeps_every_item_of_every_list_in_order(lists):
    rows = align(lists, lambda item: item)

    for position, items in enumerate(lists):
        assert [row[position] for row in rows if row[position] is not None] == items
    for row in rows:
        assert len({item for item in row if item is not None}) == 1


def test_steps_that_only_some_sizes_have_are_marked():
    text = HEADER + '''sizes S M L
    extra 0 2 2
section "Test"
''' + "".join(f"    {line}\n" for line in FLAT.splitlines()) + '''    when extra is more than 0
        knit extra rows
    cut
    gather front
'''
    made = proof(text)
    plan = plan_for(made, made.outcomes[0][0])
    marked = [step for section in plan.sections for step in section.steps if step.only]

    assert [(step.only, step.text) for step in marked] == [(("M", "L"), "Knit 2 rows.")]


def test_every_instruction_has_a_printed_number():
    made = proof(HEADER + 'section "Test"\n' + "".join(
        f"    {line}\n" for line in TUBE.splitlines())
        + "    do wedge-toe with leave = 12\n    cut\n    gather both\n")
    plan = plan_for(made, made.outcomes[0][0])
    run = made.outcomes[0][0].run

    def every(instructions):
        for one in instructions:
            assert isinstance(one, Instruction)
            yield one
            for body in one.rounds:
                yield from every(body)

    for one in every(run.sections[0].instructions):
        assert plan.number_of(0, one.number) is not None


# ---- facts from the simulation


def test_measurements_come_from_the_fabric():
    """72 stitches and 50 rounds at 30 by 42 over 10 cm, computed by hand."""
    made = run(f"{TUBE}\nknit 46 rounds\ncut\ngather both")
    found = measures(made)[0]

    assert (found.around, found.rows) == (72, 51)
    assert float(found.girth) == pytest.approx(240.0, abs=0.01)
    assert float(found.length) == pytest.approx(121.43, abs=0.01)


def test_ends_are_counted_from_every_cut():
    made = run(f"{FLAT}\nknit 3 rows\ncut\nthread main\nknit 2 rows\ncut\nthread waste\n"
               "knit 1 row\ncut\ngather front")

    assert any("Weave in 4 ends" in line for line in finishing([made]))


def test_tools_are_those_the_operations_need():
    plain = tools([run(f"{FLAT}\ncut\ngather front")])
    shaped = tools([run(f"{FLAT}\nhang comb\nmove 3 stitches at left of front in by 1\n"
                         "knit 1 row\nremove comb\ndrop L3 of front\nlatch up L3 of front\n"
                         "cut\ngather front")])

    assert not any("latch" in tool or "prong" in tool or "comb" in tool for tool in plain)
    assert "latch tool" in shaped and "transfer tool with 3 prongs" in shaped
    assert "cast-on comb" in shaped


@pytest.mark.parametrize("text", ["<script>alert(1)</script>", "# not a title", "*bold* _x_ [a](b)",
                                  "1. not a list", "a | b", "![x](y)"])
def test_what_the_author_writes_stays_text_in_markdown(text):
    safe = escaped(text)

    assert "<" not in safe.replace("\\<", "")
    assert not safe.startswith(("# ", "1. ", "- "))
    assert not re.search(r"(?<!\\)[\[\]*_`|!]", safe)


def test_the_edges_of_a_heel_in_two_halves_are_sewn_to_each_other():
    """By hand for the smallest size of the flat sock: 54 stitches, a quarter of them 13, worked
    down to 5 and back with two rows a stitch; a row more where the half is begun."""
    path = Path(__file__).resolve().parents[2] / "examples" / "flat-sock.sockscript"
    one = proof(path.read_text("utf-8")).outcomes[0][0].run
    edges = {edge.title: edge for edge in edge_rows(one)}

    left, right = edges["Heel, left half"], edges["Heel, right half"]
    assert left.left - left.right == 2 * 2 * (13 - 5) + 1
    assert right.right - right.left == 2 * 2 * (13 - 5) + 1 + 1
    assert any(line.startswith("Sew the left edge of “Heel, left half” (33 rows)")
               and "to the right edge of “Heel, right half”" in line for line in finishing([one]))


@pytest.mark.parametrize("yarns, listed", [
    ("", ["four-ply sock wool",
          "smooth waste yarn, some lengths for the stitches that are taken off"]),
    ('yarn spare "odd ends" as waste\n', ["four-ply sock wool", "odd ends (waste yarn)"])])
@pytest.mark.parametrize("work", [
    "scrap off front as one\nscrap off back as two\ngraft one to two", "do both-off"])
def test_who_takes_stitches_off_has_waste_yarn_beside_her(work, yarns, listed):
    header = HEADER + yarns + ("technique both-off\n    scrap off front as one\n"
                               "    scrap off back as two\n    graft one to two\n")
    made = run(f"{TUBE}\nremove weights\ncut\n{work}", header)
    grafted = [sentence(one.printed, ANY_DOUBLE_BED) for one in made.sections[0].instructions
               if isinstance(one.printed, GraftingGroups)]

    assert materials(made.script, [made]) == listed
    assert "Take off all waste yarn once the stitches beside it are secured." in finishing([made])
    assert all(one.endswith(", then draw out the waste yarn.") for one in grafted)
    none = run(f"{TUBE}\nremove weights\ncut\ngraft front to back", header)
    assert materials(none.script, [none]) == listed[:1]
