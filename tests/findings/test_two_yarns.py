"""Two yarns knitted together: what the check and the printed pattern say of them."""

from __future__ import annotations

import pytest
from support.scripts import FLAT, HEADER, TUBE_64, findings, kinds, problems, proof, run

from sockscript.expand import printed
from sockscript.fabric.amounts import yarn_amounts
from sockscript.machine.profile import ANY_DOUBLE_BED
from sockscript.sheet.facts import finishing
from sockscript.sheet.sentences import sentence

NYLON = 'yarn nylon "nylon"'
TWO = HEADER + NYLON + '\n'
TECHNIQUE = TWO + '''technique with-two with second
    thread second along
    knit 4 rows
    cut second
'''


@pytest.mark.parametrize("begin, work, close", [
    (FLAT, "knit 4 rows", "gather front"),
    (TUBE_64, "knit 4 rounds", "remove weights\ngather both"),
    (FLAT, "knit 1 row\nknit 1 row\nknit 1 row", "gather front")])
def test_a_thread_along_for_some_rows_is_nothing_to_tell(begin, work, close):
    body = f"{begin}\nthread nylon along\n{work}\ncut nylon\nknit 2 rows\ncut\n{close}"

    assert kinds(body, TWO) == []
    assert kinds(body.replace("thread nylon along\n", "thread nylon along\nthread main along\n"),
                 TWO)[:1] == ["third-yarn"]


def test_from_a_technique_too():
    body = f"{FLAT}\ndo with-two with second = nylon\n{{}}cut\ngather front"

    assert kinds(body.format(""), TECHNIQUE) == []
    assert kinds(body.format("cut\ndo with-two with second = nylon\n"), TECHNIQUE) == [
        "added-to-nothing"]


ALONE = "yarn-left-alone"
METRES = TWO.replace('wool"', 'wool" 400 m per 100 g').replace('nylon"', 'nylon" {} m per 100 g')
NO_GAUGE = METRES.replace("gauge plain 30 stitches, 42 rows per 10 cm\n", "")


@pytest.mark.parametrize("begin, work, close", [
    (FLAT, "knit 4 rows", "gather front"),
    (TUBE_64, "knit 4 rounds", "remove weights\ngather both"),
    (FLAT, "knit 1 row", "gather front"), (FLAT, "bind off front", "")])
@pytest.mark.parametrize("cut, told", [
    ("cut main", [ALONE]), ("cut nylon", []), 
    ("cut main\nthread main along", []), ("cut main\ncut\nthread nylon", [])])
def test_a_thread_that_goes_on_alone(begin, work, close, cut, told):
    body = f"{begin}\nthread nylon along\nknit 2 rows\n{cut}\n{work}\ncut\n{close}"

    assert kinds(body, TWO) == told


def test_a_yarn_that_fades_into_another_is_told_by_its_metres():
    body = f"{FLAT}\nthread nylon along\nknit 2 rows\ncut main\nknit 2 rows\ncut\ngather front"
    thin = findings(body, METRES.format(3333))

    assert kinds(body, METRES.format(400)) == []
    assert [one.kind for one in thin] == ["yarn-and-gauge-apart"]
    assert [place.label for place in thin[0].others] == ["it goes on alone here"]
    assert kinds(body, NO_GAUGE.format(400)) == [ALONE]


def test_both_threaded_at_once_and_both_cut_at_once():
    done = run(FLAT.replace("thread main", "thread main and nylon") + "\nknit 3 rows\ncut\n"
               "gather front", TWO)
    words = [sentence(one.printed, ANY_DOUBLE_BED) for one in done.sections[0].instructions
             if isinstance(one.printed, (printed.Threading, printed.Cutting))]

    assert words == ["Thread the four-ply sock wool and the nylon together.",
                     "Cut the four-ply sock wool and the nylon."]
    assert done.engine.yarn_loops == {"main": 100, "nylon": 100}
    assert any("4 ends" in line for line in finishing([done]))


def test_what_goes_on_is_told_by_name():
    def cut(name):
        done = run(f"{FLAT}\nthread nylon along\nknit 3 rows\ncut {name}\nknit 1 row\ncut\n"
                   "gather front", TWO)
        return sentence(next(one.printed for one in done.sections[0].instructions
                             if isinstance(one.printed, printed.Cutting)), ANY_DOUBLE_BED)

    assert cut("nylon") == "Cut the nylon and go on with the four-ply sock wool alone."
    assert cut("main") == "Cut the four-ply sock wool and go on with the nylon alone."


def test_both_left_in_the_feeder_are_told():
    found = findings(f"{FLAT}\nthread nylon along\nknit 2 rows\ngather front", TWO)

    assert [one.kind for one in found] == ["yarn-left-in-feeder"] * 2


def test_yarn_is_reckoned_for_each():
    """200 m per 6 g is a usual band of reinforcing thread, from memory."""
    header = HEADER.replace('wool"', 'wool" 400 m per 100 g') + f'{NYLON} 200 m per 6 g\n'
    main, nylon = yarn_amounts(run(f"{FLAT}\nthread nylon along\nknit 40 rows\ncut nylon\n"
                                   "knit 39 rows\ncut\ngather front", header))

    # 20 stitches by 40 of the 81 rows, and 15 cm for each of two ends.
    assert (main.loops, nylon.loops) == (20 * 81, 20 * 40)
    assert (nylon.metres - 0.3) / (main.metres - 0.3) == pytest.approx(40 / 81)
    assert nylon.grams == pytest.approx(nylon.metres * 6 / 200)


@pytest.mark.parametrize("metres, told", [(303, []), (302, ["yarn-and-gauge-apart"])])
def test_what_is_knitted_together_is_weighed_together(metres, told):
    """Alone it is well within plain knitting; taken double its tightness factor (root of tex over
    the loop in cm) passes 19 where a kilometre of the two weighs more than (19 l)² grams."""
    header = HEADER.replace('wool"', f'wool" {metres} m per 100 g')
    body = f"{FLAT}\n{{}}knit 9 rows\ncut\ngather front"

    assert kinds(body.format(""), header) == []
    assert kinds(body.format("thread main along\n"), header) == told


def test_a_yarn_that_nobody_knows_is_told_wherever_it_stands():
    text = HEADER + ('section "Test"\n    bring centre 20 of front into work\n'
                     '    thread main and nylon\n    thread silk along\n')

    assert [one.kind for one in problems(text)] == ["unknown-yarn"] * 2
    assert proof(text.replace("nylon", "main").replace("silk", "main"))


ALONG = "waste-knitted-along"


@pytest.mark.parametrize("lines, told", [
    ("thread waste along\nknit 2 rows", [ALONG]),
    ("thread waste along\nrepeat 2 times\n    knit 1 row", [ALONG]),
    ("cut\nthread waste and main\nknit 2 rows", [ALONG]),
    ("do both-in", [ALONG]),
    # Nothing is knitted with it; a thread that stays; two yarns that both come out.
    ("thread waste along\ncut waste\nknit 2 rows", []),
    ("thread main along\nknit 2 rows", []),
    ("cut\nmark edge top on front\nthread waste\nthread cord along\nknit 2 rows\n", [])])
def test_what_comes_out_again_is_not_knitted_along_with_what_stays(lines, told):
    header = HEADER + "technique both-in\n    thread waste along\n    knit 2 rows\n"
    used = "" if "waste" in lines else "\ncut\nthread waste\nmark edge end on front\n"

    found = kinds(f"{FLAT}\n{lines}{used}", header)
    assert [kind for kind in found if kind == ALONG] == told


def test_two_yarns_of_one_label_are_told_apart_by_their_names():
    header = HEADER.replace('"four-ply sock wool"', '"wool"') \
        + 'yarn red "Wool"\nyarn blue "wool"\n'
    body = FLAT + "\nknit 1 row\nchange to blue\nknit 2 rows\ncut main\n{}cut\ngather front"
    wrong = findings(body.format("thread blue\n"), header)
    other = findings(body.format("cut red\n"), header)
    done = run(body.format(""), header)
    told = [sentence(one.printed, ANY_DOUBLE_BED) for one in done.sections[0].instructions
            if isinstance(one.printed, (printed.Threading, printed.Changing, printed.Cutting))]

    assert [one.message for one in wrong if one.kind == "yarn-not-cut"] == [
        "Wool (blue) is still in the feeder."]
    assert [one.message for one in other][-1] == \
        "'Wool (red)' cannot be cut here: 'wool (blue)' is in the feeder."
    assert told == [
        "Thread the wool (main).",
        "Change to the wool (blue); the wool (main) waits at this edge, uncut.",
        "Cut the wool (main).", "Cut the wool (blue)."]


def test_a_yarn_that_knitted_alone_before_does_not_go_on_alone_from_there():
    body = (f"{FLAT}\nthread nylon along\nknit 2 rows\ncut nylon\nknit 2 rows\ncut\n"
            "gather front")
    thin = [one for one in findings(body, METRES.replace("400 m", "3333 m").format(400))
            if one.kind == "yarn-and-gauge-apart"]
    assert [place.label for one in thin for place in one.others] == [] and thin
