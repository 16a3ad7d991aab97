"""The leaflet as HTML and as PDF, read back."""

from __future__ import annotations

import io
import re
import sys
from html.parser import HTMLParser
from pathlib import Path
from unittest.mock import patch

import pypdf
import pytest
from attrs import evolve
from support.outlines import items, outline_of

from sockscript.cli import run
from sockscript.numbers.figures import shown
from sockscript.sheet import html_form, pdf_form
from sockscript.sheet.html_form import in_parts
from sockscript.sheet.outline import Steps, Table
from sockscript.sheet.text import only_words

EXAMPLES = sorted((Path(__file__).resolve().parents[2] / "examples").glob("*.sockscript"))
VOID = {"meta", "br", "hr", "img", "link", "input"}

STRANGER = '''pattern "</title><script>alert(1)</script>"
author "#eval(1) ><b>x"
licence "CC */ } </style><script>alert(2)</script>"
yarn main "<img src=x onerror=alert(3)> #image(1) $x$"
gauge plain 30 stitches, 42 rows per 10 cm
note "<script>alert(4)</script> #read(1) *not bold* _nor this_ $a$ @b <c>"
section "<b>Tube</b> = heading" in plain
    do tube-cast-on with half = 29, yarn = main
    step "Knit #panic(1) // not a comment"
        knit 40 rows
'''


FAMILY = next(p for p in EXAMPLES if p.stem == "family-sock")
STRIPED = next(p for p in EXAMPLES if p.stem == "striped-sock")
"""Three sizes and no choices: the commands have it in no time."""


@pytest.mark.parametrize("path", EXAMPLES, ids=lambda path: path.stem)
def test_the_leaflet_of_an_example(path):
    """All that holds for every leaflet, so that each is checked and laid out once."""
    text = path.read_text("utf-8")
    leaflet = outline_of(text)
    the_page_stands_alone(leaflet)
    letters_of_the_schematic_are_as_large_as_the_words(leaflet)
    reader = read_back(leaflet)
    the_pdf_reads_back_page_by_page(leaflet, reader)
    the_pdf_is_tagged_and_tells_title_author_and_language(leaflet, reader)
    rows_of_a_table_have_a_header_of_their_own(reader)
    steps_are_lists_with_their_numbers(leaflet, reader)

    sizes = leaflet.sizes
    # The thumb of a mitten is a piece of its own, with what its choice of a hand changes; a heel
    # with a gusset has three parts, whose counts differ from size to size.
    most = 4 if len(sizes) > 5 else 3 if path.stem in ("mitten", "gusset-sock") else 2
    assert len(reader.pages) <= most
    assert len(read_back(leaflet, paper="letter").pages) <= most
    # With the turning and the short rows drawn beside their steps.
    one = outline_of(text, sizes=[sizes[len(sizes) // 2]], with_pictures=True)
    assert [len(read_back(one, paper=paper).pages) for paper in ("a4", "letter")] == [2, 2]


class Page(HTMLParser):
    """The elements and the words of a page; every element must be closed."""

    def __init__(self, text):
        super().__init__()
        self.open, self.tags, self.attributes, self.words, self.style = [], set(), [], [], ""
        self.feed(text)
        assert self.open == []

    def handle_starttag(self, tag, attrs):
        self.tags.add(tag)
        self.attributes += [(tag, *attr) for attr in attrs]
        if tag not in VOID:
            self.open.append(tag)

    def handle_startendtag(self, tag, attrs):
        self.tags.add(tag)
        self.attributes += [(tag, *attr) for attr in attrs]

    def handle_endtag(self, tag):
        assert self.open.pop() == tag

    def handle_data(self, data):
        if "style" in self.open:
            self.style += data
        else:
            self.words.append(data)


def words_of(page):
    return re.sub(r"\s+", " ", " ".join(page.words))


def joined(text):
    """Text without blanks and line ends, for comparing what lines were broken."""
    return re.sub(r"\s+", "", text)


# ---- HTML


def the_page_stands_alone(leaflet):
    page = Page(html_form.render(leaflet))

    assert not page.tags & {"script", "link", "img", "iframe", "object", "form"}
    assert not [a for a in page.attributes if a[1] in ("src", "href", "srcset", "action", "style")]
    assert "url(" not in page.style
    assert "@import" not in page.style
    policy = next(a[2] for a in page.attributes if a[1:2] == ("content",) and "default-src" in a[2])
    assert "default-src 'none'" in policy


def test_only_the_abbreviations_that_are_used_are_told():
    leaflet = outline_of('''pattern "Band"
yarn main "four-ply sock wool"
section "Band"
    do tube-cast-on with half = 29, yarn = main
    knit 41 rows
''')
    short = {text.partition(":")[0] for text in items(leaflet, "abbreviations")}
    shows = " ".join(shown(part) for block in leaflet.steps() for line in block.lines
                     for part in line.shows)

    assert short == {word for word in ("COL", "COR", "RC", "→") if word in shows}


def test_what_a_stranger_wrote_stays_words():
    leaflet = outline_of(STRANGER)
    page = Page(html_form.render(leaflet))

    assert not page.tags & {"script", "img", "b", "c"}
    assert "<script>alert(4)</script>" in words_of(page)
    # Nothing of the licence ends the style sheet or a string in it.
    assert "<" not in page.style
    assert "*/" not in page.style
    assert page.style.count("{") == page.style.count("}")


def test_a_wide_table_is_cut_into_even_parts():
    assert [len(part) for part in in_parts(range(9), 9)] == [9]
    assert [len(part) for part in in_parts(range(10), 9)] == [5, 5]
    assert [len(part) for part in in_parts(range(9), 4)] == [3, 3, 3]
    assert [n for part in in_parts(range(23), 4) for n in part] == list(range(23))


# ---- PDF


def read_back(leaflet, **more):
    return pypdf.PdfReader(io.BytesIO(pdf_form.render(leaflet, **more)))


def the_pdf_reads_back_page_by_page(leaflet, reader):
    pages = [page.extract_text() for page in reader.pages]

    for number, text in enumerate(pages, start=1):
        foot = joined(text)
        assert f"{number}/{len(pages)}" in foot
        assert joined(leaflet.footer()) in foot
    flat = [joined(text) for text in pages]
    for block in leaflet.steps():
        assert any(joined(block.title) in page for page in flat)
        for line in block.lines:
            words = only_words(line.only) + shown(line.words)
            if line.number is not None:
                # A step stands whole on one page, beside its number.
                assert any(joined(f"{line.number}.{words}") in page for page in flat), words
            else:
                assert joined(words) in "".join(flat)
    for caution in items(leaflet, "cautions"):
        assert any(joined(caution) in page for page in flat)


def the_pdf_is_tagged_and_tells_title_author_and_language(leaflet, reader):
    """ISO 32000-1: 14.8 (MarkInfo, StructTreeRoot), 14.9.2 (Lang), 14.3.3 (Title)."""
    root = reader.trailer["/Root"]

    assert root["/MarkInfo"]["/Marked"]
    assert "/StructTreeRoot" in root
    assert root["/Lang"].startswith("en")
    assert reader.metadata.title == leaflet.title
    assert reader.metadata.author == (leaflet.author or None)
    assert root["/ViewerPreferences"]["/DisplayDocTitle"]


def test_sections_are_bookmarks():
    leaflet = outline_of(FAMILY.read_text("utf-8"))

    def titles(outline):
        for item in outline:
            if isinstance(item, list):
                yield from titles(item)
            else:
                yield item.title

    found = list(titles(read_back(leaflet).outline))
    for block in leaflet.steps():
        assert block.title in found


@pytest.mark.parametrize(("paper", "millimetres"), [
    ("a4", (210, 297)),  # ISO 216
    ("letter", (215.9, 279.4)),  # ANSI/ASME Y14.1: 8.5 by 11 in
])
def test_paper_has_its_standard_size(paper, millimetres):
    for page in read_back(outline_of(STRANGER), paper=paper).pages:
        found = [float(side) / 72 * 25.4 for side in (page.mediabox.width, page.mediabox.height)]
        assert found == pytest.approx(millimetres, abs=0.2)


def without_pictures(outline):
    return evolve(outline, blocks=tuple(
        evolve(block, picture=None) if isinstance(block, Table) else
        evolve(block, pictures=()) if isinstance(block, Steps) else block
        for block in outline.blocks))


def test_large_print_has_no_letter_under_16_points():
    """16 points is our own promise; that guides to large print ask for 16 to 18 is from memory."""
    leaflet = without_pictures(outline_of(FAMILY.read_text("utf-8")))
    small = []

    def look(text, _matrix, text_matrix, _font, size):
        if text.strip() and size * abs(text_matrix[3]) < 15.9:
            small.append((text, size * text_matrix[3]))

    for page in read_back(leaflet, large=True).pages:
        page.extract_text(visitor_text=look)
    assert small == []


@pytest.mark.parametrize("sizes", [["Woman-M"], []], ids=["one size", "nine sizes"])
def test_large_print_has_no_half_empty_page(sizes):
    reader = read_back(outline_of(FAMILY.read_text("utf-8"), sizes=sizes), large=True)
    rows_of_a_table_have_a_header_of_their_own(reader)
    for number, page in enumerate(reader.pages[:-1], start=1):
        rows = []

        def look(text, user, of_text, _font, _size, rows=rows):
            if text.strip():
                rows.append(of_text[4] * user[1] + of_text[5] * user[3] + user[5])

        page.extract_text(visitor_text=look)
        # The foot of the page stands below everything else.
        above_foot = [y for y in rows if y > 50]
        assert min(above_foot) < 0.35 * float(page.mediabox.height), number


def elements(reader, kind):
    """All elements of a kind in the structure of a PDF (ISO 32000-1, 14.7.2)."""
    def walk(node):
        node = node.get_object()
        if isinstance(node, list):
            return [found for kid in node for found in walk(kid)]
        if not isinstance(node, dict):
            return []
        return ([node] if node.get("/S") == kind else []) + walk(node.get("/K", []))

    return walk(reader.trailer["/Root"]["/StructTreeRoot"])


def attributes(element):
    found = element.get("/A", [])
    found = found.get_object()
    return {key: value for one in (found if isinstance(found, list) else [found])
            for key, value in one.get_object().items()}


def rows_of_a_table_have_a_header_of_their_own(reader):
    """ISO 32000-1, 14.8.4.3.4 and 14.8.5.7: TH with the scope of a row."""
    rows = [row for row in elements(reader, "/TR")
            if row["/P"].get_object()["/S"] == "/TBody"]

    assert rows
    for row in rows:
        first, *rest = [cell.get_object() for cell in row["/K"]]
        assert first["/S"] == "/TH" and attributes(first)["/Scope"] == "/Row"
        assert rest and {cell["/S"] for cell in rest} == {"/TD"}


def steps_are_lists_with_their_numbers(leaflet, reader):
    """ISO 32000-1, 14.8.4.3.3: an item has a label and a body."""
    lists = [one for one in elements(reader, "/L")
             if attributes(one).get("/ListNumbering") == "/Decimal"]
    items = [item.get_object() for one in lists for item in one["/K"]]
    steps = [line for block in leaflet.steps() for line in block.lines if line.number is not None]

    assert len(items) == len(steps)
    for item in items:
        assert [part.get_object()["/S"] for part in item["/K"]] == ["/Lbl", "/LBody"]


def fonts_of(reader):
    return {str(font.get_object()["/BaseFont"]).rpartition("+")[2] for page in reader.pages
            for font in page["/Resources"]["/Font"].values()}


def test_letters_can_be_without_serifs():
    """Letters that the plain font lacks (an arrow) are set in the other."""
    leaflet = outline_of(FAMILY.read_text("utf-8"), sizes=["Woman-M"])
    plain, common = (read_back(leaflet, sans=sans) for sans in (True, False))

    assert {"AtkinsonHyperlegible-Regular", "AtkinsonHyperlegible-Bold"} <= fonts_of(plain)
    assert not any("Atkinson" in name for name in fonts_of(common))
    assert len(plain.pages) == 2
    found = []

    def look(text, _matrix, _text_matrix, font, _size):
        if font and "Libertinus" in str(font["/BaseFont"]):
            found.append(text.strip())

    for page in plain.pages:
        page.extract_text(visitor_text=look)
    assert set("".join(found)) <= set("→")
    assert '<body class="common sans">' in html_form.render(leaflet, sans=True)


def alternatives(reader):
    """The words for pictures in the structure of a PDF (ISO 32000-1, 14.9.3)."""
    def walk(node):
        node = node.get_object()
        if isinstance(node, list):
            return [found for kid in node for found in walk(kid)]
        if not isinstance(node, dict):
            return []
        return ([str(node["/Alt"])] if "/Alt" in node else []) + walk(node.get("/K", []))

    return walk(reader.trailer["/Root"]["/StructTreeRoot"])


def test_words_for_the_schematic_are_not_escaped():
    text = FAMILY.read_text("utf-8").replace('section "Cuff"', 'section "Cuff & <leg>"')
    leaflet = outline_of(text)
    spoken = alternatives(read_back(leaflet))

    assert spoken == [leaflet.table("finished").picture.drawing.description]
    assert "&" in spoken[0] and "&amp;" not in spoken[0]


def letters_of_the_schematic_are_as_large_as_the_words(leaflet):
    """16 points in large print; by itself no smaller than the smallest words of the leaflet."""
    style = html_form.resources.files("sockscript.sheet").joinpath("leaflet.css").read_text()
    template = pdf_form.resources.files("sockscript.sheet").joinpath("leaflet.typ").read_text()
    picture = leaflet.table("finished").picture.drawing
    width, height = picture.width, picture.height
    letters = min(map(float, re.findall(r'font-size="(\S+)"', picture.svg)))
    page = 210 - 2 * 16  # A4 with margins of 16 mm; the lists stand beside the common drawing.
    large, common = (int(re.search(rf"figured\({what}.picture, (\d+)mm\)", template)[1])
                     for what in ("one", "drawn"))
    printed = int(re.search(r"large figure svg \{ height: (\d+)", style)[1])
    for high, across, least in ((large, page, 16), (common, (page - 7) / 2, 8),
                                (printed, page, 16)):
        scale = min(high / height, across / width)
        assert letters * scale / 25.4 * 72 >= least


CHOOSY = """pattern "Choosy"
yarn one "wool" 100 m per 100 g
yarn two "wool" 100 m per 100 g
gauge plain 30 stitches, 40 rows per 10 cm
option length short, long
section "Band" in plain
    bring centre 40 of front into work to cast on
    set front to knit
    thread one
    knit 10 rows
    when length is long
        knit 30 rows
    bind off front
    cut
    bring centre 40 of front into work to cast on
    thread two
    knit 9 rows
    bind off front
    cut
"""


def test_yarn_of_all_choices_is_that_of_the_longest():
    def metres(*choose):
        made = outline_of(CHOOSY, choose=choose, every_choice=True)
        return {row.name: row.cells[0].words for row in made.table("yarn").rows
                if row.name.endswith(", m")}

    short, long = metres("length=short"), metres("length=long")
    assert set(short) == {"wool (one), m", "wool (two), m"}
    assert metres() == long != short


def test_the_default_choice_is_named_where_all_choices_are_printed():
    made = outline_of(CHOOSY, every_choice=True)

    assert made.table("finished").note.endswith("simulated fabric, with length short")


def test_a_table_in_parts_tells_what_it_is_once_and_is_named_always():
    page = html_form.render(outline_of(FAMILY.read_text("utf-8")), large=True)

    assert page.count('<p class="caption">What each size is made for</p>') == 1
    assert page.count('<table aria-label="What each size is made for, part') == 3


def test_the_same_leaflet_gives_the_same_bytes():
    leaflet = outline_of(FAMILY.read_text("utf-8"))

    assert pdf_form.render(leaflet) == pdf_form.render(leaflet)
    assert html_form.render(leaflet) == html_form.render(leaflet)


def test_no_word_of_a_stranger_is_taken_for_markup_of_the_pdf():
    pages = "".join(joined(page.extract_text()) for page in read_back(outline_of(STRANGER)).pages)

    for words in ("#read(1) *not bold* _nor this_ $a$ @b <c>", "#panic(1) // not a comment",
                  "= heading", "#image(1) $x$"):
        assert joined(words) in pages


# ---- the command


def call(*words):
    """The exit status of the command line."""
    with patch.object(sys, "argv", ["sockscript", *words]):
        return run()


def test_the_command_writes_both_kinds(tmp_path, capsys):
    for ending in ("html", "pdf"):
        out = tmp_path / f"sock.{ending}"
        assert call("sheet", str(STRIPED), "-o", str(out)) == 0
        assert out.stat().st_size > 10_000
    assert capsys.readouterr() == ("".join(f"Written: {tmp_path}/sock.{ending}\n"
                                           for ending in ("html", "pdf")), "")


@pytest.mark.parametrize(("words", "said"), [
    (["sheet", str(STRIPED), "-o", "sock.docx"], "ends in .html or .pdf, not in .docx"),
    (["sheet", str(STRIPED), "-o", "sock.pdf", "--paper", "a5"], "no paper 'a5'"),
    (["sheet", str(STRIPED)], "-o with the name of the leaflet"),
    (["sheet", str(STRIPED), "-o", "x.html", "--size", "Giant"], "There is no size 'Giant'"),
    (["picture", str(STRIPED), "--what", "boat", "-o", "x.svg"], "There is no picture 'boat'"),
    (["picture", str(STRIPED), "--what", "heel", "-o", "x.svg"], "Which size?"),
    (["picture", str(STRIPED), "--what", "heel", "--size", "Man", "-o", "x.gif"],
     "ends in .svg or .png"),
    (["picture", str(STRIPED), "--what", "beds", "--size", "Man", "-o", "x.svg"],
     "After which step?"),
    (["picture", str(STRIPED), "--what", "beds", "--size", "Man", "--step", "999", "-o",
      "x.svg"], "There is no step 999"),
])
def test_what_cannot_be_is_told_in_plain_words(words, said, capsys, tmp_path, monkeypatch):
    monkeypatch.chdir(tmp_path)

    assert call(*words) == 2
    assert said in capsys.readouterr().err
    assert list(tmp_path.iterdir()) == []


def test_pictures_are_written_as_svg_and_png(tmp_path):
    def written(what, ending):
        out = tmp_path / f"{what}.{ending}"
        assert call("picture", str(STRIPED), "--what", what, "--size", "child", "-o",
                    str(out)) == 0
        return out.read_bytes()

    for what in ("fold", "heel", "fabric", "schematic", "stitches", "sock"):
        assert written(what, "svg").startswith(b"<svg")
    assert written("fold", "png").startswith(b"\x89PNG\r\n\x1a\n")


def test_a_missing_library_is_told_with_how_to_install_it(monkeypatch, capsys, tmp_path):
    monkeypatch.setitem(sys.modules, "typst", None)

    assert call("sheet", str(STRIPED), "-o", str(tmp_path / "sock.pdf")) == 2
    said = capsys.readouterr().err
    assert re.search(rf"{Path(sys.executable).name} -m pip install typst$", said.rstrip())


def test_missing_letters_are_told_with_how_to_install_them(monkeypatch, capsys, tmp_path):
    monkeypatch.setitem(sys.modules, "fontpkg_atkinson_hyperlegible", None)

    assert call("sheet", str(STRIPED), "--sans-serif", "-o", str(tmp_path / "sock.pdf")) == 2
    assert "pip install fontpkg-atkinson-hyperlegible" in capsys.readouterr().err


# ---- the script as an appendix


def test_the_script_can_stand_at_the_end_word_for_word():
    leaflet = outline_of(STRIPED.read_text("utf-8"), with_script=True)
    lines = STRIPED.read_text("utf-8").splitlines()

    assert ["".join(run.letters for run in line) for line in leaflet.blocks[-1].lines] == lines
    page = html_form.render(leaflet)
    # As it is copied from the page: blanks and line ends too.
    copied = "".join(Page(page[page.index("<pre "):page.index("</pre>") + 6]).words)
    assert copied.split("\n") == lines
    pages = "".join(joined(page.extract_text()) for page in read_back(leaflet).pages)
    for line in lines:
        assert joined(line) in pages
    assert '<span class="word">section</span>' in page
@pytest.mark.parametrize("what", ["fabric", "sock"])
def test_a_picture_of_too_many_rows_is_refused(what, tmp_path, monkeypatch, capsys):
    monkeypatch.chdir(tmp_path)
    Path("long.sockscript").write_text(STRANGER.replace("knit 40 rows", "knit 40000 rows"), "utf-8")

    assert call("picture", "long.sockscript", "--what", what, "-o", "x.svg") == 2
    assert "20000 rows or more" in capsys.readouterr().err


# U+0378 is not assigned (The Unicode Standard, chart of Greek and Coptic): no font has it.
UNKNOWN = "\u0378"


@pytest.mark.parametrize("words", [["sheet", "-o", "sock.pdf"],
                                   ["picture", "--what", "fabric", "-o", "sock.png"]])
def test_a_letter_in_no_font_is_told_in_plain_words(words, tmp_path, monkeypatch, capsys):
    monkeypatch.chdir(tmp_path)
    Path("sock.sockscript").write_text(STRANGER.replace("#eval", UNKNOWN).replace(
        "</title>", UNKNOWN), "utf-8")

    assert call(words[0], "sock.sockscript", *words[1:]) == 2
    said = capsys.readouterr().err
    assert "U+0378" in said
    assert ".html" in said
    assert [path.name for path in tmp_path.iterdir()] == ["sock.sockscript"]
