"""Every statement of the language reference is printed, in words that tell all it says."""

from __future__ import annotations

import re
from pathlib import Path
from typing import get_args

import pytest
from attrs import fields
from support.command import sockscript
from support.scripts import HEADER, proof, run

from sockscript.expand import described, printed
from sockscript.expand.used import load_library
from sockscript.numbers.figures import shown
from sockscript.sheet import json_form, markdown, text
from sockscript.sheet.needle_words import condition_clause
from sockscript.sheet.numbering import plan_for
from sockscript.sheet.sentences import sentence
from sockscript.sheet.sheet import make_sheet
from sockscript.tree import instructions

REFERENCE = Path(__file__).resolve().parents[2] / "grammar" / "README.md"
BLOCKS = re.findall(r"```sockscript(-lines)?\n(.*?)```", REFERENCE.read_text("utf-8"), re.S)


def as_script(kind: str, block: str) -> str:
    """A block of the reference as a whole script."""
    if not kind:
        return block
    return HEADER + 'section "x"\n' + "".join(f"    {line}\n" for line in block.splitlines())


PROOFS = [proof(as_script(*block)) for block in BLOCKS
          if "use " not in block[1] and 'section "' in as_script(*block)]


def leaves(instructions_):
    """All instructions, those in repeats too."""
    for one in instructions_:
        yield one
        for body in one.rounds:
            yield from leaves(body)


def everything_printed():
    """Each instruction of the reference, in every size and with every choice."""
    for done in PROOFS:
        for outcomes in done.outcomes:
            for outcome in outcomes:
                for section in outcome.run.sections:
                    yield from leaves(section.instructions)


def nodes(block, kinds):
    """The statements of a block and of the blocks in it that are of these kinds."""
    for statement in block:
        if isinstance(statement, kinds):
            yield statement
        for name in ("body", "otherwise"):
            yield from nodes(getattr(statement, name, ()), kinds)


def test_every_kind_of_instruction_is_in_the_reference_and_is_printed():
    shown = {type(one.printed) for one in everything_printed()}

    assert set(get_args(printed.Printed)) - shown == set()


def test_every_statement_of_the_language_prints_something():
    """A new statement has an example in the reference (``tests/grammar``), so it is here too."""
    at_work = set(get_args(instructions.WorkStatement))
    told = {one.span for one in everything_printed()}
    printing = set()
    for done in PROOFS:
        script = done.prepared.script
        library = load_library(script)[0]
        blocks = [section.body for section in script.sections]
        blocks += [technique.body for name in sorted(library.all_names())
                   if (technique := library.get(name)) is not None]
        for block in blocks:
            printing |= {type(node) for node in nodes(block, tuple(at_work)) if node.at in told}

    assert at_work - printing == set()


@pytest.mark.parametrize("done", PROOFS)
def test_every_form_has_a_sentence_for_every_step_of_the_reference(done):
    plans = [((), plan_for(done, outcome)) for outcome in done.outcomes[0]][:1]
    sheet = make_sheet(done.prepared.script, plans, done.profile, False)
    steps = [shown(line.words) for block in sheet.steps() for line in block.lines]
    pages = [text.render(sheet), markdown.render(sheet), json_form.render(sheet)]

    assert steps and all(steps)
    for step in steps:
        assert not re.search(r"Quantity|None|\{|\}|[A-Z]\w+\(\w+=", step)
    assert all(len(page) > 200 for page in pages)


def fields_told(one, words):
    """Which fields of numbers and names of an instruction do not stand in its sentence."""
    for field in fields(type(one)):
        value = getattr(one, field.name)
        if isinstance(value, tuple) or not str(value) or str(value) in ("none", "both", "0", "1"):
            continue
        if field.name in ("steps", "side", "size", "yarn", "count", "value", "by") \
                and str(value) not in words:
            yield field.name


def test_numbers_sides_and_yarns_stand_in_the_sentence():
    profile = PROOFS[0].profile
    for one in everything_printed():
        if isinstance(one.printed, printed.Repeating):
            continue
        words = sentence(one.printed, profile)
        if isinstance(one.printed, printed.Racking) and str(one.printed.steps) == "0":
            continue
        assert list(fields_told(one.printed, words)) == [], words


@pytest.mark.parametrize("edges, words", [
    ((), "Graft the stitches of the one to those of the other end, then draw out the waste "
          "yarn."),
    (("other-end",), "Graft the stitches of the one to the open loops of the other end, then draw "
                     "out the waste yarn."),
    (("one",), "Graft the open loops of the one to the stitches of the other end, then draw out "
               "the waste yarn."),
    (("one", "other-end"), "Graft the open loops of the one to those of the other end, then draw "
                           "out the waste yarn."),
])
def test_what_is_grafted_off_the_machine(edges, words):
    assert sentence(printed.GraftingGroups("one", "other-end", edges), PROOFS[0].profile) == words


CONDITIONS = {
    "10 stitches on front": (described.Counted, "10 stitches are left on the front bed"),
    "carriage left": (described.CarriageStands, "the carriage is at the left"),
    "row counter 4": (described.CounterShows, "the row counter shows 4"),
    "tube of 10 stitches a bed": (described.TubeHas, "10 stitches are on each bed"),
    "beds equal": (described.BedsAlike, "both beds have the same number of stitches"),
    "comb hung": (described.Hangs, "the comb hangs"),
    "weights hung": (described.Hangs, "the weights hang"),
    "yarn threaded": (described.Hangs, "a yarn is threaded"),
    "front set to rest": (described.SetTo, "the front bed is set to rest"),
    "both set to circular": (described.SetTo, "both beds are set to circular"),
    "beds at full pitch": (described.AtPitch, "the beds are at full pitch"),
    "back respects hold": (described.HoldRespected, "hold is respected on the back bed"),
    "4 is multiple of 3": (described.Compared, "4 is a multiple of 3"),
    "size is S, M": (described.SizeIn, "the size is S or M"),
    "3 is at least 2": (described.Compared, "3 is at least 2"),
    "not carriage left": (described.NotSo,
                          "it is no longer so that the carriage is at the left"),
    "carriage left and row counter 1": (
        described.Several, "the carriage is at the left and the row counter shows 1"),
}


@pytest.mark.parametrize("condition", CONDITIONS)
def test_every_condition_has_its_clause_after_until(condition):
    from sockscript.expand.conditions import judge

    kind, words = CONDITIONS[condition]
    header = HEADER + "sizes S M\n    length 1 1\n"
    made = proof(f'{header}section "Test"\n    repeat until {condition}\n        half pitch\n')
    statement = made.prepared.script.sections[0].body[0]
    at = made.outcomes[0][0].run
    at.places = (statement.at,)
    said = judge(at, statement.until).words
    if condition == "carriage left and row counter 1":
        said = described.Several("and", (described.CarriageStands("left"),
                                         described.CounterShows(1)))

    assert isinstance(said, kind)
    assert condition_clause(said, falling=True) == words


def test_every_kind_of_condition_is_in_the_list_above():
    assert {kind for kind, _ in CONDITIONS.values()} == set(get_args(described.ConditionSaid))


def test_kinds_for_other_tools_are_spelled_in_one_way():
    kinds = {one.printed.kind for one in everything_printed()}
    made = run("bring centre 20 of front into work\nthread main\ncast on centre 20 of front\n"
               "set front to knit\nknit 2 rows\nbind off front")
    kinds |= {one.printed.kind for one in leaves(made.sections[0].instructions)}

    assert {"cast-on", "bind-off", "scrap-off", "latch-up"} <= kinds
    assert all(re.fullmatch("[a-z]+(-[a-z]+)*", kind) for kind in kinds)


COUNTED = """pattern "Counted"
yarn main "wool"
sizes S M
    wide 20 24
    last 10 12
section "Piece"
    bring centre wide of front into work
    set front to knit
    thread main
    cast on front
    let done = 0
    repeat until {}
        move 2 stitches at left of front in by 1
        knit 2 rows
        let done = done + 1
    bind off front
    cut
"""


@pytest.mark.parametrize(("until", "words"), [
    # A reader sees the stitches on the machine, but no value of a name.
    ("done is last", "Work these 2 rows 10 (12) times in all."),
    ("last is at most done", "Work these 2 rows 10 (12) times in all."),
    ("count-on(front) - 1 is wide - last - 1", "Work these 2 rows 10 (12) times in all."),
    ("done is last and carriage right", "Work these 2 rows 10 (12) times in all."),
    ("not done is less than last", "Work these 2 rows 10 (12) times in all."),
    ("wide - last stitches on front",
     "Repeat these 2 rows until 10 (12) stitches are left on the front bed: 10 (12) times in all."),
    ("count-on(front) is wide - last",
     "Repeat these 2 rows until 10 (12) stitches are left on the front bed: 10 (12) times in all."),
    ("count-working(front) is at most wide - last",
     "Repeat these 2 rows until at most 10 (12) stitches are left in work on the front bed: "
     "10 (12) times in all."),
    ("row counter last * 2",
     "Repeat these 2 rows until the row counter shows 20 (24): 10 (12) times in all."),
])
def test_a_repeat_says_until_when_only_where_the_machine_tells(until, words, tmp_path):
    path = tmp_path / "counted.sockscript"
    path.write_text(COUNTED.format(until), "utf-8")

    assert words in " ".join(sockscript("steps", path).stdout.split())


@pytest.mark.parametrize(("inner", "words"), [
    ("knit 4 rows\n        repeat 3 times\n            knit 1 row",
     "Knit 4 rows. [Knit 1 row. Work this row 3 times in all.] Work these 7 rows 5 times in all."),
    ("repeat 3 times\n            knit 1 row\n        knit 4 rows",
     "[Knit 1 row. Work this row 3 times in all.] Knit 4 rows. Work these 7 rows 5 times in all."),
    ("knit 2 rows\n        repeat 2 times\n            knit 4 rows\n            repeat 3 times\n"
     "                knit 1 row", "[Knit 4 rows. [Knit 1 row. Work this row 3 times in all.] Work "
     "these 7 rows 2 times in all.] Work these 16 rows 5 times in all."),
    # What is done once begins nowhere in particular, nor does a repeat that is all of another.
    ("knit 4 rows\n        repeat 1 times\n            knit 1 row",
     "Knit 4 rows. Knit 1 row. Work these 5 rows 5 times in all."),
    ("repeat 3 times\n            knit 2 rows",
     "Knit 2 rows. Work these 2 rows 3 times in all. Work these 6 rows 5 times in all."),
])
def test_a_repeat_within_a_repeat_shows_where_it_begins(inner, words, tmp_path):
    path = tmp_path / "nested.sockscript"
    path.write_text(COUNTED.replace("until {}", f"5 times\n        {inner}").replace(
        "        move 2 stitches at left of front in by 1\n        knit 2 rows\n"
        "        let done = done + 1\n", ""), "utf-8")

    assert words in " ".join(sockscript("steps", path).stdout.split())


SCRAPPED = """pattern "Scrapped"
yarn main "wool"
{}section "Piece"
    bring centre 20 of front into work
    set front to knit
    thread main
    cast on front
    knit 4 rows
    cut
    {}
    gather front
"""


@pytest.mark.parametrize(("yarn", "work", "listed"), [
    ("", "scrap off front as rest\n    rehang rest to centre 20 of front",
     ["smooth waste yarn, some lengths for the stitches that are taken off"]),
    ('yarn scrap "cotton" as waste\n',
     "scrap off front as rest\n    rehang rest to centre 20 of front", ["cotton (waste yarn)"]),
    ("", "move carriage to far side", [])])
def test_stitches_that_are_scrapped_off_take_waste_yarn(yarn, work, listed, tmp_path):
    path = tmp_path / "scrapped.sockscript"
    path.write_text(SCRAPPED.format(yarn, work), "utf-8")
    materials = sockscript("steps", path).stdout.split("Tools")[0].split("---------\n")[1]

    assert [line.strip() for line in materials.splitlines() if line.strip()] == ["wool", *listed]
