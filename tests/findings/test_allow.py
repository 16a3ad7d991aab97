"""Findings that the author allows, with her reason."""

from __future__ import annotations

import pytest
from support.scripts import problems

from sockscript.commands.check import check_file, report
from sockscript.findings.ranges import RangeProof
from sockscript.machine.load import script_profile

BODY = '''pattern "Allowed"
yarn main "any yarn"
{top}
section "Strip"
    bring centre 20 of front into work
    set front to knit
    thread main
    cast on front
    knit 5 rows
{inside}    remove comb
    cut
    gather front
'''


def checked(tmp_path, top="", inside=""):
    path = tmp_path / "x.sockscript"
    path.write_text(BODY.format(top=top, inside=inside), "utf-8")
    return check_file(path, None)


@pytest.mark.parametrize("where", [
    {"top": 'allow not-hung because "the comb of the last piece still hangs"'},
    {"inside": '    allow not-hung because "the comb of the last piece still hangs"\n'}])
def test_an_allowed_finding_is_told_with_its_reason(tmp_path, where):
    assert [f.kind for f in checked(tmp_path).findings] == ["not-hung"]

    found = checked(tmp_path, **where)

    assert found.findings == ()
    assert "ALLOWED  not-hung" in report(found)
    assert "the comb of the last piece" in report(found).replace("\n", " ")
    assert "no stitch is lost" in report(found)


def test_it_holds_only_for_the_line_that_follows(tmp_path):
    found = checked(tmp_path, inside='    allow not-hung because "no"\n    knit 2 rows\n')

    assert [f.kind for f in found.findings] == ["not-hung", "allow-without-effect"]


def test_it_holds_only_for_the_finding_that_it_names(tmp_path):
    found = checked(tmp_path, inside='    allow never-comb-off because "no"\n')

    assert {f.kind for f in found.findings} == {"allow-without-effect", "not-hung"}


def test_a_finding_that_does_not_exist_is_told():
    (problem,) = problems(BODY.format(top='allow not-hang because "no"', inside=""))

    assert problem.kind == "unknown-finding" and "not-hung" in problem.hint


def test_what_keeps_a_script_from_being_read_cannot_be_allowed():
    (problem,) = problems(BODY.format(top='allow open-quote because "no"', inside=""))

    assert problem.kind == "unknown-finding"


def test_in_a_range_it_is_allowed_too():
    from support.scripts import prepared

    text = BODY.format(top='allow not-hung because "no"\nworks for\n    n 1 to 3\nlet n = 2',
                       inside="    knit n rows\n")
    ready = prepared(text)
    survey = RangeProof(ready, script_profile(ready.script)).survey(0, 3)

    assert {verdict for verdict in survey.verdicts if verdict is not None} == {frozenset()}




def test_what_is_allowed_keeps_nobody_from_fitting_a_size(tmp_path, capsys):
    from sockscript.commands import fit

    path = tmp_path / "x.sockscript"
    text = BODY.format(top='allow not-hung because "no"\nsizes Small Large\n    wide 20 24\n',
                       inside="").replace("centre 20", "centre wide")
    path.write_text(text, "utf-8")

    status = fit.run(file=path, measures={"wide": "22"}, shoe=None, gauge=None, choose=[],
                     machine=None, out=None)

    assert status == 0
    assert "22 needles" in capsys.readouterr().out


@pytest.mark.parametrize("block", [
    "    repeat 1 times\n        {}\n        move weights\n",
    "    when row counter 5\n        {}\n        move weights\n",
    "    when row counter 6\n        knit 1 row\n    otherwise\n        {}\n        move weights\n",
    "    repeat 1 times\n        when row counter 5\n            {}\n            move weights\n"])
def test_it_may_stand_in_any_block(tmp_path, block):
    """Weights that hang nowhere are moved there; the comb is taken off all the same."""
    bare = checked(tmp_path, inside=block.replace("{}", "row counter 5"))
    found = checked(tmp_path, inside=block.format('allow not-hung because "no weights here"'))

    assert [f.kind for f in bare.findings] == ["not-hung"] * 2
    assert [f.kind for f in found.findings] == ["not-hung"]
    assert [one.reason for one in found.allowed] == ["no weights here"]


def test_as_the_last_line_of_a_block_it_has_no_effect(tmp_path):
    found = checked(tmp_path, inside='    repeat 1 times\n        knit 1 row\n'
                                     '        allow not-hung because "too late"\n')

    assert [f.kind for f in found.findings] == ["not-hung", "allow-without-effect"]
    assert found.allowed == ()


def test_it_may_stand_in_a_technique_of_the_script_itself(tmp_path):
    technique = "technique tidy\n{}    move weights\n"
    bare = checked(tmp_path, top=technique.format(""), inside="    do tidy\n")
    found = checked(tmp_path, inside="    do tidy\n", top=technique.format(
        '    allow not-hung because "no weights here"\n'))

    assert [f.kind for f in bare.findings] == ["not-hung"] * 2
    assert [f.kind for f in found.findings] == ["not-hung"]
    assert [one.reason for one in found.allowed] == ["no weights here"]


def test_allowances_without_effect_are_told_in_the_order_of_their_lines(tmp_path):
    found = checked(tmp_path, inside='    allow never-comb-off because "no"\n    do tidy\n',
                    top='technique tidy\n    allow not-hung because "no"\n    knit 1 row\n')

    assert [(f.kind, f.at.line) for f in found.findings if f.kind != "not-hung"] == [
        ("allow-without-effect", 4), ("allow-without-effect", 13)]
