"""Two yarns in a picture: which stripe is of which, and where a second goes along."""

from __future__ import annotations

import re

import pytest
from support.scripts import HEADER, TUBE, run

from sockscript.pictures.kinds import OF_ONE_SIZE
from sockscript.pictures.sock import DARKER, STRONG

TWO = HEADER + 'yarn second "blue wool"\nyarn nylon "reinforcing thread"\n'
PLAIN = f"{TUBE}\nknit 20 rounds\n{{}}cut\nremove weights\ngather both"
STRIPE = "change to second\nknit 4 rounds\nchange to main\ncut second\n"
ALONG = "thread nylon along\nknit 4 rounds\n"


@pytest.mark.parametrize("more, dark, strong", [
    ("", False, False), (STRIPE, True, False), (ALONG, False, True), (STRIPE + ALONG, True, True)])
def test_the_finished_piece_shows_the_yarns(more, dark, strong):
    drawn = OF_ONE_SIZE["sock"][1](run(PLAIN.format(more), TWO), heading="x").svg

    assert any(shade in drawn for shade in DARKER[1:-1]) == dark
    assert (STRONG[0] in drawn) == strong
    assert (">blue wool<" in drawn) == dark
    assert (">reinforcing thread knitted along<" in drawn) == strong


def test_the_unrolled_fabric_has_a_filling_for_what_is_knitted_together():
    drawn = OF_ONE_SIZE["fabric"][1](run(PLAIN.format(STRIPE + ALONG), TWO), heading="x").svg
    legend = re.findall(r">([^<>]*(?:wool|thread)[^<>]*)<", drawn)

    assert legend == ["four-ply sock wool", "blue wool",
                      "four-ply sock wool and reinforcing thread"]
