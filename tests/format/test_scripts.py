"""Whole scripts: however they were typed, one layout comes out and nothing is lost."""

from __future__ import annotations

import re
from pathlib import Path

import pytest
from hypothesis import HealthCheck, assume, given, settings
from hypothesis import strategies as st
from support.grammar_lines import lines, readable

import sockscript
from sockscript.commands.counted import read_counted
from sockscript.commands.new import script_text
from sockscript.format.formatter import CannotFormatError, format_source
from sockscript.format.same import comments, same_meaning
from sockscript.format.spelling import read_line
from sockscript.text.layout import lay_out
from sockscript.text.parser import load_parser
from sockscript.text.source import Source
from sockscript.tree.read import read_script

ROOT = Path(__file__).resolve().parents[2]
PACKAGE = Path(sockscript.__file__).parent
REFERENCE = (ROOT / "grammar" / "README.md").read_text("utf-8")
TEXTS = {
    **{path.name: path.read_text("utf-8") for folder, pattern in (
        (ROOT / "examples", "**/*.sockscript"), (PACKAGE / "techniques", "*.sockscript"),
        (PACKAGE / "machines", "*.machine")) for path in sorted(folder.glob(pattern))},
    **{f"reference-{n}": block for n, block in enumerate(
        re.findall(r"```sockscript(?:-header|-profile)?\n(.*?)```", REFERENCE, re.S))},
}
STARTS = {"machine": "machine_line", "sizes": "size_row", "works": "range_row",
          "words": "word_line"}

OPENERS = ["repeat  2 TIMES", "when beds   equal", "otherwise", 'step  "so"']
"""Lines that others may stand under."""


def source(text):
    return Source("a.sockscript", text)


WHOLE = {name: text for name, text in TEXTS.items() if not read_script(source(text)).problems}
SLIPS = {name: text for name, text in TEXTS.items() if name not in WHOLE}


def laid_out(text):
    return format_source(source(text))


def check(text):
    """What holds of every script that is laid out."""
    new = laid_out(text)
    assert laid_out(new) == new
    assert same_meaning(read_script(source(text)), read_script(source(new)))
    assert comments(source(text)) == comments(source(new))
    assert not re.search(r"\n\n\n|[ \t]\n|^\n|\n\n$|\t", new)
    assert new.endswith("\n") or not new
    return new


@pytest.mark.parametrize("name", WHOLE)
def test_a_script_keeps_its_meaning(name):
    check(WHOLE[name])


def test_there_are_scripts_of_both_kinds():
    assert len(WHOLE) > 100 and len(SLIPS) > 10


@pytest.mark.parametrize("name", SLIPS)
def test_a_script_with_slips_is_refused_with_all_of_them(name):
    with pytest.raises(CannotFormatError) as refused:
        laid_out(SLIPS[name])

    assert ([(p.kind, p.at.line) for p in refused.value.problems]
            == [(p.kind, p.at.line) for p in read_script(source(SLIPS[name])).problems])


def retyped(draw, line, start):
    """A line with other spaces and other letter case, outside quotes and names."""
    tokens = read_line(load_parser(), line, start).tokens
    text = ""
    for before, token in zip((None, *tokens), tokens, strict=False):
        if before is not None:
            gap = token.start_pos - before.end_pos
            loose = gap or (before.type != "NEEDLE_SIDE" and token.type != "INCH_MARK")
            text += " " * (gap and 1) + " " * (draw(st.integers(0, 2)) if loose else 0)
        word = str(token)
        own = token.type in ("NAME", "STRING")
        text += word if own else draw(st.sampled_from([word, word.upper(), word.capitalize()]))
    return text


@st.composite
def typed_anew(draw):
    """A script and the same script typed by somebody else."""
    text = draw(st.sampled_from(sorted(WHOLE.values())))
    script = source(text)
    step = draw(st.sampled_from([" ", "  ", "   ", "    ", "        ", "\t"]))
    out = list(script.lines)

    def walk(rows, depth, start):
        for line in rows:
            raw = script.line(line.number)
            comment = raw[len(line.text):].strip()
            quoted = line.text.lstrip()[0] in '"“' and depth
            body = retyped(draw, line, start)
            out[line.number - 1] = (step * depth + (step[0] if quoted else "") + body
                                    + (draw(st.sampled_from(["", " ", "   "])) + comment
                                       if comment else ""))
            first = line.text.split()[0].lower()
            block = depth == 0 or start == "machine_line"
            walk(line.children, depth + 1, STARTS.get(first, "line") if block else "line")

    walk(lay_out(script)[0], 0, "line")
    # Comments that have a line to themselves move with the line after them.
    for n in range(len(out) - 1, -1, -1):
        if out[n].lstrip().startswith("#") and n + 1 < len(out) and out[n + 1].strip():
            after = out[n + 1]
            out[n] = after[:len(after) - len(after.lstrip())] + out[n].strip()
    return text, "\n".join(out) + draw(st.sampled_from(["", "\n", "\n\n \n"]))


@settings(max_examples=60, derandomize=True, deadline=None,
          suppress_health_check=list(HealthCheck))
@given(typed_anew())
def test_however_it_is_typed_one_layout_comes_out(pair):
    first, other = pair

    assert check(other) == laid_out(first)


@st.composite
def with_remarks(draw):
    """A script with comments and blank lines put in anywhere."""
    rows = draw(st.sampled_from(sorted(WHOLE.values()))).splitlines()
    for _ in range(draw(st.integers(1, 6))):
        extra = draw(st.sampled_from(["", "   ", "# so", "  #  so  ", "    #so", "\t# so",
                                      "            # {so}", '# "so']))
        rows.insert(draw(st.integers(0, len(rows))), extra)
    return "\n".join(rows)


@settings(max_examples=60, derandomize=True, deadline=None,
          suppress_health_check=list(HealthCheck))
@given(with_remarks())
def test_comments_and_blank_lines_anywhere_are_kept(text):
    check(text)


@st.composite
def generated(draw):
    """A script of lines that were made from the rules of the grammar."""
    rows = ['pattern "x"', 'section "y"']
    depths = [0, 0]
    for _ in range(draw(st.integers(1, 12))):
        kind = draw(st.sampled_from(["glue", "setup", "carriage", "hands"]))
        line = draw(st.one_of(st.sampled_from(OPENERS), lines(kind)))
        if not readable(line, "line"):
            continue
        deepest = depths[-1] + 1
        rows.append(line + draw(st.sampled_from(["", "", " # so"])))
        depths.append(draw(st.integers(1, deepest)))
    step = draw(st.sampled_from(["  ", "    ", "\t"]))
    kept, gone = [], set()
    # Leave out whatever does not belong where it came to stand.
    while True:
        kept = ["" if n in gone else step * depth + row
                for n, (depth, row) in enumerate(zip(depths, rows, strict=True))]
        found = {problem.at.line - 1 for problem in read_script(source("\n".join(kept))).problems}
        if not found - gone:
            return "\n".join(kept)
        gone |= found


@settings(max_examples=50, derandomize=True, deadline=None,
          suppress_health_check=list(HealthCheck))
@given(generated())
def test_generated_scripts_keep_their_meaning(text):
    assume(not read_script(source(text)).problems)
    check(text)


@pytest.mark.parametrize("path", [
    *sorted(ROOT.glob("examples/*.sockscript")), *sorted(PACKAGE.glob("techniques/*.sockscript")),
    *sorted(PACKAGE.glob("machines/*.machine"))], ids=lambda path: path.name)
def test_what_is_shipped_is_in_the_layout(path):
    assert laid_out(path.read_text("utf-8")) == path.read_text("utf-8"), "sockscript format it"


@pytest.mark.parametrize("kind", ["sock", "leg-warmer"])
@pytest.mark.parametrize("gauge", ["30x42", "7.5x10.5 per inch"])
def test_a_new_script_is_in_the_layout(kind, gauge):
    text = script_text("Harbour", "Quayside Circle", kind, read_counted(gauge))

    assert laid_out(text) == text


def test_sizes_and_ranges_stand_in_columns():
    assert laid_out('''\
gauge plain 30 stitches,42 rows per 10cm
sizes Small "Extra large" # for all
  foot-round 20 26.5 cm
  # the sole
  foot-length 9inches 11 1/2 in#so
works for
  foot-round 18 to 28cm by 5mm
  gauge plain 26 to 36 stitches
  where foot-round is at least 10 cm
''') == '''\
gauge plain 30 stitches, 42 rows per 10 cm
sizes            Small  "Extra large"  # for all
    foot-round   20     26.5 cm
    # the sole
    foot-length  9 in   11½ in  #so
works for
    foot-round   18 to 28 cm by 5 mm
    gauge plain  26 to 36 stitches
    where foot-round is at least 10 cm
'''


def test_words_that_go_on_stand_under_the_quote_and_comments_with_their_block():
    assert laid_out('''\


section "A"
 note "one"
  "two"
 # about the step
 step "three"
      "four"
   knit 2 rows
   # still under the step
 # of the section
# of the script
''') == '''\
section "A"
    note "one"
         "two"
    # about the step
    step "three"
         "four"
        knit 2 rows
        # still under the step
    # of the section
# of the script
'''


@pytest.mark.parametrize("before, after", [
    ('section "A"\n  # nothing here yet\n', 'section "A"\n    # nothing here yet\n'),
    ('section "A"\n  step "a"\n   "b"\n    # c\n    knit 1 row\n',
     'section "A"\n    step "a"\n         "b"\n        # c\n        knit 1 row\n'),
    ('section "A"\n   knit 1 row\n      # d\n # e\n',
     'section "A"\n    knit 1 row\n        # d\n    # e\n'),
])
def test_a_comment_stands_with_the_lines_it_is_in_one_column_with(before, after):
    assert laid_out(before) == after
    assert laid_out(after) == after


def test_a_layout_that_would_change_the_meaning_is_never_given(monkeypatch):
    from sockscript.format import formatter

    monkeypatch.setattr(formatter, "spaced", lambda read: "note \"lost\"")
    with pytest.raises(CannotFormatError, match="would not mean the same") as refused:
        laid_out('note "kept"\n')
    assert not refused.value.problems


@pytest.mark.parametrize("text", [
    "sizes A\n    w 1\n        v 2\n", "machine\n    beds 2\n        needles 100\n",
    "machine\n    words\n        knit \"a\"\n            rest \"b\"\n",
    "works for\n    a 1 to 2\n        b 1 to 2\n"])
def test_a_line_that_slipped_under_a_row_is_told_not_lost(text):
    with pytest.raises(CannotFormatError) as refused:
        laid_out(text)

    assert [problem.kind for problem in refused.value.problems] == ["misplaced-line"]


def test_a_line_that_is_not_laid_out_is_never_lost(monkeypatch):
    from sockscript.format.formatter import _Formatter

    monkeypatch.setattr(_Formatter, "line", lambda *parts: None)
    with pytest.raises(CannotFormatError, match="would not mean the same"):
        laid_out('note "kept"\n')


@pytest.mark.parametrize("one, other", [
    ('let a = 3', 'let a = 4'), ('note "a"', 'note "a "'), ('note "a"', 'caution "a"'),
    ('let a = 3 # x', 'let a = 3 # y'), ('let a = 1 + 2', 'let a = 2 + 1'),
    ('let a = 1 cm', 'let a = 1'), ('let a = 1', 'let a = 1\nlet b = 1'),
    ('option a b, c', 'option a c, b'), ('yarn a "x"', 'yarn a "x" as waste'),
    ('sizes A B\n    w 1 2', 'sizes A B\n    w 1 3'), ('sizes A\n    w 1', 'sizes A\n    v 1'),
    ('section "x"\n    knit 1 row', 'section "x"\n    knit 2 rows'),
    ('section "x"\n    hold front', 'section "x"\n    hold back'),
])
def test_scripts_that_differ_do_not_mean_the_same(one, other):
    assert not same_meaning(read_script(source(one)), read_script(source(other)))
    assert same_meaning(read_script(source(one)), read_script(source(one + "\n\n")))
