"""From lark's parse of an instruction line to its statement node."""

from __future__ import annotations

from collections.abc import Callable
from typing import Any

from lark import Token
from lark.exceptions import LarkError

from sockscript.text.parser import parse_text
from sockscript.text.source import Problem, Span
from sockscript.tree import expressions as ex
from sockscript.tree import instructions as ins
from sockscript.tree import statements as st
from sockscript.tree.build_expressions import (
    ExpressionBuilder,
    Parse,
    SlipError,
    string_value,
    word_of,
)
from sockscript.tree.slips import syntax_problem


class StatementBuilder(ExpressionBuilder):
    """Builds the statement of one line; ``body`` is what is indented under it."""

    def statement(self, parse: Parse, body: st.Block) -> st.Statement:
        """The node for a line that is not part of the header."""
        return _BUILD[parse.data](self, parse.children, body)

    def words(self, token: Token) -> st.Words:
        """Printed words with their values between braces."""
        text = string_value(token)
        at = self.at(token)
        parts: list[str | ex.Expr] = []
        position = 0
        while True:
            opening = text.find("{", position)
            if opening < 0:
                break
            closing = text.find("}", opening)
            if closing < 0:
                raise SlipError(Problem(
                    "open-brace", Span(self.source, self.line, at.start + 1 + opening, at.end),
                    "A { in the words has no } after it.",
                    "Write a value as {half}, or leave the brace out."))
            parts.append(text[position:opening])
            parts.append(self._inner(text[opening + 1:closing], at.start + 1 + opening))
            position = closing + 1
        parts.append(text[position:])
        return st.Words(at, tuple(part for part in parts if part != ""))

    def _inner(self, text: str, column: int) -> ex.Expr:
        """A value between braces; ``column`` is where its first letter stands, counted from 0."""
        whole = Span(self.source, self.line, column + 1, column + 1 + len(text))
        if text.strip() in ("rows", "stitches"):
            raise SlipError(Problem(
                "unfinished-line", whole, f"Between these braces the number of {text.strip()} is "
                "missing: only the word is there.",
                "Give the number a name in a line before, such as  let tall = …, and write "
                f"{{tall}} {text.strip()}."))
        try:
            parse = parse_text(text, start="expr")
        except LarkError as error:
            problem = _counted_inside(text, whole) or syntax_problem(
                error, text, whole, column, "value")
            raise SlipError(problem._replace(hint=problem.hint or (
                "One brace on each side is enough." if text.startswith("{") else
                "Between braces stands the name of a value, or a sum: {half} or {half + 2}."))
                ) from None
        return ExpressionBuilder(self.source, self.line, column, whole).expr(parse)

    def optional_bed(self, parse: Parse) -> ex.BedName | None:
        """A bed, if one is named."""
        return None if parse is None else self.bed(parse)

    def optional_end(self, parse: Parse) -> ex.End | None:
        """An end, if one is named."""
        return None if parse is None else self.end(parse)


Kids = list[Any]
B = StatementBuilder


def _let(b: B, k: Kids, body: st.Block) -> st.Statement:
    return st.Let(b.whole, b.name(k[0]), b.expr(k[1]))


def _section(b: B, k: Kids, body: st.Block) -> st.Statement:
    fabric = b.name(k[1]) if k[1] is not None else None
    return st.Section(b.whole, string_value(k[0]), fabric, body)


def _step(b: B, k: Kids, body: st.Block) -> st.Statement:
    return st.Step(b.whole, b.words(k[0]), body)


def _remark(kind: Any) -> Callable[[B, Kids, st.Block], st.Statement]:
    return lambda b, k, body: st.Remark(b.whole, kind, b.words(k[0]))


def _technique(b: B, k: Kids, body: st.Block) -> st.Statement:
    parameters = tuple(
        st.Parameter(b.at(p), b.name(p.children[0]),
                     None if p.children[1] is None else b.expr(p.children[1]))
        for p in k[1:] if p is not None)
    return st.Technique(b.whole, b.name(k[0]), parameters, body)


def _do(b: B, k: Kids, body: st.Block) -> st.Statement:
    arguments = tuple((b.name(a.children[0]), b.expr(a.children[1]), b.at(a))
                      for a in k[2:] if a is not None)
    return st.Do(b.whole, b.name(k[0]), b.at(k[0]), b.optional_bed(k[1]), arguments)


def _target(b: B, k: Kids, body: st.Block) -> st.Statement:
    what: Any = word_of(k[0])
    return st.Target(b.whole, what, b.expr(k[1]), b.expr(k[2]) if k[2] is not None else None)


def _allow(b: B, k: Kids, body: st.Block) -> st.Statement:
    return st.Allow(b.whole, b.name(k[0]), string_value(k[1]).strip(), b.at(k[0]))


def _rack(b: B, k: Kids, body: st.Block) -> st.Statement:
    side: Any = "right" if k[1] is None else word_of(k[1])
    return ins.RackTo(b.whole, b.expr(k[0]), side)


def _bring(b: B, k: Kids, body: st.Block) -> st.Statement:
    purpose: Any = "none"
    if k[1] is not None:
        purpose = "increase" if k[1].data == "to_increase" else "cast-on"
    return ins.PlaceNeedles(b.whole, "work", b.needles(k[0]), purpose, False)


def _place(position: Any, returning: bool) -> Callable[[B, Kids, st.Block], st.Statement]:
    return lambda b, k, body: ins.PlaceNeedles(
        b.whole, position, b.needles(k[0]), "none", returning)


def _knit(b: B, k: Kids, body: st.Block) -> st.Statement:
    rounds = word_of(k[1]).startswith("round")
    return ins.KnitRows(b.whole, b.expr(k[0]), rounds, b.optional_bed(k[2]), b.optional_end(k[3]))


def _knit_for(b: B, k: Kids, body: st.Block) -> st.Statement:
    even, rows, what, length = k
    words: Any = word_of(what)
    return ins.KnitFor(b.whole, word_of(rows).startswith("round"), even is not None, words,
                       b.expr(length))


def _fashion(b: B, k: Kids, body: st.Block) -> st.Statement:
    count, end, bed, way, by = k
    return ins.MoveEdge(b.whole, b.expr(count), b.end(end), b.bed(bed), word_of(way) == "in",
                       b.expr(by) if by is not None else None)


def _rehang(b: B, k: Kids, body: st.Block) -> st.Statement:
    name, onto, first, second, turned = k
    targets = tuple(b.needles(part) for part in (first, second) if part is not None)
    return ins.RehangGroup(b.whole, b.name(name), word_of(onto) == "onto", targets,
                          turned is not None)


def _pick_up(b: B, k: Kids, body: st.Block) -> st.Statement:
    rows, _, end, bed, onto, needles = k
    return ins.PickUpAlong(b.whole, b.expr(rows), b.end(end), b.bed(bed),
                           word_of(onto) == "onto", b.needles(needles))


def _hands(kind: Any) -> Callable[[B, Kids, st.Block], st.Statement]:
    return lambda b, k, body: ins.HandWork(b.whole, kind, b.needles(k[0]))


def _tackle(action: Any) -> Callable[[B, Kids, st.Block], st.Statement]:
    def build(b: B, k: Kids, body: st.Block) -> st.Statement:
        item: Any = word_of(k[0]) if k else "weights"
        return ins.TackleDo(b.whole, item, action)
    return build


def _mark(b: B, k: Kids, body: st.Block) -> st.Statement:
    kind: Any = word_of(k[0])
    return ins.MarkAs(b.whole, kind, b.name(k[1]), b.bed(k[2]))


def _sew_down(b: B, k: Kids, body: st.Block) -> st.Statement:
    part: Any = word_of(k[0])
    return ins.SewDownRows(b.whole, part, "", b.expr(k[1]))


def _pitch(b: B, k: Kids, body: st.Block) -> st.Statement:
    pitch: Any = word_of(k[0])
    return ins.PitchIs(b.whole, pitch)


def _set_bed(b: B, k: Kids, body: st.Block) -> st.Statement:
    action: Any = word_of(k[1])
    return ins.SetBedTo(b.whole, b.bed(k[0]), action)


def _set_needles(b: B, k: Kids, body: st.Block) -> st.Statement:
    pieces, bed, action = k
    word: Any = word_of(action)
    needles = ex.Needles(b.whole, tuple(b.piece(part) for part in pieces.children), b.bed(bed))
    return ins.SetNeedlesTo(b.whole, needles, word)


_BUILD: dict[str, Callable[[B, Kids, st.Block], st.Statement]] = {
    "let": _let,
    "section": _section,
    "step": _step,
    "note": _remark("note"),
    "caution": _remark("caution"),
    "expect": lambda b, k, body: st.Expect(b.whole, b.condition(k[0])),
    "target": _target,
    "allow": _allow,
    "repeat_times": lambda b, k, body: st.RepeatTimes(b.whole, b.expr(k[0]), body),
    "repeat_until": lambda b, k, body: st.RepeatUntil(b.whole, b.condition(k[0]), body),
    "when": lambda b, k, body: st.When(b.whole, b.condition(k[0]), body, ()),
    "technique": _technique,
    "begins_with": lambda b, k, body: st.Contract(b.whole, "needs", b.condition(k[0])),
    "leaves": lambda b, k, body: st.Contract(b.whole, "leaves", b.condition(k[0])),
    "do": _do,
    "set_pitch": _pitch,
    "rack": _rack,
    "bring": _bring,
    "take_out": _place("out", False),
    "hold": _place("hold", False),
    "return_to_work": _place("work", True),
    "return_to_upper": _place("upper", True),
    "set_bed": _set_bed,
    "set_needles": _set_needles,
    "respect_hold": lambda b, k, body: ins.HoldSwitch(b.whole, b.bed(k[0]), True),
    "cancel_hold": lambda b, k, body: ins.HoldSwitch(b.whole, b.bed(k[0]), False),
    "stitch_size": lambda b, k, body: ins.StitchSize(b.whole, b.expr(k[0]), b.optional_bed(k[1])),
    "thread": lambda b, k, body: ins.ThreadYarn(
        b.whole, b.name(k[0]), b.name(k[1]) if k[1] is not None else None),
    "thread_along": lambda b, k, body: ins.AddYarn(b.whole, b.name(k[0])),
    "change": lambda b, k, body: ins.ChangeYarn(b.whole, b.name(k[0])),
    "cut": lambda b, k, body: ins.CutYarn(b.whole, b.name(k[0]) if k[0] is not None else None),
    "move_carriage": lambda b, k, body: ins.CarriageTo(b.whole, b.end(k[0])),
    "knit": _knit,
    "knit_for": _knit_for,
    "row_counter": lambda b, k, body: ins.CounterTo(b.whole, b.expr(k[0])),
    "transfer_to": lambda b, k, body: ins.TransferTo(
        b.whole, b.needles(k[0]), b.needles(k[1]), False),
    "transfer_onto": lambda b, k, body: ins.TransferTo(
        b.whole, b.needles(k[0]), b.needles(k[1]), True),
    "fold": lambda b, k, body: ins.FoldOnto(b.whole, b.needles(k[0]), b.bed(k[1])),
    "fashion": _fashion,
    "wrap": _hands("wrap"),
    "cast_on": _hands("cast-on"),
    "bind_off": _hands("bind-off"),
    "gather": _hands("gather"),
    "drop": _hands("drop"),
    "latch_up": _hands("latch-up"),
    "scrap_off": lambda b, k, body: ins.ScrapOffAs(b.whole, b.needles(k[0]), b.name(k[1])),
    "rehang": _rehang,
    "graft": lambda b, k, body: ins.GraftTo(b.whole, b.needles(k[0]), b.needles(k[1])),
    "hang": _tackle("hang"),
    "remove": _tackle("remove"),
    "move_weights": _tackle("move"),
    "mark": _mark,
    "fill": lambda b, k, body: ins.FillFrom(b.whole, b.needles(k[0]), b.end(k[1])),
    "knit_in": lambda b, k, body: ins.KnitInWaste(
        b.whole, b.name(k[0]), b.needles(k[1]), b.name(k[2])),
    "pick_up": _pick_up,
    "sew_sides": lambda b, k, body: ins.SewTheSides(b.whole),
    "sew_down": _sew_down,
    "sew_edge_down": lambda b, k, body: ins.SewDownRows(
        b.whole, "first", b.name(k[0]), b.expr(k[1])),
}

_COUNTED = frozenset({"row", "rows", "round", "rounds", "stitch", "stitches", "needle", "needles",
                      "time", "times"})


def _counted_inside(text: str, whole: Span) -> Problem | None:
    """The word for what is counted, in the braces with its number: ``{tall rows}``."""
    value, _, word = text.rstrip().rpartition(" ")
    if not value.strip() or word.lower() not in _COUNTED:
        return None
    at = whole._replace(start=whole.start + len(value) + 1, end=whole.start + len(text.rstrip()))
    behind_value = whole._replace(start=whole.start + len(value.rstrip()), end=whole.end + 1)
    return Problem("does-not-fit", at,
                   f"'{word}' stands inside the braces, where only the number belongs.",
                   f"Write it after them:  {{{value.strip()}}} {word}",
                   behind_value.replaced_by(f"}} {word}"))


BLOCK_OPENERS = frozenset({
    "section", "step", "repeat_times", "repeat_until", "when", "otherwise", "technique",
    "machine", "sizes", "words",
})
"""Lines that have others indented under them."""
