"""From lark's parse of a line to expression, needle and condition nodes."""

from __future__ import annotations

from collections.abc import Callable, Iterator
from typing import Any

from lark import Token, Tree

from sockscript.numbers.quantity import MM_PER_UNIT, Quantity, QuantityError, read_amount
from sockscript.numbers.quantity import length as a_length
from sockscript.text.problem_names import ProblemName
from sockscript.text.source import Problem, Source, Span
from sockscript.tree import expressions as ex
from sockscript.tree.header_slips import BY_SIZE

Parse = Any
"""A lark Tree, Token or None; lark's own types say no more."""


_THOUSANDS = 3
"""Figures after a comma that may set off thousands."""


class SlipError(Exception):
    """A line that parses but makes no sense by itself."""

    def __init__(self, problem: Problem) -> None:
        super().__init__(problem.message)
        self.problem = problem


def tokens(parse: Parse) -> Iterator[Token]:
    """The tokens of a parse, left to right."""
    if isinstance(parse, Token):
        yield parse
    elif parse is not None:
        for child in parse.children:
            yield from tokens(child)


def _first(parse: Parse) -> Token | None:
    while isinstance(parse, Tree):
        for child in parse.children:
            found = _first(child)
            if found is not None:
                return found
        return None
    return parse if isinstance(parse, Token) else None


def _last(parse: Parse) -> Token | None:
    while isinstance(parse, Tree):
        for child in reversed(parse.children):
            found = _last(child)
            if found is not None:
                return found
        return None
    return parse if isinstance(parse, Token) else None


def string_value(token: Token) -> str:
    """The text between the quotes."""
    return str(token)[1:-1]


def word_of(parse: Parse) -> str:
    """The words of a rule that keeps its tokens, lower case, joined by a space."""
    return " ".join(str(token).lower() for token in tokens(parse))


_OF_NUMBERS = frozenset({"larger", "smaller", "yarn-end"})
"""Functions between whose brackets several numbers may stand."""


class ExpressionBuilder:
    """Builds the nodes of one line; it knows the line's number and where its text starts."""

    def __init__(self, source: Source, line: int, shift: int, whole: Span) -> None:
        self.source = source
        self.line = line
        self.shift = shift
        self.whole = whole
        self.listing = False
        """Whether values stand here with commas between them."""

    # ---- places

    def at(self, *parses: Parse) -> Span:
        """The place from the first token to the last one of some parses."""
        starts = [t for t in map(_first, parses) if t is not None]
        ends = [t for t in map(_last, parses) if t is not None]
        if not starts:
            return self.whole
        start, end = starts[0].column or 1, ends[-1].end_column or 1
        return Span(self.source, self.line, start + self.shift, end + self.shift)

    def slip(self, where: Parse, kind: ProblemName, message: str, hint: str = "") -> SlipError:
        """An error at a part of the line."""
        return SlipError(Problem(kind, self.at(where), message, hint))

    def amount(self, parse: Parse) -> Quantity:
        """The plain number of an ``amount``."""
        text = str(parse.children[0])
        if "," in text:
            self._one_number(parse, text)
        try:
            return Quantity(read_amount(text))
        except QuantityError as error:
            raise self.slip(parse, "bad-number", error.message, error.hint) from None

    def _one_number(self, parse: Parse, text: str) -> None:
        """Raises SlipError where a comma may be something else than that of a decimal."""
        before, _, after = text.partition(",")
        if self.listing:
            raise self.slip(parse, "decimal-comma", f"'{text}' may be one number or two.",
                            f"Write {before}.{after} for one number, or {before}, {after} "
                            "for two.")
        if len(after) == _THOUSANDS:
            raise self.slip(parse, "decimal-comma",
                            f"'{text}' may be a large number or a small one with decimals.",
                            f"Write {before}{after} or {before}.{after}.")

    def length(self, amount: Parse, unit: Parse) -> Quantity:
        """A number and a unit as millimetres."""
        word = word_of(unit)
        mm = self.amount(amount).value * MM_PER_UNIT[word]
        return a_length(mm, inches=word not in ("mm", "cm", "m"))

    def name(self, token: Token) -> str:
        """A name in the one spelling that counts: lower case."""
        return str(token).lower()

    # ---- numbers

    def expr(self, parse: Parse) -> ex.Expr:
        """Any value."""
        return _EXPR[parse.data](self, parse, parse.children)

    def _number(self, parse: Parse, kids: list[Parse]) -> ex.Expr:
        return ex.Literally(self.at(parse), self.amount(kids[0]))

    def _length(self, parse: Parse, kids: list[Parse]) -> ex.Expr:
        return ex.Literally(self.at(parse), self.length(kids[0], kids[1]))

    def _percent(self, parse: Parse, kids: list[Parse]) -> ex.Expr:
        return ex.Literally(self.at(parse), Quantity(self.amount(kids[0]).value, "%"))

    def _name(self, parse: Parse, kids: list[Parse]) -> ex.Expr:
        return ex.Name(self.at(parse), self.name(kids[0]))

    def _word(self, parse: Parse, kids: list[Parse]) -> ex.Expr:
        return ex.Word(self.at(parse), word_of(parse))

    def _call(self, parse: Parse, kids: list[Parse]) -> ex.Expr:
        # After the first value of the others at most the name of a fabric may follow.
        outer, self.listing = self.listing, word_of(kids[0]) in _OF_NUMBERS
        arguments = tuple(self.expr(kid) for kid in kids[1:] if kid is not None)
        self.listing = outer
        return ex.Call(self.at(parse), word_of(kids[0]), arguments)

    def _negative(self, parse: Parse, kids: list[Parse]) -> ex.Expr:
        zero = ex.Literally(self.at(parse), Quantity(0))
        return ex.Sum(self.at(parse), "-", zero, self.expr(kids[0]))

    def _round(self, parse: Parse, kids: list[Parse]) -> ex.Expr:
        way: Any = {"to_nearest": "nearest", "up_to": "up", "down_to": "down"}[parse.data]
        form: Parse = kids[1] if len(kids) > 1 else None
        multiple: ex.Expr | None = None
        plus: ex.Expr | None = None
        shape: Any = "whole" if form is None else str(form.data)
        if shape == "multiple":
            multiple = self.expr(form.children[0])
            plus = self.expr(form.children[1]) if form.children[1] is not None else None
        return ex.Round(self.at(parse), self.expr(kids[0]), way, multiple, plus, shape)

    # ---- needles

    def bed(self, parse: Parse) -> ex.BedName:
        """A bed."""
        words = word_of(parse).split()
        return ex.BedName(self.at(parse), words[-1], other=len(words) == 2)

    def end(self, parse: Parse) -> ex.End:
        """An end of the bed."""
        return ex.End(self.at(parse), word_of(parse))

    def point(self, parse: Parse) -> ex.Point:
        """One needle."""
        token = str(parse.children[0])
        if len(parse.children) == 1:
            number: ex.Expr = ex.Literally(self.at(parse), Quantity(int(token[1:])))
        else:
            number = self.expr(parse.children[1])
        return ex.Point(self.at(parse), token[0].upper(), number)

    def needles(self, parse: Parse) -> ex.Needles:
        """Needles of a bed."""
        pieces, bed = parse.children
        built = tuple(self.piece(p) for p in pieces.children) if pieces is not None else ()
        return ex.Needles(self.at(parse), built, self.bed(bed))

    def piece(self, parse: Parse) -> ex.NeedlePart:
        """One part of a set of needles."""
        kids = parse.children
        at = self.at(parse)
        if parse.data == "one_needle":
            return ex.NeedleRange(at, self.point(kids[0]), None)
        if parse.data == "needle_range":
            return ex.NeedleRange(at, self.point(kids[0]), self.point(kids[1]))
        if parse.data == "centre":
            return ex.Centre(at, self.expr(kids[0]))
        if parse.data == "at_end":
            reach: Any = "stitches" if kids[2] is None else _REACH[kids[2].data]
            return ex.AtEnd(at, self.end(kids[0]), self.expr(kids[1]), reach)
        if parse.data == "every":
            *ordinal, start, piece = kids  # "every other" leaves no token
            step = int(str(ordinal[0])[:-2]) if ordinal else 2
            if step < 1:
                raise self.slip(parse, "bad-number", "'Every' needs an ordinal from 1st upwards.")
            begin = self.expr(start) if start is not None else None
            return ex.Every(at, step, begin, self.piece(piece))
        which: Any = {"all_needles": "all", "held_needles": "held",
                      "empty_needles": "empty"}[parse.data]
        return ex.Everything(at, which)

    # ---- conditions

    def condition(self, parse: Parse) -> ex.Condition:
        """Anything after ``expect``, ``until`` or ``when``."""
        kids = parse.children
        at = self.at(parse)
        match parse.data:
            case "condition":
                return ex.Any_(at, tuple(self.condition(kid) for kid in kids))
            case "all_of":
                if len(kids) == 1:
                    return self.condition(kids[0])
                return ex.All(at, tuple(self.condition(kid) for kid in kids))
            case "negated":
                return ex.Not(at, self.condition(kids[0]))
            case "count_is":
                where: Any = {"in_work": "work", "in_hold": "hold"}[kids[1].data] if kids[1] \
                    else "all"
                bed = self.bed(kids[2]) if kids[2] is not None else None
                return ex.CountIs(at, self.expr(kids[0]), where, None, bed)
            case "held_is":
                end = self.end(kids[1]) if kids[1] is not None else None
                bed = self.bed(kids[2]) if kids[2] is not None else None
                return ex.CountIs(at, self.expr(kids[0]), "hold", end, bed)
            case "carriage_is":
                side: Any = word_of(kids[0])
                return ex.CarriageIs(at, side)
            case "counter_is":
                return ex.CounterIs(at, self.expr(kids[0]))
            case "tube_is":
                return ex.TubeIs(at, self.expr(kids[0]))
            case "beds_equal":
                return ex.BedsEqual(at)
            case "tackle_is":
                what: Any = word_of(kids[0])
                return ex.HungIs(at, what)
            case "yarn_is":
                return ex.HungIs(at, "yarn")
            case "action_is":
                action: Any = word_of(kids[1])
                return ex.ActionIs(at, self.bed(kids[0]), action)
            case "pitch_is":
                pitch: Any = word_of(kids[0])
                return ex.PitchOf(at, pitch)
            case "hold_is":
                return ex.HoldIs(at, self.bed(kids[0]))
            case "size_is":
                return ex.SizeIs(at, tuple(self.size_name(kid) for kid in kids))
            case _:
                how: Any = str(kids[1].data)
                return ex.Compare(at, self.expr(kids[0]), how, self.expr(kids[2]))

    def size_name(self, parse: Parse) -> str:
        """A size as the author spells it."""
        token = parse.children[0]
        return string_value(token) if token.type == "STRING" else str(token)


_REACH = {"loaded_reach": "stitches", "needle_reach": "needles",
          "working_reach": "working", "held_reach": "held"}


def _binary(sign: Any) -> Callable[[ExpressionBuilder, Parse, list[Parse]], ex.Expr]:
    def build(self: ExpressionBuilder, parse: Parse, kids: list[Parse]) -> ex.Expr:
        found = ex.Sum(self.at(parse), sign, self.expr(kids[0]), self.expr(kids[-1]))
        if sign in "/-" and _lists_sizes(found):
            raise self.slip(parse, "does-not-fit", *BY_SIZE)
        return found
    return build


def _lists_sizes(whole: ex.Sum) -> bool:
    """Three figures that grow, with nothing between but a stroke or dash (``12/14/16``): so a paper
    pattern lists what differs by size, and a sum would come to nothing sensible."""
    left, last = whole.left, whole.right
    if not isinstance(left, ex.Sum) or left.sign != whole.sign:
        return False
    three = [one.value.value for one in (left.left, left.right, last)
             if isinstance(one, ex.Literally)]
    at = whole.at
    return len(three) == 3 and three[0] < three[1] < three[2] \
        and " " not in at.source.line(at.line)[at.start - 1:at.end - 1]


_EXPR: dict[str, Callable[[ExpressionBuilder, Parse, list[Parse]], ex.Expr]] = {
    "number": ExpressionBuilder._number, "length": ExpressionBuilder._length,
    "percent": ExpressionBuilder._percent, "name": ExpressionBuilder._name,
    "word": ExpressionBuilder._word, "call": ExpressionBuilder._call,
    "add": _binary("+"), "subtract": _binary("-"), "times": _binary("*"), "over": _binary("/"),
    "negative": ExpressionBuilder._negative, "to_nearest": ExpressionBuilder._round,
    "up_to": ExpressionBuilder._round, "down_to": ExpressionBuilder._round,
}
