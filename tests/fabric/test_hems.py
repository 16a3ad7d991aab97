"""Hems: where the open edge is hung on the needles, the rows between lie double.

Lengths are the project's own arithmetic: 4 rows a cm, 10 rows are 25 mm.
"""

from __future__ import annotations

from fractions import Fraction
from pathlib import Path

import pytest
from support.scripts import proof

from sockscript.fabric.finished import finished
from sockscript.fabric.measures import measures

EXAMPLES = Path(__file__).resolve().parents[2] / "examples"

START = '''pattern "Hem"
yarn main "four-ply wool"
yarn waste "smooth waste yarn" as waste
gauge plain 30 stitches, 40 rows per 10 cm
section "Hem" in plain
    bring centre 20 of front into work to cast on
    set front to knit
    thread waste
    knit 6 rows
    cut
    mark edge brim on front
    thread main
'''

TUBE = '''pattern "Hem"
yarn main "four-ply wool"
yarn waste "smooth waste yarn" as waste
gauge plain 30 stitches, 40 rows per 10 cm
section "Hem" in plain
    bring centre 20 of both into work to cast on
    set both to circular
    thread waste
    knit 6 rounds
    cut
    mark edge brim on front
    mark edge back-brim on back
    thread main
    knit 9 rounds
'''


def lengths(text):
    """Rows knitted, rows turned in and length in mm of each section."""
    return [(m.rows, m.inside, m.length) for m in measures(proof(text).outcomes[0][0].run)]


def test_a_hung_hem_is_half_as_long_as_it_was_knitted():
    """8 rows hung are 4 deep; with the 2 rows after them 6 rows, at 4 rows a cm 15 mm."""
    made = lengths(START + '''
    knit 8 rows
    rehang brim onto centre 20 of front
    knit 2 rows
''')

    assert made == [(10, 4, 15)]


def test_an_edge_that_hangs_free_is_not_folded():
    assert lengths(START + "    knit 10 rows\n") == [(10, 0, 25)]


def test_an_edge_hung_to_empty_needles_is_no_hem():
    """The two ends of the piece hang beside each other on two beds: nothing is closed."""
    assert lengths(START + '''
    knit 10 rows
    bring centre 20 of back into work
    rehang brim to centre 20 of back
''') == [(10, 0, 25)]


def test_a_hem_may_be_hung_in_the_next_section():
    """8 rows of hem lie double, the leg's 6 do not: 4 rows are 10 mm, 6 rows 15 mm."""
    assert lengths(START + '''
    knit 8 rows
section "Leg" in plain
    rehang brim onto centre 20 of front
    knit 6 rows
''') == [(8, 4, 10), (6, 0, 15)]


def test_the_rows_knitted_first_lie_inside():
    """12 rows in all, so 6 inside: the 4 of the first section and 2 of the second.

    Then 8 - 2 + 1 rows of the second are seen, at 4 rows a cm 17.5 mm."""
    assert lengths(START + '''
    knit 4 rows
section "Outside" in plain
    knit 8 rows
    rehang brim onto centre 20 of front
    knit 1 row
''') == [(4, 4, 0), (9, 2, Fraction(35, 2))]


def test_a_tube_has_its_hem_on_both_beds():
    """9 rounds hung are 4 1/2 deep, with one round after them 5 1/2, at 4 a cm 13.75 mm."""
    assert lengths(TUBE + '''
    rehang brim onto centre 20 of front
    rehang back-brim onto centre 20 of back
    knit 1 round
''') == [(10, Fraction(9, 2), Fraction(55, 4))]


def test_a_tube_hung_on_one_bed_is_as_long_as_its_other_face():
    assert lengths(TUBE + '''
    rehang brim onto centre 20 of front
    knit 1 round
''') == [(10, 0, 25)]


def test_one_edge_may_be_hung_on_both_beds():
    """The two faces of the hem are as deep: 9 rounds hung are 4 1/2 deep."""
    assert lengths(TUBE + '''
    rehang brim onto left 10 of front and left 10 of back
    knit 1 round
''') == [(10, Fraction(9, 2), Fraction(55, 4))]


def test_two_edges_hung_on_the_same_rows_turn_them_in_once():
    assert lengths(START.replace("on front\n", "on front\n    mark edge other on front\n") + '''
    knit 8 rows
    rehang brim onto centre 20 of front
    rehang other onto centre 20 of front
    knit 2 rows
''') == [(10, 4, 15)]


def test_two_pieces_of_a_section_have_two_hems():
    """4 of 8 rows and 3 of 6 lie inside; the waste rows between the pieces are no fabric."""
    assert lengths(START + '''
    knit 8 rows
    rehang brim onto centre 20 of front
    cut
    thread waste
    knit 6 rows
    cut
    mark edge brim on front
    thread main
    knit 6 rows
    rehang brim onto centre 20 of front
    knit 1 row
''') == [(15, 7, 20)]


@pytest.mark.parametrize(("size", "rows"), [(0, 56), (1, 60), (2, 66)])
def test_the_leg_of_the_flat_sock(size, rows):
    """By hand from the script, at 4.2 rows a cm: a hem of 3 cm is 12 rows deep (3.5 cm: 14), one
    row closes it, a leg of 10, 11 or 12 cm is 42, 46 or 50 rows, and a row more goes across all
    stitches before the first of them are held."""
    done = proof((EXAMPLES / "flat-sock.sockscript").read_text("utf-8"))

    assert finished(done.outcomes[size][0].run).leg == Fraction(rows * 100, 42)
