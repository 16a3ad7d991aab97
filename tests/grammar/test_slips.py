"""Typical slips of the pen: each has a plain sentence of its own, at the right place."""

from __future__ import annotations

import re

import pytest
from support.scripts import problems

from sockscript.findings.mends import mended
from sockscript.text.quotes import without_words
from sockscript.tree.plain_slips import PLAIN_SLIPS

HEADER = """pattern "x"
yarn main "y"
gauge plain 30 stitches, 42 rows per 10 cm
let half = 10
let around = 40
"""

SLIPS = [
    ("section Leg in plain", "Leg", 'section "Leg"'),
    ("section Turn heel", "Turn heel", 'section "Turn heel"'),
    ("step Hang the weights", "Hang the weights", "quotation marks"),
    ('step "Hang the weights', '"Hang the weights', "never closed"),
    ("note ‘Hello’", "‘Hello’", "quotation marks"),
    ("‘knit 4 rows’", "‘knit 4 rows’", "double quotation marks"),
    ("knit 4", "4", "stops too early"),
    ("knit rows 4", "rows 4", "number comes before"),
    ("knit 4 row rounds", "rounds", "does not fit"),
    ("kint 4 rows", "kint", "No instruction begins with"),
    ("knit four rows", "four", "figures: 4"),
    ("knit 5 sts", "5 sts", "knits rows or rounds"),
    ("knit 5½ in", "5½ in", "knit rows(5½ in) to nearest rows"),
    ("knit for 14 cm", "14 cm", "knit rows(14 cm) to nearest rows"),
    ("knit 12/14/16 rows", "12/14/16", "my-rows  12  14  16"),
    ("knit 12-14-16 rows", "12-14-16", "my-rows  12  14  16"),
    ("knit 12, 14, 16 rows", "12, 14, 16", "my-rows  12  14  16"),
    ("knit 12,14,16 rounds", "12,14,16", "my-rows  12  14  16"),
    ("knit 12; 14 rows", "12; 14", "my-rows  12  14  16"),
    ("knit 12 14 16 rows", "12 14 16", "my-rows  12  14  16"),
    ("knit 12 (14, 16) rows", "(14, 16)", "my-rows  12  14  16"),
    ("hold left 12/14/16 of front", "12/14/16", "my-rows  12  14  16"),
    ("bring centre 20, 24, 28 of front into work", "20, 24, 28", "my-rows  12  14  16"),
    ("let deep = 12/14/16", "12/14/16", "my-rows  12  14  16"),
    ("repeat 8, 9, 10 times", "8, 9, 10", "my-rows  12  14  16"),
    ("knit until piece measures 6 in", "until piece measures 6 in",
     "knit rows(6 in) to nearest rows"),
    ("gauge rib: 34 stitches, 44 rows per 10 cm", ":", "No colon"),
    ("put 36 needles in work on both beds", "put 36 needles in work on both beds",
     "bring centre 36 of both into work"),
    ("thread yarn", "thread yarn", "This pattern has main"),
    ("knit rounds until around", "until around", "for a foot length of around"),
    ("knit until the foot measures around", "until the foot measures around",
     "for a foot length of around"),
    ("let a = around : 2", ":", "Write /"),
    ("let a = 48 stitches", "stitches", "Leave it out"),
    ("gauge rib 34 stitches x 44 rows per 10 cm", "x", "comma"),
    ("gauge rib 34 stitches, 44 rows = 10 cm", "=", "'per'"),
    ("knit 20 rows, carriage at right", ", carriage at right", "expect carriage right"),
    ("knit to row 40", "to row 40", "how many more"),
    ("place markers", "place markers", 'note "Place a marker."'),
    ("join in the round", "join in the round", "set both to circular"),
    ("weights off", "weights off", "remove weights"),
    ("sizes 36-37 38-39", "36-37 38-39", "quotation marks"),
    ("hang comb and weights", "and weights", "hang weights"),
    ("cast on half stitches on front", "half", "cast on centre half of front"),
    ("yarn extra \"wool\" 420 m/100 g", "/", "Write 'per'"),
    ("repeat 5x", "5x", "repeat 5 times"),
    ("knit 10 rows in main", "rows in main", "thread main"),
    ("knit 10 rows straight", "straight", "Leave it out"),
    ("1x1 rib for 6 cm", "1x1 rib", "do rib-1x1"),
    ("knit 4 rows.", ".", "full stop"),
    ("expect 20 sts", "sts", "written out"),
    ("let half is 4", "is", "given with ="),
    ("let half := 4", ":=", "given with ="),
    ("let my name = 4", "my name", "joined by hyphens"),
    ("let 2nd = 4", "2nd", "begins with a letter"),
    ("when half = 4", "=", "compared in words"),
    ("expect half >= 4", ">=", "compared in words"),
    ("let a = larger(2,5, 1)", "2,5", "one number or two"),
    ("let a = 2,500 cm", "2,500", "large number or a small one"),
    ("let a = 12 cms", "cms", "written short"),
    ("let a = 12 millimetres", "millimetres", "written short"),
    ("let a = half minus 2", "minus", "- or less"),
    ("let a = around divided by 2", "divided by", "Write /"),
    ("let a = around multiplied by 2", "multiplied by", "Write *"),
    ("let a = around to nearest 4", "4", "names what it rounds to"),
    ("let a = rows(10 cm", "(", "never closed"),
    ("let a = -4 rows", "rows", "does not fit"),
    ("do wedge toe with leave = 4", "wedge toe", "joined by hyphens"),
    ("do wedge-toe leave = 4", "leave =", "after 'with'"),
    ("do wedge-toe with leave 4", "4", "equals sign"),
    ("do wedge-toe (leave = 4)", "(", "No brackets"),
    ("repeat 4", "4", "stops too early"),
    ("repeat 4 times:", ":", "No colon"),
    ("transfer front -> back", "->", "arrow"),
    ("graft front and back", "and", "grafted to the other"),
    ("graft 12 stitches", "12", "what is grafted to what"),
    ("set front to knitting", "knitting", "Did you mean 'knit'"),
    ("set front knit", "knit", "small word"),
    ("move carriage left", "left", "small word"),
    ("cast on 40 stitches", "40", "on which needles"),
    ("decrease 1 at each end", "decrease 1 at each end", "do decrease-once"),
    ("bind off all stitches", "bind off all stitches", "bind off front"),
    ("hang the comb", "the", "left out"),
    ("set every 2nd of front to tuck", "front", "every 2nd of all of front"),
    ("bring every other needle of all of front into work", "needle", "needs no 'needle'"),
    ("pick up 10 loops at left of front", "10 loops at left of front", "pick up along 24 rows"),
    ("turn work", "turn", "not turned on a machine"),
    ("row counter = 0", "=", "No equals sign"),
    ("thread yarn main", "yarn", "name of the yarn"),
    ("hold 4 needles", "4", "at which end"),
    ("return 2 needles to work", "2", "at which end"),
    ("tension 5", "tension 5", "stitch size"),
    ("put L1 to L4 of front into hold", "put L1 to L4 of front into hold",
     "Write:  hold L1 to L4 of front"),
    ("put needles left 2 held of front back into work",
     "put needles left 2 held of front back into work", "return left 2 held of front to work"),
    ("put L5 of back out of work", "put L5 of back out of work", "take L5 of back out of work"),
    ("put the needles out of work", "put the needles out of work", "take L5 of front out of work"),
    ("change to tension 4", "change to tension 4", "stitch size 4"),
    ("tension dial 5 1/3", "tension dial 5 1/3", "stitch size 5 1/3"),
    ("K rows(4 cm) to nearest rows", "K", "Write:  knit"),
    ("work 4 rows", "work 4 rows", "knit 4 rows"),
    ("set carriage to hold", "set carriage to hold", "respect hold on front"),
    # As it is said at the machine.
    ("decrease 1 at each end every 4th round 5x", "decrease 1 at each end every 4th round 5x",
     "do decrease-every with each = 4, times-over = 5"),
    ("dec 1 each side every other row 6 times", "dec 1 each side every other row 6 times",
     "with beds = front, each = 2, times-over = 6, in-rounds = no"),
    ("decrease every 4 rows until 12 remain", "decrease every 4 rows until 12 remain",
     "each = 4, times-over = 4; how many times over is worked out"),
    ("inc 1 at each end every 6th round 4 times", "inc 1 at each end every 6th round 4 times",
     "repeat 4 times  and, indented under it,  do increase-once  and  knit 6 round"),
    ("bring 30-0-28 into work", "bring 30-0-28 into work", "bring L30 to R28 of front into work"),
    ("needles 30 left and 28 right", "needles 30 left and 28 right", "bring L30 to R28 of front"),
    ("put left 3 needles into hold", "put left 3 needles into hold", "hold left 3 working"),
    ("put all needles to hold position", "put all needles to hold position", "hold all of front"),
    ("push needles back to D", "push needles back to D", "bring centre 36 of front"),
    ("knit to RC 50", "to RC 50", "knit 12 rows"),
    ("reset row counter", "reset row counter", "row counter 0"),
    ("take carriage across", "take carriage across", "move carriage to far side"),
    ("free pass", "free pass", "move carriage to far side"),
    ("circular knitting", "circular knitting", "set both to circular"),
    ("set front to slip", "slip", "Write:  rest"),
    ("half pitch on", "on", "Leave it out"),
    ("rack 2 left", "rack 2 left", "rack to 2 left"),
    ("ribber down", "ribber", "'front' for the bed nearer to you"),
    ("knit straight for 10 rows", "straight for", "Leave it out"),
    ("stitch size to 6", "to", "Leave it out"),
    ("e-wrap 60 stitches", "e-wrap 60 stitches", "do e-wrap-cast-on with around = 60"),
    ("bind off 12 stitches", "12 stitches", "bind off left 12 of front"),
    ("cut yarn leaving 10 in", "cut yarn leaving 10 in", "note \"cut yarn leaving 10 in\""),
    ("change colour", "change colour", "change to second"),
    ("waste yarn 8 rows", "waste yarn 8 rows", "thread waste"),
    ("take stitches off on waste yarn", "take stitches off on waste yarn", "scrap off front as"),
    ("hang claw weights", "claw ", "Leave it out"),
    ("transfer stitches from front to back", "stitches from front to back", "front to back"),
    ("check 60 stitches", "check 60 stitches", "expect 60 stitches"),
    ("(60 sts)", "(60 sts)", "expect 60 stitches"),
    ("do this 4 times", "do this 4 times", "repeat 4 times"),
    ("knit 12 (14, 16) rows", "(14, 16)", "table of sizes"),
    ("// mind the comb", "//", "after #"),
    ("expect 60 stitches on the front bed", "the front bed", "Write:  front"),
    ("let foot length = 4", "foot length", "foot-length"),
    ("foot length 20 cm", "foot length", "foot-length"),
    ("two beds", "two beds", "beds 2"),
    ("do wedge-toe with leave = 8 on front", "on front", "do … on front with …"),
    ("Thread the wool", "the wool", "thread main"),
    ("Knit until the sock is long enough for your own foot.",
     "Knit until the sock is long enough for your own foot.", 'step "Knit until'),
    # Above the sections.
    ('yarn main 4 oz is 430 yards', "4 oz is 430 yards", "430 yards per 4 oz"),
    ('yarn main "y" 430 yards = 4 oz', "=", "Write 'per'"),
    ('yarn main "y" 430 yds per 4 oz', "yds", "Write 'yards'"),
    ('yarn main "y" 400 metres per 100 g', "metres", "Write 'm'"),
    ('yarn main "y" 430 yards per ball', "ball", "stands on the band"),
    ("yarn main wool 430 yards per 4 oz", "wool", 'yarn main "wool"'),
    ('yarn "y" 430 yards per 4 oz', " ", "yarn main"),
    ("tension 30 stitches, 44 rows per 4 in", "tension", "gauge plain"),
    ("gauge plain 30 stitches, 44 rows over 4 in", "over", "Write 'per'"),
    ("gauge plain 30x44/4in", "30x44", "30 stitches, 44 rows"),
    ("gauge plain 7½ stitches per inch", "stitches per inch", "rows are missing"),
    ("sizes S, M, L", ",", "blanks only"), ("foot-round 20, 22, 24 cm", ",", "blanks only"),
    ("option toe graft or gather", "or", "comma"),
    ("let a 60", "60", "= 60"),
    ("a = 60", "a", "let a ="),
    ("let a = around x 7.5", "x", "×"),
    ("let a = rows(8 in) rounded to 4", "rounded to", "to nearest multiple of"),
    ("let a = half of around", "half of around", "around / 2"),
    ("cuff", "cuff", 'section "cuff"'),
    ("if half is 4", "if", "begins with 'when'"),
    ("else", "else", "otherwise"),
    ("for 4 times", "for", "begins with 'repeat'"),
    ("end", "end", "indentation"),
]


@pytest.mark.parametrize("line, place, words", SLIPS)
def test_a_slip_is_told_in_plain_words_at_its_place(line, place, words):
    (problem, *_) = problems(f'{HEADER}section "S"\n    {line}\n')
    marked = problem.at.source.line(problem.at.line)[problem.at.start - 1:problem.at.end - 1]

    assert words in f"{problem.message} {problem.hint}"
    assert marked == place


def test_every_plain_slip_has_a_line_above():
    """What is said or printed at a machine is tried in ``test_printed_phrases``."""
    bare = [without_words(line) for line, _, _ in SLIPS]

    assert [slip.pattern for slip in PLAIN_SLIPS
            if not any(re.search(slip.pattern, line, re.I) for line in bare)] == []


def test_there_are_thirty_sentences_of_their_own():
    told = {problems(f'{HEADER}section "S"\n    {line}\n')[0].message for line, *_ in SLIPS}

    assert len(told) >= 30


@pytest.mark.parametrize("line", ["knit 4\u00a0rows", "note “Hello”", "KNIT 4 ROWS",
                                  "knit rows( 10 cm ) to nearest rows"])
def test_what_word_processors_make_of_a_line_is_read(line):
    assert problems(f'{HEADER}section "S"\n    {line}\n') == []


def test_a_slip_in_a_definition_hides_no_other_and_causes_none():
    found = problems("""pattern "x"
yarn main "y" 40 metres per 100 g
let half is 10
option finish graft gather
section "S"
    thread main
    knit half rows
    when finish is graft
        kint 2 rows
""")

    assert [p.at.line for p in found] == [2, 3, 4, 9]


@pytest.mark.parametrize(("text", "message", "hint"), [
    # Whoever is in the middle of a word is helped with its end.
    ('sect "Cuff"\n', "No instruction begins with 'sect'.", "Did you mean 'section'?"),
    ("autho\n", "No instruction begins with 'autho'.", "Did you mean 'author'?"),
    ('section "A"\n    do tubu\n', "There is no technique called 'tubu'.",
     "Did you mean 'tubular-cast-on'?"),
    ('yarn main "w"\nsection "A"\n    do tubular-cast-on with around = 8, yarn = mai\n',
     "Nothing is called 'mai'.", "Did you mean 'main'?"),
    ('option finish graft, gather\nsection "A"\n    when finish is gath\n        cut\n',
     "Nothing is called 'gath'.", "Did you mean 'gather'?"),
    ('section "A"\n    do wedge-toe w\n', "'w' does not fit here: 'on', 'with' or the end of the "
     "line should stand here.", ""),
    ('section "A"\n    do wedge toe\n', "The name of a technique is one word, joined by hyphens.",
     "Did you mean 'wedge-toe'?"),
    ('option finish graft, gather default gather "a gathered toe"\n',
     "After 'default' a choice is only named.", "Put its printed words behind it in the list."),
    ('option finish graft " ", gather\n', "A choice has printed words that say nothing.",
     "Write what a member gets"),
    # Of several lines that begin alike the one that is most like it is shown.
    ('section "A"\n    mark slit\n', "The line stops too early: a name should follow.",
     "mark slit heel on front"),
    ('section "A"\n    move 3 stitches at\n', "The line stops too early: a name, 'carriage', "
     "'far', 'left' or 'right' should follow.", "move 3 stitches at left"),
    # No sentence has a hole.
    ("machine\n    needs\n", "The line stops too early: 'circular', 'full', 'half', 'hold', "
     "'racking' or 'tuck' should follow.", ""),
    ("let half\n", "The line stops too early: '=' should follow.", ""),
    ('yarn main "w" a\n', "'a' does not fit here: a number, 'Ne', 'Nm', 'as', 'worsted' or the "
     "end of the line should stand here.", ""),
    ("- cast on 20\n", "No instruction begins with '-'.", "Every line begins with a word"),
    ("1. Cast on\n", "No instruction begins with '1'.", "Every line begins with a word"),
    ("sizes Small Large\n    foot-round 20 cm\n",
     "'foot-round' has 1 value, but there are 2 sizes: No value for Large.", ""),
])
def test_words_that_were_begun_and_lines_that_stop(text, message, hint):
    found = problems(text)
    assert message in [problem.message for problem in found]
    assert hint in next(problem.hint for problem in found if problem.message == message)


@pytest.mark.parametrize("inside, place, message, hint", [
    ("rows", "rows", "the number of rows is missing", "{tall} rows."),
    (" stitches ", " stitches ", "the number of stitches is missing", "{tall} stitches."),
    ("half +", "+", "The line stops too early", "{half + 2}."),
    ("half 2", "2", "'2' does not fit here", "{half + 2}."), ("", "", "", "{half + 2}."),
    ("{half}", "{", "'{' does not fit here", "One brace on each side is enough."),
    ("count-on", "count-on", "Nothing is called 'count-on'", "count-on(front)."),
    ("larger", "larger", "Nothing is called 'larger'", "larger(…).")])
def test_what_is_no_value_between_braces(inside, place, message, hint):
    line = f'note "Knit {{{inside}}} now."'
    found, = problems(f'pattern "x"\nlet half = 3\nsection "S"\n    {line}\n')
    marked = found.at.source.line(found.at.line)[found.at.start - 1:found.at.end - 1]

    assert message in found.message and found.hint.endswith(hint)
    assert marked.strip() in (place.strip(), "}") or not inside


@pytest.mark.parametrize("inside, written", [
    ("half rows", "{half} rows"), (" half + 2  Stitches ", "{ half + 2} Stitches"),
    ("half / 2 times", "{half / 2} times")])
def test_what_is_counted_stands_after_the_braces(inside, written):
    found, = problems(f'pattern "x"\nlet half = 4\nsection "S"\n'
                      f'    note "Knit {{{inside}}} now."\n')
    marked = found.at.source.line(found.at.line)[found.at.start - 1:found.at.end - 1]

    assert f"'{marked}' stands inside the braces" in found.message
    assert found.hint == f"Write it after them:  {written.replace('{ ', '{')}"
    assert f'note "Knit {written} now."' in mended(found.at.source, [found])


@pytest.mark.parametrize("line, brackets", [
    ("let a = stitches(20 cm) to nearest even plus 2",
     "let a = (stitches(20 cm) to nearest even) plus 2"),
    ("let a = stitches(20 cm) to nearest multiple of 4 + 16",
     "let a = (stitches(20 cm) to nearest multiple of 4) + 16"),
    ("let a = 3 + rows((9 cm less 10%), plain) * 2 to nearest multiple of 4 plus 2 times 2",
     "let a = (3 + rows((9 cm less 10%), plain) * 2 to nearest multiple of 4 plus 2) * 2"),
    ("let a = (half to nearest minus 2) / 2", "let a = ((half to nearest) - 2) / 2"),
    ("let a = half up to odd number less 10%", "let a = (half up to odd number) less 10%"),
    ("let a = larger(3 + half to nearest even - 1, 4)",
     "let a = larger((3 + half to nearest even) - 1, 4)"),
    ('section "A"\n    knit around / 2 down to even × 2 rows',
     "knit (around / 2 down to even) × 2 rows"),
    ('section "A"\n    bring centre half to nearest whole number divided by 2 of front into work',
     "bring centre (half to nearest whole number) / 2 of front into work"),
])
def test_a_line_that_calculates_on_after_a_rounding(line, brackets):
    """The rounding in brackets is the mend, and the line is read with it."""
    found, = problems(HEADER + line + "\n")

    assert "ends with its rounding" in found.message
    assert found.hint == f"Write:  {brackets}"
    again = problems(mended(found.at.source, [found]))
    assert [one.kind for one in again if one.kind != "empty-script"] == []


@pytest.mark.parametrize("line", [
    "let a = 10 to nearest multiple of 4 plus 2 foo", "let a = 10 to nearest even plus",
    'section "A"\n    repeat 4 to nearest even times foo'])
def test_a_rounding_that_is_not_calculated_with(line):
    found, = problems(HEADER + line + "\n")

    assert "rounding" not in found.message


def test_rows_under_a_line_of_sizes_with_a_slip_are_no_slips():
    """Nor are those who use what they name."""
    found = problems('pattern "x"\nsizes 36-37 38-39\n    foot-round 20 22 cm\n'
                     'let a = foot-round / 2\nsection "A"\n    row counter 0\n')

    assert [(one.at.line, one.hint) for one in found] == [
        (2, 'Write:  sizes "36-37"   "38-39"')]
    assert found[0].mend is not None
