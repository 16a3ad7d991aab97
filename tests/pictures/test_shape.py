"""The relaxed shape against plain arithmetic: stitches and rows by the gauge.

Tolerances: girths 3 %, the length of the leg 3 %, the foot from heel to tip 4 %, or the picture
says why (arithmetic folds heel and toe flat; on the shape they are round).  These and the limits of
strain and of angles are our own, from looking at the pictures: no source.
"""

from __future__ import annotations

import re
from functools import cache
from pathlib import Path
from xml.etree import ElementTree

import numpy as np
import pytest
from support.scripts import proof

from sockscript.fabric.finished import finished
from sockscript.fabric.measures import measures
from sockscript.pictures.shape import shape_of
from sockscript.pictures.sock import side_picture
from sockscript.pictures.taped import (
    foot_axis,
    girth,
    measured,
    rings_in,
    sections_of,
    why_shorter,
)

SVG = "{http://www.w3.org/2000/svg}"
EXAMPLES = Path(__file__).resolve().parents[2] / "examples"


@cache
def proof_of(name):
    return proof((EXAMPLES / f"{name}.sockscript").read_text("utf-8"))


def run_of(name, size, choice=0):
    return proof_of(name).outcomes[size][choice].run


@cache
def relaxed(name, size, choice=0):
    """The shape; relaxing takes a second or two."""
    return shape_of(run_of(name, size, choice))


CASES = [("family-sock", 0), ("family-sock", 4), ("family-sock", 8), ("toe-up-sock", 1),
         ("flat-sock", 1)]


@pytest.mark.parametrize(("name", "size"), CASES)
def test_girths_and_lengths_of_the_shape_are_those_of_the_arithmetic(name, size):
    run = run_of(name, size)
    found = {one.name: one.value for one in measured(run, relaxed(name, size))}
    whole = finished(run)
    even = {m.title: float(m.girth) for m in measures(run)
            if m.title in ("Cuff", "Leg", "Foot", "Hemmed top")}

    assert even
    for title, value in even.items():
        assert found[f"{title}, round"] == pytest.approx(value, rel=0.03)
    assert found["Leg, to the heel"] == pytest.approx(float(whole.leg), rel=0.03)
    foot = found["Foot, heel to tip"] / float(whole.foot)
    assert 0.85 < foot < 1.01
    said = why_shorter(run, relaxed(name, size))
    assert (said == "") == (foot >= 0.96)
    assert ("gathered" in said) == (name == "flat-sock")


@pytest.mark.parametrize(("name", "size"), CASES)
def test_springs_come_to_rest(name, size):
    shape = relaxed(name, size)
    pairs = np.array(shape.springs.pairs)
    stitches = np.array(shape.springs.stiffness) == 1
    length = np.linalg.norm(shape.points[pairs[:, 0]] - shape.points[pairs[:, 1]], axis=1)
    strain = (length / np.array(shape.springs.rest))[stitches]

    assert np.median(strain) == pytest.approx(1, abs=0.02)
    assert np.quantile(strain, 0.01) > 0.85
    assert np.quantile(strain, 0.99) < 1.15


def test_a_short_row_heel_bends_the_tube():
    """Leg and foot stand at an angle between 60 and 130 degrees, as in a sock that lies flat."""
    run = run_of("family-sock", 4)
    shape = relaxed("family-sock", 4)
    ways = []
    for title in ("Leg", "Foot"):
        rings = [ring for ring in shape.rings
                 if run.sections[shape.graph.loops[ring[0]].section].title == title]
        way = shape.points[list(rings[-3])].mean(axis=0) - shape.points[list(rings[3])].mean(axis=0)
        ways.append(way / np.linalg.norm(way))
    assert -0.65 < ways[0] @ ways[1] < 0.65


@pytest.mark.parametrize(("name", "size", "title"), [("family-sock", 0, "Cuff"),
                                                     ("leg-warmer", 1, "Top rib")])
def test_a_tubular_edge_does_not_draw_the_rib_in(name, size, title):
    """Its loops lie between those of the other bed: it is as wide as the rib above it."""
    run, shape = run_of(name, size), relaxed(name, size)
    rib = {measure.title: float(measure.girth) for measure in measures(run)}[title]

    for ring in shape.rings[:3]:
        assert girth(shape, ring) == pytest.approx(rib, rel=0.04)


@pytest.mark.parametrize(("name", "choice"), [("flat-sock", 0), ("family-sock", 1)])
def test_a_gathered_end_closes(name, choice):
    """Drawn up, an end of 24 stitches and more leaves no hole of a pencil's width."""
    shape = relaxed(name, 1, choice)
    (end,) = shape.graph.gathered
    points = shape.points[list(end)]

    assert np.linalg.norm(points - points.mean(axis=0), axis=1).max() < 3.5


def test_a_heel_taken_up_from_a_slit_stands_out_behind():
    """Its tip is further from the toe than any loop of the foot, and outside of leg and foot."""
    run, shape = run_of("afterthought-sock", 1), relaxed("afterthought-sock", 1)
    parts = sections_of(run)
    section = np.array([loop.section for loop in shape.graph.loops])
    tip = np.mean([shape.points[list(pair)].mean(axis=0) for pair in shape.graph.grafted
                   if section[pair[0]] in parts.heel], axis=0)
    along = (shape.points - tip) @ foot_axis(shape, parts)
    real = np.array(shape.real)

    assert min(along[real & np.isin(section, parts.foot)]) > 20
    assert max(along[real]) > 0.85 * float(finished(run).foot)
    for part in (parts.leg, parts.foot):
        rings = [ring for one in part for ring in rings_in(shape, one)]
        middles = np.array([shape.points[list(ring)].mean(axis=0) for ring in rings])
        assert min(np.linalg.norm(middles - tip, axis=1)) > 200 / (2 * np.pi)


def test_names_stand_at_the_parts_and_lines_have_a_legend():
    run = run_of("family-sock", 4)
    root = ElementTree.fromstring(side_picture(run, relaxed("family-sock", 4), heading="x").svg)
    at = {e.text: (float(e.get("x")), float(e.get("y"))) for e in root.iter(f"{SVG}text")}

    assert "a section begins here" in at
    assert at["Cuff"][1] < at["Leg"][1] < at["Heel"][1]
    assert at["Heel"][0] < at["Foot"][0] < at["Toe"][0]
    # A turn of one row has no room for its name.
    assert "Turn to a tube" not in at


def test_a_hung_hem_lies_on_itself():
    """Its edge ends beside the row that closes it, 12 rows at 4.2 a cm below its fold, and nothing
    of it stands out from the leg by more than a quarter of its radius (62 stitches at 3 a cm are
    206.7 mm round)."""
    shape = relaxed("flat-sock", 1)
    centres = [shape.points[list(ring)].mean(axis=0) for ring in shape.rings]
    axis = centres[60] - centres[30]
    axis /= np.linalg.norm(axis)
    along = [float((centre - centres[24]) @ axis) for centre in centres]
    off = shape.points[[n for ring in shape.rings[:24] for n in ring]] - centres[24]
    out = np.linalg.norm(off - np.outer(off @ axis, axis), axis=1)

    assert sorted(shape.inside) == list(range(12))
    assert along[0] == pytest.approx(0, abs=4)
    assert -along[12] == pytest.approx(120 / 4.2, rel=0.12)
    assert max(out) < 1.25 * 206.7 / (2 * np.pi)


def test_a_hem_that_is_sewn_down_is_folded_in():
    """Its last 8 rounds (2 cm at 4.2 a cm) lie inside, their edge against the rounds it is sewn to,
    and none of it is drawn."""
    run, shape = run_of("toe-up-sock", 1), relaxed("toe-up-sock", 1)
    count = len(shape.rings)
    edge, wall = (shape.points[list(shape.rings[at])] for at in (-1, -16))
    radius = np.linalg.norm(wall - wall.mean(axis=0), axis=1).mean()

    assert sorted(shape.inside) == list(range(count - 8, count))
    assert np.linalg.norm(edge - wall, axis=1).max() < 6
    assert np.linalg.norm(edge - wall.mean(axis=0), axis=1).max() < 1.2 * radius
    root = ElementTree.fromstring(side_picture(run, shape, heading="x").svg)
    at = {e.text: (float(e.get("x")), float(e.get("y"))) for e in root.iter(f"{SVG}text")}
    assert at["Hem"][0] > at["Leg"][0] + 50


def test_the_picture_tells_what_was_measured():
    run, shape = run_of("leg-warmer", 1), relaxed("leg-warmer", 1)
    text = side_picture(run, shape, heading="Warmer").svg

    for one in measured(run, shape):
        assert re.search(f"{re.escape(one.name)}: {one.value / 10:.1f} cm", text)
