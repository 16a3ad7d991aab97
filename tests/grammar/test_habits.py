"""What a hand writes by habit is answered with the line to write, her numbers in it.

Common practice, no source: the words of paper patterns and of people at machines.
"""

from __future__ import annotations

import re

import pytest
from support.scripts import problems

from sockscript.findings.mends import mended
from sockscript.text.quotes import without_words
from sockscript.tree.habit_slips import HABIT_SLIPS

HEADER = """pattern "x"
yarn main "y"
gauge plain 30 stitches, 42 rows per 10 cm
let half = 10
"""
ABOVE = ("let", "pattern", "author", "yarn", "section", "foot")
HABITS = [
    # Signs.
    ("bring L15–R15 of front into work", "L15–R15", "L15 to R15"),
    ("bring L15-R15 of front into work", "L15-R15", "L15 to R15"),
    ("let a = half – 4", " – ", "Write -"), ("let a = half − 4", " − ", "Write -"),
    ("let a = half—4", "—", "Write -"),
    ("let foot_length = 24 cm", "foot_length", "foot-length"),
    ("let a = half / 4 rounded", "rounded", "to nearest"),
    ("let a = half / 4 rounded up", "rounded up", "up to whole"),
    ("let a = half of half", "half of half", "half / 2"),
    # Quotation marks.
    ("pattern „Meine Socke“", "„Meine Socke“", 'Write:  pattern "Meine Socke"'),
    ("pattern „Meine Socke”", "„Meine Socke”", 'Write:  pattern "Meine Socke"'),
    ("author »Erna«", "»Erna«", 'Write:  author "Erna"'),
    ("author « Erna »", "« Erna »", 'Write:  author "Erna"'),
    ("section 'Cuff' in plain", "'Cuff'", 'Write:  section "Cuff" in plain'),
    ("note ‚Hang it.‘", "‚Hang it.‘", 'Write:  note "Hang it."'),
    ("step ‘Hang it.’", "‘Hang it.’", 'Write:  step "Hang it."'),
    ("yarn other ‘wool’ 400 m per 100 g", "‘wool’", 'Write:  yarn other "wool" 400 m per 100 g'),
    # The order of words.
    ("30 rows knit", "30 rows knit", "Write:  knit 30 rows"),
    ("half rounds knit", "half rounds knit", "Write:  knit half rounds"),
    ("front to knit", "front to knit", "Write:  set front to knit"),
    ("back bed to rest", "back bed to rest", "Write:  set back to rest"),
    ("rest the back bed", "rest the back bed", "Write:  set back to rest"),
    ("front cast on", "front cast on", "Write:  cast on front"),
    ("both bind off", "both bind off", "Write:  bind off both"),
    ("main thread", "main thread", "Write:  thread main"), ("main cut", "main cut", "cut main"),
    ("30 needles centre into work on front bed", "30 needles centre into work on front bed",
     "Write:  bring centre 30 of front into work"),
    ("30 needles into work", "30 needles into work", "bring centre 30 of front into work"),
    # Needles.
    ("put centre 30 of front to working position", "put centre 30 of front to working position",
     "bring centre 30 of front into work"),
    ("put 3 needles at the left of the front bed in hold",
     "put 3 needles at the left of the front bed in hold", "hold left 3 working of front"),
    ("push the 4 outer needles on the right side into hold",
     "push the 4 outer needles on the right side into hold", "hold right 4 working of front"),
    ("hold 2 needles opposite carriage every row until 10 remain",
     "2 needles opposite carriage every row until 10 remain", "hold far side 2 working of front"),
    ("hold 2 stitches on the carriage side", "2 stitches on the carriage side",
     "hold carriage side 2 working of front"),
    ("wrap needle R5", "needle R5", "Write:  wrap R5 of front"),
    ("wrap the needle R5 of back", "the needle ", "Leave it out"),
    ("decrease 1 st at both ends of next and every alternate row until 10 sts remain",
     "decrease 1 st at both ends of next and every alternate row until 10 sts remain",
     "repeat until 10 stitches on front"),
    # Weights.
    ("hang 2 weights", "hang 2 weights", "Write:  hang weights"),
    ("hang some more weights", "hang some more weights", "Write:  hang weights"),
    ("lower the weights", "lower the weights", "Write:  move weights"),
    ("claw weights", "claw weights", "move weights"),
    # Two things in one line.
    ("knit 2 rows 5 times", "knit 2 rows 5 times",
     "repeat 5 times  and, indented under it,  knit 2 rows"),
    ("knit half rounds, 5x", "knit half rounds, 5x",
     "repeat 5 times  and, indented under it,  knit half rounds"),
    ("knit 10 rows at stitch size 6", " at stitch size 6", "stitch size 6  in a line before"),
    ("knit 10 rows with tension 6½", " with tension 6½", "stitch size 6½  in a line before"),
    ("knit 10 more rows", "more ", "Leave it out"), ("knit 10 rds", "rds", "rounds"),
    ("knit rows 1-20", "rows 1-20", "how many they are"),
    ("knit to 10 cm", "10 cm", "knit rows(10 cm) to nearest rows"),
    ("bind off loosely", "loosely", "Write front, back or both; that it is done loosely stands"),
    ("let a = round(half / 3)", "round(half / 3", "… to nearest"),
    ("bind off left 5 of front loosely", " loosely", "Leave it out"),
    # Settings.
    ("set front to hold", "set front to hold", "Write:  respect hold on front"),
    ("hold on the back bed", "hold on the back bed", "Write:  respect hold on back"),
    ("set pitch to half", "set pitch to half", "Write:  half pitch"),
    # Techniques.
    ("heel on front with leave = 8", "heel", "Write:  do heel on front with leave = 8"),
    ("tubular-cast-on with around = 8, yarn = main", "tubular-cast-on", "Write:  do tubular-cast"),
    ("do toe with leave = 8", "toe", "There are round-toe and wedge-toe."),
    ("do cast", "cast", "There are e-wrap-cast-on, tube-cast-on and tubular-cast-on."),
    ("do wedge-toe leave 8", "leave 8", "Write:  do wedge-toe with leave = 8"),
    ("do tubular cast on with around = 8, yarn = main", "tubular cast on", "'tubular-cast-on'"),
]


def text_with(line: str) -> str:
    above = line.startswith(ABOVE) and not line.startswith("section")
    if line.startswith("pattern"):
        return f'{line}\nyarn main "y"\nsection "S"\n    row counter 0\n'
    if line.startswith("section"):
        return f"{HEADER}{line}\n    row counter 0\n"
    return f'{HEADER}{line}\nsection "S"\n    row counter 0\n' if above \
        else f'{HEADER}section "S"\n    {line}\n'


@pytest.mark.parametrize("line, place, words", HABITS)
def test_a_habit_is_told_with_the_line_to_write(line, place, words):
    (problem, *_) = problems(text_with(line))
    marked = problem.at.source.line(problem.at.line)[problem.at.start - 1:problem.at.end - 1]

    assert words in f"{problem.message} {problem.hint}"
    assert marked == place
    if problem.mend is not None:
        again = problems(mended(problem.at.source, [problem]))
        assert [one.message for one in again if one.kind in ("does-not-fit", "open-quote")] == []


def test_every_habit_has_a_line_above():
    bare = [without_words(line) for line, _, _ in HABITS]

    assert [slip.pattern for slip in HABIT_SLIPS
            if not any(re.search(slip.pattern, line, re.I) for line in bare)] == []


@pytest.mark.parametrize("line", [
    'note "From L15–R15 – it\'s a ‘short’ row, about 10–12."', "note “Hello”",
    "expect carriage left", 'step "Hang 2 weights: knit 10 more rows."', "let a-b = 4 - 2"])
def test_words_between_marks_are_hers(line):
    assert problems(text_with(line)) == []


def test_two_quoted_words_of_a_line_are_mended_together():
    found, = problems('option toe graft „a grafted toe“, gather »a gathered toe«\n'
                      'yarn main "y"\nsection "S"\n    row counter 0\n')

    assert found.hint == 'Write:  option toe graft "a grafted toe", gather "a gathered toe"'
    assert problems(mended(found.at.source, [found])) == []
