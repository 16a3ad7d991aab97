"""Numbers of several sizes in one place of a sentence."""

from __future__ import annotations

import pytest

from sockscript.numbers.figures import (
    figure,
    number_of,
    quantities,
    shown,
    side_by_side,
    words_of,
)
from sockscript.numbers.quantity import Quantity


@pytest.mark.parametrize("rows, text", [
    ([48, 52, 56], "48 (52, 56) rows"), ([48, 48, 48], "48 rows"), ([1, 1], "1 row"),
    ([1, None, 1], "1 row"), ([1, 2], "1 (2) rows"), ([2, 2], "2 rows"), ([0], "0 rows"),
    ([4, None, 6], "4 (–, 6) rows"), ([None, 4], "4 rows")])
def test_a_count_of_all_sizes(rows, text):
    """The first size stands before the brackets and the others in them, in order; a size without
    keeps its place where the others differ."""
    assert shown(number_of(figure(rows), "row", "rows")) == text


@pytest.mark.parametrize("rows, text", [(0, "0 rows"), (1, "1 row"), (2, "2 rows")])
def test_a_count_of_one_size(rows, text):
    assert number_of(Quantity(rows), "row", "rows") == text


def test_lengths_of_all_sizes_keep_their_units():
    assert shown(quantities([Quantity(220, "mm"), None, Quantity(245, "mm")])) \
        == "22 cm (–, 24.5 cm)"


def test_a_sentence_is_taken_apart_where_sizes_differ_and_loses_no_word():
    sentence = f"Knit {figure([4, 6])} rows, then {figure([2, 2])}, then {figure([1, 3])}."

    assert [str(piece) for piece in words_of(sentence)] == [
        "Knit ", "4 (6)", " rows, then 2, then ", "1 (3)", "."]
    assert [piece.texts for piece in words_of(sentence)[1::2]] == [("4", "6"), ("1", "3")]
    assert [str(piece) for piece in words_of(str(figure([4, 6])))] == ["4 (6)"]
    assert words_of("") == () and side_by_side([]) == ""
