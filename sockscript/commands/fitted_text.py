"""A script with one more size, another gauge or another yarn; everything else stays as written."""

from __future__ import annotations

import re
from collections.abc import Iterator, Mapping, Sequence
from fractions import Fraction
from typing import NamedTuple

from lark import Token

from sockscript.format.formatter import CannotFormatError, format_source
from sockscript.format.spelling import AMOUNTS, read_line
from sockscript.numbers.quantity import MM_PER_UNIT, Exact, Quantity, show_number
from sockscript.text.layout import Line, lay_out, without_comment
from sockscript.text.parser import load_parser
from sockscript.text.source import Source
from sockscript.tree.script import Gauge, Script, Sizes

_UNITS = frozenset({"MM", "CM", "M", "IN", "INCH", "INCHES", "INCH_MARK"})


class FittedSize(NamedTuple):
    """What is changed: a size with its measurements after a ``base`` that it is like where a
    line asks for sizes by name; ``gauges`` and ``band`` (``400 m per 100 g``) where they are
    the member's own."""

    name: str
    base: str
    measures: Mapping[str, Quantity]
    gauges: Sequence[Gauge] = ()
    band: str = ""
    choices: Mapping[str, str] = {}
    like_another: bool = False
    """Whether it is knitted just like another size, which is then no mistake."""


def fitted_text(source: Source, script: Script, fitting: FittedSize, remarks: Sequence[str]) -> str:
    """The text of the script so changed, with remarks as comments above it.

    A script that was in the one layout is in it again.
    """
    was_laid_out = _is_laid_out(source)
    lines = list(source.lines)
    top, _ = lay_out(source)
    for line in _all(top):
        lines[line.number - 1] = _asked_by_name(lines[line.number - 1], line, fitting)
    for line in top:
        first = line.text.split()[0].lower()
        if first == "sizes" and script.sizes is not None:
            _table(lines, line, script.sizes, fitting)
        elif first == "gauge":
            _gauge(lines, line, fitting)
        elif first == "yarn" and fitting.band:
            _yarn(lines, line, script, fitting.band)
        elif first == "option":
            _option(lines, line, fitting.choices)
    above = [f"# {remark}" for remark in remarks]
    if fitting.like_another:
        above.append(f'allow sizes-alike because "{fitting.name} is fitted to one foot"')
    text = "\n".join([*above, *lines]) + "\n"
    return format_source(Source(source.name, text, source.folder)) if was_laid_out else text


def _is_laid_out(source: Source) -> bool:
    try:
        return format_source(source) == "\n".join(source.lines) + "\n"
    except CannotFormatError:
        return False


def _all(lines: Sequence[Line]) -> Iterator[Line]:
    for line in lines:
        yield line
        yield from _all(line.children)


def quoted(name: str) -> str:
    """The name of a size as it stands in a script."""
    return name if re.fullmatch(r"[^\W\d_][^\W_]*(-[^\W_]+)*", name) else f'"{name}"'


# ---- the table


def _table(lines: list[str], header: Line, sizes: Sizes, fitting: FittedSize) -> None:
    _put(lines, header, len(header.text), f"  {quoted(fitting.name)}")
    for row in header.children:
        tokens = read_line(load_parser(), row, "size_row").tokens
        name = str(tokens[0]).lower()
        if tokens[0].type == "FEET":
            lines[row.number - 1] = _measured_feet(lines[row.number - 1], row, sizes, fitting)
        elif name in fitting.measures:
            _cell(lines, row, tokens, fitting.measures[name])


def _cell(lines: list[str], row: Line, tokens: Sequence[Token], value: Quantity) -> None:
    """A value at the end of a row, before the unit if one stands there for all of them."""
    units = [token for token in tokens if token.type in _UNITS]
    if not units:
        _put(lines, row, len(row.text), f"  {show_number(value.value)}")
        return
    last = units[-1]
    written = _in_unit(value.value, str(last).lower())
    if len(units) == 1 and sum(token.type in AMOUNTS for token in tokens) > 1:
        _put(lines, row, last.start_pos or 0, f"  {written} " if last.type == "INCH_MARK" else
             f" {written} ")
    else:
        gap = "" if last.type == "INCH_MARK" else " "
        _put(lines, row, len(row.text), f"  {written}{gap}{last}")


def _in_unit(mm: Exact, unit: str) -> str:
    """A length to three decimals in a unit: a hundredth of a millimetre or so."""
    return f"{float(Fraction(mm) / MM_PER_UNIT[unit]):.3f}".rstrip("0").rstrip(".")


def _measured_feet(raw: str, row: Line, sizes: Sizes, fitting: FittedSize) -> str:
    """The rows that stand for a row of feet, which has no foot like this one."""
    lead = row.text[:row.indent]
    rows = [f"{lead}# {raw.strip()}"]
    for name in sizes.measures:
        if name in sizes.from_feet:
            values = [*sizes.measures[name], fitting.measures[name]]
            rows.append(f"{lead}{name}  " + "  ".join(
                _in_unit(value.value, "cm") for value in values) + " cm")
    return "\n".join(rows)


# ---- other lines


def _gauge(lines: list[str], line: Line, fitting: FittedSize) -> None:
    """Counts and length of a gauge line; what it says besides stays."""
    tokens = read_line(load_parser(), line, "line").tokens
    fabric = str(tokens[1]).lower() if tokens[1].type == "NAME" else "plain"
    mine = next((gauge for gauge in fitting.gauges if gauge.fabric == fabric), None)
    if mine is None:
        return
    first = next(token for token in tokens if token.type in AMOUNTS)
    last = [token for token in tokens if token.type in _UNITS][-1]
    unit = "in" if last.type not in ("MM", "CM", "M") else str(last).lower()
    over = _in_unit(mine.over.value, unit)
    words = (f"{_count(mine.stitches)} stitches, {_count(mine.rows)} rows per "
             + ("inch" if over == "1" and unit == "in" else f"{over} {unit}"))
    raw = lines[line.number - 1]
    lines[line.number - 1] = raw[:first.start_pos] + words + raw[last.end_pos:]


def _count(value: Exact) -> str:
    return f"{float(value):.3f}".rstrip("0").rstrip(".")


def _yarn(lines: list[str], line: Line, script: Script, band: str) -> None:
    """The band of the first main yarn."""
    main = next((yarn for yarn in script.yarns if yarn.role == "main"), None)
    if main is None or main.at.line != line.number:
        return
    raw = lines[line.number - 1]
    tokens = read_line(load_parser(), line, "line").tokens
    words = next(token for token in tokens if token.type == "STRING")
    role = next((token for token in tokens if token.type == "AS"), None)
    end = role.start_pos if role is not None else len(line.text)
    tail = raw[end:] if end is not None else ""
    lines[line.number - 1] = (f"{raw[:words.end_pos]} {band}"
                              + (f" {tail.lstrip()}" if tail.strip() else ""))


def _option(lines: list[str], line: Line, choices: Mapping[str, str]) -> None:
    """What was settled is the default; the other choices stay."""
    tokens = read_line(load_parser(), line, "line").tokens
    chosen = choices.get(str(tokens[1]).lower())
    if chosen is None:
        return
    raw = lines[line.number - 1]
    default = next((token for token in tokens if token.type == "DEFAULT"), None)
    start = len(line.text) if default is None else default.start_pos
    tail = raw[len(line.text):]
    lines[line.number - 1] = f"{raw[:start].rstrip()} default {chosen}{tail}"


_BY_NAME = re.compile(r"\bsize\s+is\s+(?!not\b)", re.I)


def asks_by_name(line: str, size: str) -> bool:
    """Whether a line asks for a size by its name."""
    code = without_comment(line)
    return any(re.search(rf"(?<![\w-]){re.escape(size)}(?![\w-])", code[asked.end():])
               for asked in _BY_NAME.finditer(code))


def _asked_by_name(raw: str, line: Line, fitting: FittedSize) -> str:
    """A line that asks for the base by its name asks for the new size too."""
    for asked in reversed(list(_BY_NAME.finditer(line.text))):
        base = re.compile(rf"(?:[^,]*,\s*)*?(?P<name>\"?{re.escape(fitting.base)}\"?)(?![\w-])")
        found = base.match(line.text, asked.end())
        if found:
            at = found.end("name")
            raw = f"{raw[:at]}, {quoted(fitting.name)}{raw[at:]}"
    return raw


def _put(lines: list[str], line: Line, column: int, text: str) -> None:
    """Put text into a line; ``column`` counts from 0."""
    raw = lines[line.number - 1]
    lines[line.number - 1] = raw[:column].rstrip() + text + raw[column:]
