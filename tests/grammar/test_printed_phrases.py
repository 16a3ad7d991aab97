"""What the tool prints, and what is said every day at a machine, gets the word to write."""

from __future__ import annotations

import re
from pathlib import Path

import pytest
from support.scripts import prepared

from sockscript.commands import steps
from sockscript.text.mend import mended_line

EXAMPLES = sorted((Path(__file__).resolve().parents[2] / "examples").glob("*.sockscript"))
HEAD = 'pattern "x"\nyarn main "wool"\nsection "S"\n'


def told(line):
    """The problem with one line of a section (None: it is read)."""
    found = [p for p in prepared(f"{HEAD}    {line}\n").problems if p.at.line == 4]
    return found[0] if found else None


def sentences(path, capsys):
    """The sentences of the printed steps, one of those that differ in numbers only."""
    steps.run(file=path, sizes=[], choose=[], all_choices=True, machine=None, format="text",
              every_row=False, out=None, my_size=None, bank_book=False)
    text = re.sub(r"\n {5,}(?!\[)", " ", capsys.readouterr().out)
    found = {}
    for line in text.splitlines():
        if re.match(r"\s*\d+\.\s", line):
            # Numbers of several sizes would be a slip of another kind.
            line = re.sub(r"(\d+)(?: \([^)]*\))", r"\1", line.split(".", 1)[1])
            for sentence in re.findall(r"[A-Z][^.]*\.", line):
                found.setdefault(re.sub(r"\d+", "9", sentence), sentence)
    return found.values()


@pytest.mark.parametrize("path", EXAMPLES, ids=lambda path: path.stem)
def test_every_printed_sentence_gets_the_word_to_write(path, capsys):
    """Each names an instruction, or says that the words stand in a step; where a mend is sure,
    it makes a line that is read."""
    checked = 0
    for sentence in sentences(path, capsys):
        problem = told(sentence)
        assert problem is not None, sentence
        assert re.search(r"Write|Leave it out", problem.hint), (sentence, problem)
        written = re.fullmatch(r"Write:  (.+?)(, or:.*)?", problem.hint)
        if written and "  " not in written[1] and not re.match("do|bind|cut|thread", written[1]):
            assert told(written[1]) is None, (sentence, written[1])
        checked += 1
    assert checked > 15


@pytest.mark.parametrize("line, mended", [
    ("Set the front bed to rest.", "set front to rest"), ("tension 6", "stitch size 6"),
    ("T 6 1/2", "stitch size 6 1/2"), ("dial 5", "stitch size 5"),
    ("Set the row counter to 0", "row counter 0"), ("Set the beds to half pitch.", "half pitch"),
    ("Set both beds so that held needles do not knit.", "respect hold on both"),
    ("Cut the yarn.", "cut"), ("Break yarn", "cut"), ("Hang the weights.", "hang weights"),
    ("Hang the comb.", "hang comb"), ("take off weights", "remove weights"),
    ("add weights", "hang weights"), ("k 12 rows", "knit 12 rows"),
    ("knit 2 rows on the back bed", "knit 2 rows on back"),
    ("transfer front bed to back bed", "transfer front to back"),
    ("Knit 38 rounds.", "knit 38 rounds"), ("Stitch size 2.", "stitch size 2"),
    ("cast off front", "bind off front")])
def test_what_is_surely_meant_is_mended(line, mended):
    for _ in range(4):
        problem = told(line)
        if problem is None:
            break
        assert problem.mend is not None, (line, problem)
        line = mended_line("    " + line, problem.mend)[0].strip()

    assert line.lower() == mended


@pytest.mark.parametrize("line, word", [
    ("put left needle into hold", "hold left"), ("put all needles back to work", "return"),
    ("COL", "expect carriage left"), ("expect COR", "expect carriage right"),
    ("RC 20", "row counter 20"), ("RC", "row counter 0"), ("carriage to left", "move carriage"),
    ("repeat these 2 rows 11 times", "repeat 11 times"), ("sew the side seam", 'step "sew'),
    ("all needles in HP", "hold left"), ("needles to NWP", "out of work"),
    ("short rows to 10 stitches", "do heel"), ("lift the 14 stitches and turn", "fold right"),
    ("lay the yarn round the needle", "wrap"), ("draw the yarn through", "gather")])
def test_everyday_words_are_answered_with_the_word_to_write(line, word):
    assert word in told(line).hint
