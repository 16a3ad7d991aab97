"""One outline for all forms: each of them lays out all of it, in its order."""

from __future__ import annotations

import io
import json
import re
from html import unescape
from itertools import pairwise
from pathlib import Path

import jsonschema
import pypdf
import pytest
from support.outlines import items, outline_of, texts_of
from support.scripts import HEADER

from sockscript.sheet import html_form, json_form, markdown, pdf_form, text

EXAMPLES = sorted((Path(__file__).resolve().parents[2] / "examples").glob("*.sockscript"))
FAMILY = next(path for path in EXAMPLES if path.stem == "family-sock").read_text("utf-8")
SCHEMAS = Path(text.__file__).parent

WAYS = {"as it is": {}, "one size": {"sizes": ["Woman-M"]}, "all choices": {"every_choice": True},
        "three sizes": {"sizes": ["Woman-S", "Woman-M", "Woman-L"], "my_size": "Woman-M"},
        "everything": {"bank_book": True, "with_script": True}}
OUTLINES = [pytest.param(outline_of(path.read_text("utf-8")), id=path.stem) for path in EXAMPLES]
OUTLINES += [pytest.param(outline_of(FAMILY, **options), id=way)
             for way, options in WAYS.items()]


def squeezed(words):
    """Letters only: for comparing what was broken into lines, escaped or starred."""
    return re.sub(r"[\s\\*]", "", words)


def of_html(outline):
    page = html_form.render(outline)
    body = re.sub(r"<fieldset.*?</fieldset>", "", page[page.index("<body"):], flags=re.S)
    body = re.sub(r'<span class="own-\d+">.*?</span>', "", body)
    return unescape(re.sub(r"<[^>]*>", "", re.sub(r"<svg.*?</svg>", "", body, flags=re.S)))


def of_pdf(outline):
    reader = pypdf.PdfReader(io.BytesIO(pdf_form.render(outline)))
    return "".join(page.extract_text() for page in reader.pages)


FORMS = {"text": text.render, "markdown": markdown.render, "html": of_html, "pdf": of_pdf}


@pytest.mark.parametrize("form", FORMS)
@pytest.mark.parametrize("outline", OUTLINES)
def test_every_form_says_all_of_the_outline(outline, form):
    words = squeezed(FORMS[form](outline)).lower()

    for part in texts_of(outline):
        assert squeezed(part).lower() in words


@pytest.mark.parametrize("form", ["text", "markdown", "html"])
@pytest.mark.parametrize("outline", OUTLINES)
def test_blocks_stand_in_the_order_of_the_outline(outline, form):
    words = squeezed(FORMS[form](outline)).lower()
    places = [words.rindex(squeezed(block.title).lower() + mark)
              for block in outline.blocks if (title := getattr(block, "title", ""))
              for mark in ["-" * len(title) if form == "text" else ""]
              if form == "text" or squeezed(title).lower() in words]

    if form == "text":
        assert places == sorted(places)
    assert len(places) == len([b for b in outline.blocks if getattr(b, "title", "")])


# ---- JSON


def schema(name):
    return json.loads((SCHEMAS / f"{name}.schema.json").read_text("utf-8"))


def test_the_schemas_are_schemas():
    for name in ("steps", "sizes", "range"):
        jsonschema.Draft202012Validator.check_schema(schema(name))


@pytest.mark.parametrize("outline", OUTLINES)
def test_json_keeps_to_its_schema_and_says_all(outline):
    rendered = json_form.render(outline)
    data = json.loads(rendered)

    jsonschema.Draft202012Validator(schema("steps")).validate(data)
    words = set()

    def gather(part):
        if isinstance(part, str):
            words.add(part.strip())
        for inner in part.values() if isinstance(part, dict) else \
                part if isinstance(part, list) else ():
            gather(inner)

    gather(data)
    about = {words_ for _, words_ in outline.about()}
    assert {part.strip() for part in texts_of(outline)} - words - about <= {""}
    assert len([b for b in data["blocks"] if b["block"] == "steps"]) == len(list(outline.steps()))


def test_numbers_of_sizes_are_lists_in_json():
    outline = outline_of(FAMILY, sizes=["Woman-S", "Woman-M"])
    data = json.loads(json_form.render(outline))
    step = next(step for block in data["blocks"] if block["block"] == "steps"
                for step in block["steps"] if step["text"].startswith("Bring 56 (60)"))

    assert step["pieces"][:2] == ["Bring ", ["56", "60"]]


def test_a_schema_refuses_what_is_not_in_it():
    data = json.loads(json_form.render(outline_of(FAMILY)))
    for spoil in (lambda d: d.pop("blocks"), lambda d: d.update(colour="red"),
                  lambda d: d["blocks"][-1].update(block="song"),
                  lambda d: d["blocks"][2].pop("items")):
        spoilt = json.loads(json.dumps(data))
        spoil(spoilt)
        assert list(jsonschema.Draft202012Validator(schema("steps")).iter_errors(spoilt))


# ---- numbers of sizes


THREE = HEADER + '''sizes S M L
    wide 20 24 28
    extra 0 2 4
section "Test"
    bring centre wide of front into work to cast on
    set front to knit
    thread main
    knit 1 row
    when extra is more than 0
        knit extra rows
    repeat extra times
        knit 1 row
        move 1 stitch at left of front in by 1
    cut
    gather front
'''


def steps(outline):
    return [(line.only, "".join(map(str, line.words))) for block in outline.steps()
            for line in block.lines]


def test_a_step_that_only_some_sizes_do_keeps_all_places():
    """By hand: S has no extra rows; M and L have their numbers in the second and third place."""
    assert (("M", "L"), "Knit – (2, 4) rows.") in steps(outline_of(THREE))
    assert not any(" 2 (4)" in words for _, words in steps(outline_of(THREE)))


def test_a_condition_stands_at_the_front_and_never_in_brackets():
    for path in EXAMPLES:
        for _, words in steps(outline_of(path.read_text("utf-8"))):
            assert not re.search(r"\([^()]*sizes? ", words)
            assert not re.search(r"\([^()]*\(", words), words


def test_numbers_stand_under_letters_from_six_sizes_on():
    """Five sizes are still read in brackets; a place for each letter in one small table."""
    names = ["A", "B", "C", "D", "E", "F"]

    def script(count):
        return HEADER + f"sizes {' '.join(names[:count])}\n    wide " + " ".join(
            str(20 + 2 * n) for n in range(count)) + '''
section "Test"
    bring centre wide of front into work to cast on
    bring centre wide / 2 of back into work to cast on
    hold centre wide of front
'''
    five, six = outline_of(script(5)), outline_of(script(6))

    assert steps(five)[0][1].startswith("Bring the 20 (22, 24, 26, 28) needles")
    assert [block.letters for block in five.steps()] == [()]
    assert steps(six)[0][1].count("[b]") == 2 and "(" not in steps(six)[0][1]
    (block,) = six.steps()
    assert [(row.letter, row.values) for row in block.letters] == [
        ("b", ("20", "22", "24", "26", "28", "30")), ("c", ("10", "11", "12", "13", "14", "15"))]


def test_marks_of_the_program_itself_do_not_come_in_with_a_text():
    """Noncharacters (The Unicode Standard, 23.7) in every text that an author can write."""
    marked = FAMILY.replace('section "Cuff"', 'section "Cu\ufdd0a\ufdd2ff"').replace(
        "four-ply", "four\ufdd0x\ufdd1y\ufdd2-ply").replace('note "', 'note "\ufdd1\ufdd0')
    outline = outline_of(marked, bank_book=True)

    for form in (text.render, markdown.render, html_form.render, json_form.render):
        assert not re.search("[\ufdd0-\ufdd2]", form(outline))
    assert "Cu\ufffda\ufffdff" in [block.title for block in outline.steps()]


def test_no_line_is_broken_inside_a_list():
    outline = outline_of(FAMILY, sizes=["Woman-S", "Woman-M", "Woman-L", "Man-M", "Man-L"])
    for line in text.render(outline).splitlines():
        assert line.count("(") == line.count(")")


def test_my_size_stands_out_in_every_list_and_table():
    outline = outline_of(FAMILY, sizes=["Woman-S", "Woman-M", "Woman-L"], my_size="Woman-M")

    plain = text.render(outline)
    assert "Your size, Woman-M, stands between *stars*." in plain
    assert "Bring 56 (*60*, 64) needles" in plain and " *Woman-M* " in plain
    assert "Bring 56 (**60**, 64) needles" in markdown.render(outline)
    page = html_form.render(outline)
    assert re.search(r'id="own-1" checked', page)
    assert '<span class="s1">60</span>' in page
    assert json.loads(json_form.render(outline))["my-size"] == "Woman-M"


def test_my_size_is_read_at_once_where_numbers_stand_under_letters():
    outline = outline_of(FAMILY, my_size="Woman-M")

    assert "Bring 60 [b] needles" in text.render(outline)
    assert "Bring 60 **\\[b\\]** needles" in markdown.render(outline)
    assert "Bring60[b]needles" in squeezed(of_pdf(outline))
    page = html_form.render(outline)
    assert '<span class="own-5">60 </span>' in page
    assert ":root:has(#own-5:checked) .own-5 { display: inline; }" in page


def test_counts_stand_in_the_margin_only_where_they_change():
    shows = [["".join(map(str, part)) for part in line.shows] for block in
             outline_of(FAMILY, sizes=["Woman-M"]).steps() for line in block.lines
             if line.number is not None]
    counts = [parts[0] for parts in shows if len(parts) == 2]

    assert all(one != other for one, other in pairwise(counts))
    assert len(counts) < len(shows) / 2
    assert all(re.fullmatch(r"(CO[LR] → )?CO[LR] · RC \d+", parts[-1]) for parts in shows)


def test_steps_say_at_which_side_the_carriage_begins():
    """By hand: it starts at the right; three rows end at the left, where the next two begin."""
    outline = outline_of(HEADER + '''section "Test"
    bring centre 20 of front into work to cast on
    set front to knit
    thread main
    knit 3 rows
    knit 2 rows
    cut
    gather front
''')
    shows = ["".join(map(str, line.shows[-1])) for block in outline.steps()
             for line in block.lines]

    assert shows == ["COR → COL · RC 3", "COL → COL · RC 5", "COL · RC 5"]


# ---- choices


def test_each_choice_is_one_whole_block():
    outline = outline_of(FAMILY, sizes=["Woman-M"], every_choice=True)
    titles = [block.title for block in outline.steps()]

    assert "Toe, with a grafted toe" in titles and "Toe, with a gathered toe" in titles
    assert titles.count("Cuff") == 1
    numbers = [line.number for block in outline.steps() for line in block.lines if line.number]
    assert numbers == list(range(1, len(numbers) + 1))
    assert not any(re.search(r"\bOr, with\b", words) for _, words in steps(outline))


def test_a_sheet_of_one_choice_names_the_others():
    one = outline_of(FAMILY, choose=["finish=gather"])

    assert one.choices == "a pointed heel, a gathered toe"
    assert one.other_choices == ("The pattern can also be made with a blunter heel, or with "
                                 "a grafted toe.")
    assert outline_of(FAMILY, every_choice=True).other_choices == ""


def test_a_choice_without_words_of_its_own_is_told_by_its_name():
    plain = FAMILY.replace(' "a pointed heel"', "").replace(
        'gather "a gathered toe"', 'gather "a gathered toe", bind-off')
    one = outline_of(plain, sizes=["Woman-M"])

    assert one.choices == "heel-point third, a grafted toe"
    assert one.other_choices == ("The pattern can also be made with a blunter heel, or with "
                                 "a gathered toe or finish bind-off.")


def test_the_bank_book_is_there_when_it_is_asked_for():
    assert outline_of(FAMILY).listing("bank-book") is None
    assert items(outline_of(FAMILY, sizes=["Woman-M"], bank_book=True), "bank-book")[0].startswith(
        "Cuff: cast on 60")


def test_of_one_size_the_turning_and_the_heel_are_drawn_at_their_steps():
    outline = outline_of(FAMILY, sizes=["Woman-M"], with_pictures=True)
    drawn = {block.title: [picture.caption for picture in block.pictures]
             for block in outline.steps() if block.pictures}

    assert drawn == {"Turn to a tube": ["The turning"],
                     "Heel": ["The short rows, the first at the bottom"]}
    assert html_form.render(outline).count('<figure class="steps-picture">') == 2
    assert not any(block.pictures for block in outline_of(FAMILY, with_pictures=True).steps())
    for picture in (picture for block in outline.steps() for picture in block.pictures):
        # Beside a step a drawing is 58 mm wide: its words are 6.5 points high there.
        sizes = [float(size) for size in re.findall(r'font-size="([\d.]+)"', picture.drawing.svg)]
        assert min(sizes) * 58 / 25.4 * 72 / picture.drawing.width >= 6.5


def test_a_row_or_a_time_round_has_a_box_of_its_own_where_one_size_is_printed():
    outline = outline_of(FAMILY, sizes=["Woman-M"], every_row=True)
    boxes = [line.boxes for block in outline.steps() for line in block.lines if line.boxes]

    # The cuff, the leg, the heel down and back, the foot, the toe; a single row has none, nor
    # have rows in a step with words of its own.
    assert boxes == [28, 42, 20, 18, 2, 64, 9]
    assert html_form.render(outline).count("<i></i>") == sum(boxes) + 4
    assert not any(line.boxes for block in outline_of(FAMILY, every_row=True).steps()
                   for line in block.lines)


# ---- pages


def test_a_leaflet_of_three_sizes_has_two_pages():
    leaflet = outline_of(FAMILY, sizes=["Woman-S", "Woman-M", "Woman-L"])
    for paper in ("a4", "letter"):
        made = pdf_form.render(leaflet, paper=paper)
        assert len(pypdf.PdfReader(io.BytesIO(made)).pages) == 2


def test_fractions_are_written_out_in_large_print():
    made = pdf_form.render(outline_of(FAMILY, sizes=["Woman-M"]), large=True)
    words = "".join(page.extract_text() for page in pypdf.PdfReader(io.BytesIO(made)).pages)

    assert re.search(r"\d\s+3/4 in", words)
    assert not re.search("[¼½¾]", words)
