"""Lines made from the rules of the grammar: laid out, they parse to the same."""

from __future__ import annotations

import re

import pytest
from hypothesis import HealthCheck, assume, given, settings
from hypothesis import strategies as st
from lark import Token
from support.grammar_lines import lines, readable

from sockscript.format.spelling import read_line, spaced
from sockscript.numbers.quantity import QuantityError, read_amount
from sockscript.text.layout import Line
from sockscript.text.parser import load_parser

STARTS = ("line", "size_row", "range_row", "machine_line", "word_line", "expr")


def laid(text, start):
    return spaced(read_line(load_parser(), Line(1, 0, text), start))


def meaning(parse):
    """A parse with every token by what it means."""
    if isinstance(parse, Token):
        if parse.type in ("MIXED", "VULGAR", "NUMBER", "FRACTION", "RATIO"):
            try:
                return "number", read_amount(str(parse))
            except QuantityError:
                return "number", str(parse).split()
        if parse.type in ("INCH", "INCHES", "IN", "INCH_MARK"):
            return "IN", "in"
        if parse.type == "HALF_MORE":
            return "half", ""
        if parse.type in ("YARDS", "YARD", "YD"):
            return "YARDS", "yards"
        if parse.type in ("OZ", "OUNCE", "OUNCES"):
            return "OZ", "oz"
        return parse.type, str(parse) if parse.type in ("NAME", "STRING") else parse.lower()
    return None if parse is None else (parse.data, [meaning(child) for child in parse.children])


@pytest.mark.parametrize("start", STARTS)
@settings(max_examples=100, derandomize=True, deadline=None,
          suppress_health_check=list(HealthCheck))
@given(data=st.data())
def test_a_line_parses_to_the_same(start, data):
    text = data.draw(lines(start))
    assume(readable(text, start))
    # Two cells with a tab between them are one number with a space.
    assume(not re.search(r"\d\t+(\d+/\d|[½⅞])", text))
    new = laid(text, start)
    parse = load_parser().parse

    assert meaning(parse(new, start=start)) == meaning(parse(text, start=start))
    assert laid(new, start) == new
    assert "  " not in re.sub(r'"[^"]*"|“[^”]*”', "quoted", new)


@pytest.mark.parametrize("before, after", [
    ("KNIT   4   Rows ON front", "knit 4 rows on front"),
    ("let Half=Around/2", "let Half = Around / 2"),
    ("let a=-3*( rows( 12cm,plain )-4 )", "let a = -3 * (rows(12 cm, plain) - 4)"),
    ("let a = 3 - -2", "let a = 3 - -2"),
    ("let a = (-2)", "let a = (-2)"),
    ("let a = 20 cm less 10 %", "let a = 20 cm less 10%"),
    ("let a = 2 1/2 inches", "let a = 2½ in"), ("let a = 3/4\"", "let a = ¾ in"),
    ("gauge 7-1/2 stitches,10 rows per INCH", "gauge 7½ stitches, 10 rows per inch"),
    ("let a = 1½", "let a = 1½"),
    ("let a = 3  2/4", "let a = 3½"),
    ("let a = 0 3/4 + 3 5/16", "let a = ¾ + 3 5/16"),
    ("let a = 1/2", "let a = 1 / 2"),
    ("hold l( 4*3 )to r10 of front", "hold L(4 * 3) to R10 of front"),
    ("take every 3RD of all of back out of work", "take every 3rd of all of back out of work"),
    ("hold side (half-2) working of front", "hold side (half-2) working of front"),
    ("hold side (half - 2) working of front", "hold side (half - 2) working of front"),
    ('yarn c "a  B"  NM 28 / 2', 'yarn c "a  B" Nm 28/2'),
    ('yarn c "a" worsted count 2/24', 'yarn c "a" worsted count 2/24'),
    ("do toe on front with a=2,b = carriage side", "do toe on front with a = 2, b = carriage side"),
    ('step “Turn  the   work # 2.”', 'step “Turn  the   work # 2.”'),
    ("version 1.10", "version 1.10"),
])
def test_one_spelling(before, after):
    assert laid(before, "line") == after
