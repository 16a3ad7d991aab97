"""Whoever goes over the operations of a run knows every one of them.

An operation that is new belongs into each of these tables, or into the list beside it of those
that leave alone what the table is about.
"""

from __future__ import annotations

import re
from pathlib import Path
from typing import get_args

import pytest
from oracle.plain_machine import PlainMachine

import sockscript
from sockscript.fabric import amounts, loops, pieces
from sockscript.fabric.wales import handwork
from sockscript.operations import ops
from sockscript.trace import engine

EVERY = set(get_args(ops.Op))
SETTINGS = set(amounts.SETTINGS)
TESTS = Path(__file__).resolve().parents[1]

TABLES = {
    "the simulator": (engine._CARRY_OUT, set()),
    # Loops as a graph: settings and sewing along the sides leave them as they are.
    "loops": (loops._FOLLOW, SETTINGS | {ops.Knit, ops.SewSides}),
    # Columns of cloth: what is told from the needles that have stitches before and after.
    "columns": (handwork.NOTED, SETTINGS | {
        ops.Knit, ops.Place, ops.CastOn, ops.Drop, ops.LatchUp, ops.Fill, ops.Wrap, ops.PickUp,
        ops.SewDown, ops.SewSides}),
    # Pieces: hands that bring no stitch to another bed and take none off.
    "pieces": (pieces._BY_HAND, SETTINGS | {
        ops.Knit, ops.Place, ops.Fashion, ops.Wrap, ops.Fill, ops.LatchUp, ops.SewSides}),
}


@pytest.mark.parametrize("table, others", TABLES.values(), ids=TABLES)
def test_an_operation_stands_in_every_table_or_beside_it(table, others):
    assert set(table) & others == set()
    assert set(table) | others == EVERY


@pytest.mark.parametrize("op", sorted(EVERY, key=lambda op: op.__name__))
def test_an_operation_is_in_the_model_the_oracle_and_what_the_oracle_is_asked(op):
    model = (Path(sockscript.__file__).parent / "trace" / "machine-model.md").read_text("utf-8")
    strategies = (TESTS / "oracle" / "strategies.py").read_text("utf-8")

    assert op is ops.Knit or f"**{op.__name__}." in model
    assert hasattr(PlainMachine, f"do_{op.__name__}")
    assert re.search(rf"\bops\.{op.__name__}\b", strategies)
