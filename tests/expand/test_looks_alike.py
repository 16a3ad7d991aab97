"""When sections look alike to rules that see shapes and no lengths."""

from __future__ import annotations

import pytest
from support.scripts import HEADER, proof

from sockscript.expand.looks_alike import Looks

TECHNIQUE = "technique band with rows-done\n    knit rows-done rows\n"
SECTION = """section "Band" in plain
    bring centre 8 of front into work
    set front to knit
    thread main
    cast on front
    knit 30 rows
    note "Done {8} rows."
    step "Cut the yarn"
        cut
"""


def alike(*bodies, first=SECTION):
    """Whether sections look like the first one."""
    looks = Looks()
    found = []
    for text in (first, *bodies):
        run = proof(text if text.startswith("pattern") else HEADER + text).outcomes[0][0].run
        record = run.sections[0]
        found.append(looks.number(record, run.moments, run.script.source,
                                  run.script.sections[0].at.line))
    return [number == found[0] for number in found[1:]]


def knitted(rows, before="30 rows"):
    return SECTION.replace(before, f"{rows} rows")


def test_many_rows_look_like_any_more_that_leave_the_carriage_at_the_same_end():
    """Seven rows are many, six are not."""
    assert alike(*map(knitted, (30, 8, 400, 6, 7, 31))) == [True, True, True, False, False, False]
    assert alike(*map(knitted, (5, 6, 4, 8)), first=knitted(6)) == [False, True, False, False]
    assert alike(*map(knitted, (9, 399, 7)), first=knitted(7)) == [True, True, True]


@pytest.mark.parametrize("lines, counts", [
    ("hold left 2 of front\n    respect hold on front", True), ("hold left 2 of front", False),
    ("bring centre 4 of back into work to cast on\n    cast on centre 4 of back\n"
     "    set back to rest", True),
    ("bring centre 4 of back into work to cast on\n    cast on centre 4 of back\n"
     "    set back to knit", False),
    ("set back to rest", False)])
def test_where_stitches_are_left_alone_each_row_counts(lines, counts):
    """Stitches in hold or on a bed that rests get no rows while the others do."""
    first = SECTION.replace("    knit 30 rows", f"    knit 1 row\n    {lines}\n    knit 30 rows")

    assert alike(first.replace("30 rows", "40 rows"), first, first=first) == [not counts, True]


def test_a_section_looks_alike_wherever_it_stands_and_not_if_its_lines_differ():
    below = '\n# A comment.\n\n' + SECTION
    called = TECHNIQUE + SECTION.replace("knit 30 rows", "do band with rows-done = 30")

    assert alike(below, SECTION.replace("Band", "Edge"), SECTION.replace(" in plain", ""),
                 SECTION.replace("Done {8}", "Done all {8}"), SECTION.replace("{8}", "{9}"),
                 SECTION.replace("    knit 30", "\n    knit 30"),
                 SECTION.replace("centre 8", "centre 9"), called) == [
        True, False, False, False, True, False, False, False]
    assert alike("\n" + called, called.replace("    knit rows-done", "\n    knit rows-done"),
                 first=called) == [True, True]


def test_what_was_forgotten_gets_a_new_number():
    looks = Looks()
    run = proof(HEADER + SECTION).outcomes[0][0].run
    asked = run.sections[0], run.moments, run.script.source, 5

    assert looks.number(*asked) == looks.number(*asked) == 0
    looks.forget()
    assert looks.number(*asked) == 1
