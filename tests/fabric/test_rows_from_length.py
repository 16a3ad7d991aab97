"""Lines that find their rows: the finished piece has the length, whatever follows or went before.

The lengths are read off the finished piece (see ``test_sock_by_shape``); here it is checked that
they are met to half a row, in every way of writing, sharing and performing again.
"""

from __future__ import annotations

import re
from fractions import Fraction

import pytest
from support.command import ROOT
from support.scripts import HEADER, findings_of_text, prepared, proof
from support.sock_parts import (
    AFTERTHOUGHT,
    END,
    HEEL,
    LEG,
    START,
    TAKEN_UP,
    TOE_UP,
    TOES,
    made,
    script,
)
from support.versions import assert_same

from sockscript.expand.many_values import Sharer, joined_run
from sockscript.expand.perform_carriage import TRIAL
from sockscript.expand.run import Run
from sockscript.expand.values import Names
from sockscript.fabric.finished import finished, reading
from sockscript.findings.checked import check
from sockscript.machine.load import script_profile
from sockscript.numbers.quantity import Quantity
from sockscript.service.document import Document
from sockscript.text.source import Source

ROW = Fraction(10, 4)
ASKED = "knit rounds for a foot length of {} mm"


def kinds(parts):
    return {one.kind for one in findings_of_text(script(parts, True))} & {
        "no-rows-fit", "not-measured"}


def counts(run):
    return [wanted.rows for section in run.sections for wanted in section.wanted]


@pytest.mark.parametrize("sections", [True, False], ids=["sections", "one section"])
@pytest.mark.parametrize("toe", TOES)
def test_whatever_toe_follows(toe, sections):
    run = made([("Cuff", START["cast on by hand"][0]), ("Leg", LEG), ("Heel", HEEL),
                ("Foot", ASKED.format(230)), ("Toe", TOES[toe][0])], sections)

    assert abs(finished(run).foot - 230) <= ROW / 2


@pytest.mark.parametrize("toe", TOE_UP)
def test_whatever_toe_went_before(toe):
    run = made([("Toe", TOE_UP[toe][0]), ("Foot", ASKED.format(241)), ("Heel", HEEL),
                ("Leg", LEG), ("Edge", END["bound off bed by bed"])])

    assert abs(finished(run).foot - 241) <= ROW / 2


def test_a_heel_that_is_knitted_last():
    run = made([("Cuff", START["cast on by hand"][0]), ("Leg", LEG), ("Place", AFTERTHOUGHT),
                ("Foot", ASKED.format(252)), ("Toe", TOES["grafted"][0]), ("Heel", TAKEN_UP)])

    assert abs(finished(run).foot - 252) <= ROW / 2


@pytest.mark.parametrize("sections", [True, False], ids=["sections", "one section"])
def test_the_number_by_hand(sections):
    """230 mm are 92 rows of 2.5 mm: 16 of the heel, 15 of the toe, 61 of the foot."""
    run = made([("Cuff", START["cast on by hand"][0]),
                ("Leg", "knit rows for a leg length of 7 cm"), ("Heel", HEEL),
                ("Foot", ASKED.format(230)), ("Toe", TOES["grafted"][0])], sections)

    assert counts(run)[1] == 61
    # The leg is a tube: 28 rounds are 56 rows.
    assert counts(run)[0] == 56 and finished(run).leg == 70


def test_an_even_number():
    lines = ASKED.format(230).replace("knit rounds", "knit even rounds")
    run = made([("Cuff", START["cast on by hand"][0]), ("Leg", LEG), ("Heel", HEEL),
                ("Foot", lines), ("Toe", TOES["grafted"][0])])

    assert counts(run) == [62]


def test_a_line_that_is_done_twice():
    run = made([("Cuff", START["cast on by hand"][0]), ("Leg", LEG), ("Heel", HEEL),
                ("Foot", f"repeat 3 times\n    {ASKED.format(230)}"),
                ("Toe", TOES["grafted"][0])])

    assert counts(run) == [20, 20, 20] and abs(finished(run).foot - 230) <= 3 * ROW / 2


def test_a_line_in_a_technique():
    technique = "\ntechnique foot with long\n    knit rounds for a foot length of long\n"
    text = script([("Cuff", START["cast on by hand"][0]), ("Leg", LEG), ("Heel", HEEL),
                   ("Foot", "do foot with long = 23 cm"), ("Toe", TOES["grafted"][0])], True)
    run = proof(text.replace("\nsection", technique + "\nsection", 1)).outcomes[0][0].run

    assert counts(run) == [61]


def test_a_line_in_a_technique_of_another_file(tmp_path):
    (tmp_path / "feet.sockscript").write_text(
        "technique foot with long\n    knit rounds for a foot length of long\n")
    text = script([("Cuff", START["cast on by hand"][0]), ("Leg", LEG), ("Heel", HEEL),
                   ("Foot", "do foot with long = 23 cm"), ("Toe", TOES["grafted"][0])], True)
    found = check(Source("test.sockscript", text.replace(
        "\nsection", '\nuse "feet.sockscript"\nsection', 1), tmp_path))

    assert not found.problems and counts(found.proof.outcomes[0][0].run) == [61]


CHOICES = script([("Cuff", START["cast on by hand"][0]), ("Leg", LEG), ("Heel", HEEL),
                  ("Foot", "knit rounds for a foot length of foot-length"),
                  ("Toe", """when tip is wide
    do wedge-toe with leave = 12
otherwise
    do wedge-toe with leave = 8
knit 1 round
cut
graft front to back""")], True).replace("\nsection", """
sizes A B
    foot-length 20 26 cm
option tip wide, narrow
option unread one, other

section""", 1)


def test_a_choice_that_only_matters_later():
    """The toe is 12 or 16 rounds and one more."""
    done = proof(CHOICES)

    assert [[counts(outcome.run) for outcome in outcomes] for outcomes in done.outcomes] == [
        [[80 - 16 - 13], [80 - 16 - 17]], [[104 - 16 - 13], [104 - 16 - 17]]]
    # What does not matter is not tried twice, and the author's choices are told as they are.
    assert [len(outcome.choices) for outcome in done.outcomes[0]] == [2, 2]
    assert all(set(choice) == {"tip", "unread"} for outcomes in done.outcomes
               for outcome in outcomes for choice in outcome.choices)


@pytest.mark.parametrize("text", [CHOICES, re.sub('\\n+section "(?!Cuff).*', "", CHOICES)],
                         ids=["sections", "one section"])
def test_sections_that_are_shared_give_the_same_numbers(text):
    ready = prepared(text)
    sharer = Sharer(ready.script, ready.library, script_profile(ready.script), reading)
    for size, tip in ((0, "wide"), (1, "wide"), (0, "narrow"), (1, "narrow"), (0, "wide")):
        names = Names(ready.script, size, {"tip": tip, "unread": "one"})
        path = sharer.sections(names, size)
        run = joined_run(Run(ready.script, path[-1].after.engine, size, names), path)
        long = (Quantity(200), Quantity(260))[size].value

        assert finished(run).foot == long
        assert counts(run) == [long / ROW - 16 - (13 if tip == "wide" else 17)]


def test_after_an_edit_of_the_toe_the_foot_is_knitted_anew():
    document = Document("test.sockscript")
    document.examine(CHOICES)
    again = document.examine(CHOICES.replace("leave = 12", "leave = 10"))
    cold = proof(CHOICES.replace("leave = 12", "leave = 10"))

    assert [[counts(outcome.run) for outcome in outcomes] for outcomes in again.proof.outcomes] \
        == [[counts(outcome.run) for outcome in outcomes] for outcomes in cold.outcomes]
    assert [[moment[:2] for moment in o.run.moments] for a in again.proof.outcomes for o in a] \
        == [[moment[:2] for moment in o.run.moments] for a in cold.outcomes for o in a]


def test_after_an_edit_above_it_the_number_stays():
    document = Document("test.sockscript")
    document.examine(CHOICES)
    longer = CHOICES.replace(LEG, LEG + "\n    note \"Look at it.\"\n    knit 4 rounds")
    again = document.examine(longer)

    assert [counts(outcome.run) for outcome in again.proof.outcomes[0]] == [[51], [47]]


@pytest.mark.parametrize(("long", "told"), [("77.5 mm", False), ("76.25 mm", False),
                                            ("76.24 mm", True)])
def test_heel_and_toe_that_are_longer_than_the_foot(long, told):
    """Heel and toe are 31 rows, 77.5 mm; half a row less is still nearest to no row at all."""
    found = kinds([("Cuff", START["cast on by hand"][0]), ("Leg", LEG), ("Heel", HEEL),
                   ("Foot", f"knit rounds for a foot length of {long}"),
                   ("Toe", TOES["grafted"][0])])

    assert found == ({"no-rows-fit"} if told else set())


def test_a_line_that_adds_nothing_to_the_foot():
    found = kinds([("Cuff", START["cast on by hand"][0]), ("Leg", ASKED.format(230)),
                   ("Heel", HEEL), ("Foot", "knit 40 rounds"), ("Toe", TOES["grafted"][0])])

    assert found == {"no-rows-fit"}


def test_of_two_lines_for_one_length_the_last_knits_what_is_missing():
    parts = [("Cuff", START["cast on by hand"][0]), ("Leg", LEG), ("Heel", HEEL),
             ("Foot", ASKED.format(230)), ("End", TOES["grafted"][0])]

    assert counts(made([*parts[:4], ("More", ASKED.format(230)), parts[4]])) \
        == [0, *counts(made(parts))]


def test_where_no_bed_knits_the_number_taken_for_granted_stays():
    run = made([("Cuff", START["cast on by hand"][0]), ("Leg", LEG), ("Heel", HEEL),
                ("Foot", "knit 40 rounds\nset both to rest\n"
                 + ASKED.format(230).replace("rounds", "rows")
                 + "\nset both to circular"), ("Toe", TOES["grafted"][0])])

    assert counts(run) == [TRIAL]


def test_a_foot_without_a_toe_or_a_heel():
    start, heel = ("Cuff", START["cast on by hand"][0]), ("Heel", HEEL)
    foot, end = ("Foot", ASKED.format(230)), ("End", END["bound off bed by bed"])

    assert kinds([start, heel, foot, end]) == {"no-rows-fit"}
    assert kinds([start, foot, ("Toe", TOES["grafted"][0])]) == {"no-rows-fit"}


def test_what_is_no_length_is_told():
    found = findings_of_text(HEADER + '''
section "Test"
    knit rounds for a foot length of 12
''')

    assert [one.kind for one in found] == ["not-a-length"]


def test_a_line_in_the_place_of_another_after_an_edit_finds_rows_of_its_own():
    """Two sections more move the leg to where the foot was; each stands in the same line of its
    section."""
    leg = "    set both to circular\n    knit rounds for a leg length of leg-length\n"
    text = (ROOT / "examples" / "afterthought-sock.sockscript").read_text("utf-8")
    text = re.sub(r"    target (girth|length leg|foot length).*\n|    # As many.*\n", "", text)
    text = text.replace(
        "    set both to circular\n    thread main\n    hang weights\n    row counter 0\n"
        "    knit rows(leg-length) to nearest rounds\n", leg + "    thread main\n")
    more = text.replace('section "Leg"', 'section "More"\n    note "a"\n\nsection "Even more"\n'
                        '    note "b"\n\nsection "Leg"').replace(leg, leg + '    note "x"\n')
    document = Document("sock.sockscript")
    for version in (text, more, text):
        document.examine(version)
        assert len({rows for outcomes in document.examined.proof.outcomes
                    for rows in counts(outcomes[0].run)}) > 1
        assert_same(document, version)
