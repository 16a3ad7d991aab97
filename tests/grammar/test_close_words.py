"""Signs may stand close to words; two words that stand close are one word, and told as such."""

from __future__ import annotations

import pytest
from support.scripts import HEADER, problems

from sockscript.text.source import Source
from sockscript.tree.read import read_script


def test_blocks_of_the_header_are_read_without_a_space_before_a_quotation_mark():
    script = read_script(Source("test.sockscript", 'machine"Cottage"\n    beds 1\n'))

    assert not script.problems
    assert script.machine.beds == 1


@pytest.mark.parametrize(("line", "word", "mend"), [
    ("cutt", "cutt", "cut"),
    ("gathered front", "gathered", "gather"),
    ("bindoff front", "bindoff", "bind off"),
    ("takeb all of front out of work", "takeb", "take"),
    ("knit2 rows", "knit2", "knit 2"),
    ("transfer L1 of front ontoo L2 of front", "ontoo", "onto"),
])
def test_a_word_of_the_language_is_never_the_beginning_of_a_longer_one(line, word, mend):
    found, = problems(f'{HEADER}section "S"\n    {line}\n')

    assert found.kind == "unknown-word" and f"'{word}'" in found.message
    assert found.mend is not None and found.mend.text == mend


@pytest.mark.parametrize(("line", "mend"), [("sizesSmall Large", "sizes"),
                                            ("worksfor", "works for")])
def test_a_space_that_is_missing_is_told(line, mend):
    found = problems(f'{line}\n    foot-round 18 22 cm\n')[0]

    assert (found.kind, found.mend.text) == ("unknown-word", mend)
