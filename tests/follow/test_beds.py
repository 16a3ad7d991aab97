"""The picture of the needle beds."""

from __future__ import annotations

from itertools import pairwise

import pytest

from follow.pages import go_to, press, ready, write

LABELS = """() => [...document.querySelectorAll('#picture svg')].map(svg =>
    [...svg.querySelectorAll('.number')].map(label => {
        const box = label.getBoundingClientRect();
        return [label.textContent, box.left, box.right];
    }))"""


@pytest.mark.parametrize("width", [1024, 640, 360])
def test_both_needles_at_the_middle_are_named_and_no_names_overlap(sock, width):
    sock.set_viewport_size({"width": width, "height": 768})
    go_to(sock, "20")
    strips = sock.evaluate(LABELS)

    names = [label[0] for strip in strips for label in strip]
    assert "L1" in names and "R1" in names
    for strip in strips:
        for (_, _, right), (_, left, _) in pairwise(strip):
            assert right < left


RACKED = '''pattern "Racked"
yarn main "any yarn"

section "Racked"
    bring centre 10 of both into work
    thread main
    cast on centre 10 of both
    set both to knit
    rack to {steps} {side}
    knit 2 rows
    cut
    gather both
'''


@pytest.mark.parametrize("steps, side, aside", [(0, "right", 0), (3, "right", 30),
                                                (2, "left", -20)])
def test_needles_that_face_each_other_as_the_beds_stand_are_drawn_so(
        context, tmp_path, steps, side, aside):
    script = tmp_path / "racked.sockscript"
    script.write_text(RACKED.format(steps=steps, side=side), "utf-8")
    page = context.new_page()
    page.goto(write(script, tmp_path / "racked.html").as_uri())
    ready(page)
    press(page, "Space", 2)
    stitches = page.evaluate("""() => [...document.querySelectorAll('#picture circle.ring')].map(
        one => [Number(one.getAttribute('cy')), Number(one.getAttribute('cx'))])""")
    back = sorted(x for y, x in stitches if y < 75)
    front = sorted(x for y, x in stitches if y > 75)

    assert len(back) == len(front) == 10
    assert back[0] - front[0] == aside
    # In the words of the terminal and the pictures (trace.in_words).
    assert page.locator("#set-front").inner_text() == "Front bed: 10 stitches, set to knit"
    racked = f", racked {steps} to the {side}" if steps else ""
    assert page.locator("#set").inner_text() == f"Half pitch{racked} · Yarn in the feeder: any yarn"
