"""A small piece performed again after each edit: all that is kept of it, as if from nothing."""

from __future__ import annotations

import re

import pytest
from support.scripts import HEADER
from support.versions import assert_same

from sockscript.expand import after_edit
from sockscript.expand.perform import Performer
from sockscript.service.document import Document

PIECE = HEADER + '''yarn fine "thin cotton"
yarn waste "smooth waste yarn" as waste
sizes A B
    tall 4 6
option end gather, bind-off
let fixed = 3

section "Begin" in plain
    note "Look at it."
    bring centre 20 of front into work
    set front to knit
    thread main
    cast on front
    knit tall rows
    cut

section "Stripe" in plain
    target girth 12 cm
    thread fine
    set L2 and R2 of front to tuck
    repeat 2 times
        knit 2 rows
    expect row counter 8
    expect 21 stitches on front
    step "Work the edge to row {tall}"
        decrease
    cut
    thread main

section "Free" in plain
    row counter 0
    knit 3 rows
    expect 19 stitches on front
    expect row counter 3

section "End" in plain
    target length 3 cm
    knit fixed rows
    drop left 1 of front
    expect row counter 7
    when end is gather
        cut
        gather front
    otherwise
        bind off front
        cut
'''
PIECE = PIECE.replace("\n        decrease", "\n        move 3 stitches at left of front in by 1")


@pytest.mark.parametrize("edit", [
    ('section "Begin"', '# One more line.\n\nsection "Begin"'),
    ("    knit tall rows", "    knit tall rows\n    knit 1 row"),
    ("    knit tall rows", "    row counter 5\n    knit tall rows"),
    ("centre 20", "centre 22"), ("    knit 2 rows", "    knit 4 rows"),
    ("    row counter 0\n", ""), ("row counter 0", "row counter 2"),
    ("knit 3 rows", "knit 1 row\n    stitch size 5\n    knit 2 rows"),
    ('    note "Look at it."\n', ""), ('    thread main\n\nsection "Free"', '\nsection "Free"'),
    ("    knit tall rows", "    knit tall rows\n    drop left 1 of front"),
    ("    knit tall rows", "    knit tall rows\n    cut\n    thread waste\n    knit 2 rows"),
    ("    knit tall rows", "    knit tall rows\n    cut\n    thread waste\n    knit 2 rows\n"
                           "    cut\n    thread main\n    knit 2 rows"),
    ("    knit tall rows", "    knit tall rows\n    cut\n    thread waste\n    knit 2 rows\n"
                           "    cut\n    thread main\n    knit tall rows"),
    ("    knit tall rows", "    set L3 of front to tuck\n    knit 2 rows\n    set front to knit\n"
                           "    knit tall rows"),
    ("    repeat 2 times", "    repeat 4 times"), ('    note "Look at it."', ""),
    ('    note "Look at it."', "    bind off left 3 of back"),
    ("girth 12 cm", "girth 13 cm"), ('"Stripe" in plain', '"Band" in plain'),
    ('"Stripe" in plain', '"Stripe"'), ("let fixed = 3", "let fixed = 4"),
    ("tall 4 6", "tall 5 6"), ("section \"Free\"", "section \"More\" in plain\n    knit 1 row\n\n"
                               "section \"Free\""),
    ("    cut\n    thread main\n\n", "    bind off front\n    knit fixed / 2 rows\n\n"),
    ("    cast on front\n", "    cast on front\n    cast on back\n"),
    ("    cast on front\n", "    cast on front\n    bring L10 of back into work to cast on\n"
                             "    cast on L10 of back\n    bind off L10 of back\n")])
def test_after_an_edit_all_is_kept_as_if_performed_from_nothing(edit):
    edited = PIECE.replace(*edit, 1)
    for versions in ((PIECE, edited, PIECE), (edited, PIECE)):
        document = Document("sock.sockscript")
        for text in versions:
            assert document.examine(text).proof is not None
            assert_same(document, text)
        assert document.again.reused


@pytest.mark.parametrize("edit", [
    ('section "Begin"', '# One more line.\n\nsection "Begin"'),
    ("    knit tall rows", "    knit tall rows\n    knit 1 row"), ("tall 4 6", "tall 6 4"),
    ("fixed rows", "fixed + 1 rows"), ('section "Free" in plain\n', ""),
    ("knit fixed rows", "knit fixed rows\n    note \"Look.\"")])
def test_a_line_that_cannot_be_worked_out_stops_it_at_its_new_place(edit):
    stopped = PIECE.replace("drop left 1 of front", "do halved with many = fixed").replace(
        "let fixed = 3", "let fixed = 3\ntechnique halved with many\n    knit many / 2 rows")
    document = Document("sock.sockscript")
    for text in (stopped, stopped.replace(*edit, 1), stopped):
        assert document.examine(text).proof is not None
        assert_same(document, text)


def test_without_sizes_there_is_one():
    text = PIECE.replace("sizes A B\n    tall 4 6", "let tall = 4")
    assert len(Document("sock.sockscript").examine(text).proof.outcomes) == 1


@pytest.mark.parametrize("lines", ["row counter 1", "row counter 5", "stitch size 5",
                                   "row counter 3\n    note \"Look.\""])
def test_where_nobody_sets_or_asks_the_row_counter_it_goes_along(lines):
    text = re.sub("    (expect )?row counter [037]\n", "", PIECE).replace(
        "drop left 1 of front", "drop left 1 of front\n    row counter 9")
    document = Document("sock.sockscript")
    for version in (text, text.replace("    thread main\n", f"    {lines}\n    thread main\n", 1)):
        document.examine(version)
        assert_same(document, version)
    assert document.again.reused >= 3 + 3 * ("size" not in lines)


@pytest.mark.parametrize("edit, performed, reused", [
    (("", ""), 0, 0), (("let fixed", "\n\nlet fixed"), 7, 3),
    (('section "Begin"', '\n\nsection "Begin"'), 2, 8), (("knit fixed rows", "knit 2 rows"), 2, 8),
    (("knit 3 rows", "knit 4 rows"), 3, 7), (("tall 4 6", "tall 4 5"), 10, 0)])
def test_what_an_edit_knits_again(edit, performed, reused):
    """Sizes: the second begins with two rows more and shares the rest; with one row more the
    carriage is at the other end.  The stripe has an expectation that an earlier section spoiled,
    so it is kept only with the whole run up to it; the end is done for both choices."""
    document = Document("sock.sockscript")
    document.examine(PIECE)
    before = document.again.performed, document.again.reused
    assert before == (7, 3)
    document.examine(PIECE.replace(*edit, 1))

    assert (document.again.performed - before[0], document.again.reused - before[1]) == (
        performed, reused)


@pytest.mark.parametrize("edit", [("knit 3 rows", "knit 4 rows"), ("tall 4 6", "tall 4 8")])
def test_with_too_many_lines_in_all_it_stops_where_a_first_check_does(edit, monkeypatch):
    """All sizes and choices together take 78 lines."""
    text = PIECE.replace(*edit, 1)
    for most in range(30, 80):
        document = Document("sock.sockscript")
        document.examine(PIECE)
        with monkeypatch.context() as limited:
            limited.setattr(Performer.__init__, "__defaults__", (most, None))
            document.examine(text)
            assert_same(document, text)
            kinds = [one.kind for one in document.examined.findings]
            assert ("too-long" in kinds) == (most < 78)


@pytest.mark.parametrize("less, performed", [(0, 3), (1, 4)])
def test_runs_are_kept_as_far_as_they_are_not_too_long(less, performed, monkeypatch):
    """Those of the first size, and of the second up to the stripe, which is knitted again if its
    run is not kept."""
    document = Document("sock.sockscript")
    kept = 0
    for outcomes in document.examine(PIECE).proof.outcomes:
        run = outcomes[0].run
        kept += run.sections[0].last + run.sections[1].last
        if run.size == 0:
            kept += run.sections[2].last + sum(len(one.run.moments) for one in outcomes)
    monkeypatch.setattr(after_edit, "MOST_IN_RUNS", kept - less)
    document = Document("sock.sockscript")
    document.examine(PIECE)
    before = document.again.performed
    document.examine(PIECE.replace("knit 3 rows", "knit 4 rows", 1))

    assert document.again.performed - before == performed


def moments_kept() -> int:
    """What is kept of two sizes: their beginnings, and of what they share the free part and both
    ends; the stripe is kept only with the runs."""
    first, second = Document("sock.sockscript").examine(PIECE).proof.outcomes
    begun = [outcomes[0].run.sections[0] for outcomes in (first, second)]
    ends = [outcome.run.sections[3] for outcome in first]
    return sum(one.last - one.first for one in (*begun, first[0].run.sections[2], *ends))


@pytest.mark.parametrize("less, performed", [(0, [7, 2, 2]), (1, [7, 2, 7])])
def test_what_is_moved_to_other_lines_is_kept_too(less, performed, monkeypatch):
    """Everything but the stripe, once where it was and once two lines further down."""
    monkeypatch.setattr(after_edit, "MOST_KEPT", 2 * moments_kept() - less)
    document = Document("sock.sockscript")
    seen = []
    for more in ("", "\n\n", "\n\n\n"):
        before = document.again.performed
        document.examine(PIECE.replace('section "Begin"', more + 'section "Begin"'))
        seen.append(document.again.performed - before)
    assert seen == performed


def test_stitches_that_were_counted_in_the_section_are_known_with_what_it_asks():
    """Below an edit it is kept, though there were fewer stitches when it asked again."""
    text = PIECE.split('section "Stripe"')[0] + '''section "More" in plain
    thread main
    knit number(count-on(front)) - tall rows
    drop left 2 of front
    knit number(count-on(front)) - tall rows
'''
    document = Document("sock.sockscript")
    document.examine(text)
    document.examine(text.replace("    cut", '    note "Look."\n    cut'))

    assert (document.again.performed, document.again.reused) == (6, 2)


@pytest.mark.parametrize("less, performed", [(0, [7, 2, 7]), (1, [7, 7, 7])])
def test_when_too_much_is_kept_all_is_forgotten(less, performed, monkeypatch):
    """Both ends are knitted again, with another row in them."""
    monkeypatch.setattr(after_edit, "MOST_KEPT", moments_kept() - less)
    document = Document("sock.sockscript")
    seen = []
    for rows in (3, 4, 5):
        before = document.again.performed
        document.examine(PIECE.replace("fixed rows", f"{rows} rows"))
        seen.append(document.again.performed - before)
    assert seen == performed
