"""Lists of the sheet when all choices are printed: what differs is told for each choice."""

from __future__ import annotations

from support.outlines import items, outline_of

BAND = '''pattern "Band"
yarn one "wool"
yarn two "wool"
gauge plain 30 stitches, 40 rows per 10 cm
option colours single, double
option ending bound-off, gathered
section "Band" in plain
    bring centre 30 of front into work to cast on
    set front to knit
    thread one
    knit 11 rows
    when colours is double
        cut
        thread two
        knit 4 rows
    when ending is gathered
        set front to tuck
        knit 1 row
        set front to knit
        cut
        gather both
    otherwise
        bind off front
        cut
    sew sides
'''


def sheet_of(*choose):
    return outline_of(BAND, choose=choose, every_choice=True, bank_book=True)


def test_finishing_and_bank_book_name_the_choice_where_they_differ():
    """By hand: the side edges have 11 rows and those of the choices;
    each yarn has two ends; the last 30 stitches go the way that was chosen."""
    assert items(sheet_of("colours=single"), "bank-book") == [
        "Band, with ending bound-off: cast on 30, bound off 30, on the needles 0",
        "Band, with ending gathered: cast on 30, gathered 30, on the needles 0"]

    sheet = sheet_of("ending=bound-off")
    assert items(sheet, "bank-book") == ["Band: cast on 30, bound off 30, on the needles 0"]
    ends = [line for line in items(sheet, "finishing") if "Weave" in line]
    assert [line.partition(" and ")[0] for line in ends] == [
        "With colours single: Weave in 2 ends", "With colours double: Weave in 4 ends"]
    seams = [line for line in items(sheet, "finishing") if "Sew the" in line]
    assert [line.rpartition(", ")[2] for line in seams] == ["11 rows.", "15 rows."]
    assert items(sheet, "finishing")[-1].startswith("Wash and rest")


def test_measurements_and_needs_name_the_choice_where_they_differ():
    """Only gathering has a row of tuck before it; measurements are those of the first choice."""
    sheet = sheet_of("ending=bound-off")

    assert sheet.table("finished").note.endswith("with colours single, ending bound-off")
    assert items(sheet_of("colours=single"), "needs") == [
        "one bed", "30 needles a bed", "with ending gathered: tuck"]


def test_all_choices_settled_name_none():
    sheet = sheet_of("colours=single", "ending=gathered")

    told = [text for name in ("bank-book", "finishing", "needs") for text in items(sheet, name)]
    assert "with " not in str((told, sheet.table("finished").note)).lower()
