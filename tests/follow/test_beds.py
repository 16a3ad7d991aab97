"""The picture of the needle beds."""

from __future__ import annotations

from itertools import pairwise

import pytest

from follow.pages import go_to

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
