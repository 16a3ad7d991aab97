"""Calculations that go on after a rounding, which stands in brackets then."""

from __future__ import annotations

import re
from collections.abc import Callable

from sockscript.text.source import Problem, Span

_ATOM = r"(?>[\w.,½¼¾⅓⅔⅛⅜⅝⅞-]*+\([^()]*+\)|[\w.,½¼¾⅓⅔⅛⅜⅝⅞-]++)"
_FORM = (rf"(?:(?:whole|even|odd)\b(?:\s+number\b)?+"
         rf"|multiple\s+of\s+{_ATOM}(?:\s+plus\s+{_ATOM})?+)")
_GOES_ON = re.compile(
    rf"\b(?P<way>to\s+nearest\b(?:\s+{_FORM})?+|(?:up|down)\s+to\s+{_FORM})\s*+"
    r"(?P<here>[+*×/÷]|-(?=\s)|(?:plus|less|minus|times|divided\s+by|multiplied\s+by)\b)"
    r"(?=\s*+[\w(½¼¾⅓⅔⅛⅜⅝⅞])", re.I)
_SIGNS = {"minus": "-", "times": "*", "divided by": "/", "multiplied by": "*"}

_TOKEN = re.compile(
    r"(?P<operand>(?:\d++[ ]++\d++[/⁄]\d++|[\d½¼¾⅓⅔⅛⅜⅝⅞][\d.,½¼¾⅓⅔⅛⅜⅝⅞]*+)\s*+"
    r"(?:%|[\"”″]|(?:mm|cm|m|inches|inch|in)\b)?+)"
    r"|(?P<sign>[+*×/÷]|-(?=\s)|(?:plus|less)\b)|(?P<name>[^\W\d_][\w-]*+)|\S", re.I)


def rounded_and_on(bare: str, text: str, at: Callable[[int, int], Span]) -> Problem | None:
    """A rounding with which a line goes on to calculate: the line with it in brackets.

    ``bare``: the line without what stands between quotation marks.
    """
    match = _GOES_ON.search(bare)
    if match is None or (match["here"].lower() == "times"
                         and bare.lstrip().lower().startswith("repeat")):
        return None
    begin = _value_begins(bare[:match.start()].rstrip())
    sign = _SIGNS.get(" ".join(match["here"].lower().split()), match["here"])
    rounded = f"({text[begin:match.end('way')].rstrip()}) {sign}"
    end = match.end("here")
    mend = at(begin, end).replaced_by(rounded)
    gap = "" if text[end:end + 1] == " " else " "
    return Problem("does-not-fit", at(match.start("here"), end),
                   "A value ends with its rounding; to go on calculating, the rounding stands in "
                   "brackets.", f"Write:  {text[:begin].lstrip()}{rounded}{gap}"
                   f"{text[end:].rstrip()}", mend)


def _value_begins(before: str) -> int:
    """Where the value begins that ends with some text: operands with signs between them."""
    tokens = list(_TOKEN.finditer(before))
    begin = len(before)
    at = len(tokens) - 1
    while at >= 0:
        if tokens[at].group() == ")":
            at = _opens(tokens, at)
            if at and tokens[at - 1]["name"] and tokens[at - 1].end() == tokens[at].start():
                at -= 1
        elif not (tokens[at]["operand"] or tokens[at]["name"]):
            return begin
        begin = tokens[at].start()
        if at == 0 or not tokens[at - 1]["sign"]:
            return begin
        at -= 2
    return begin


def _opens(tokens: list[re.Match[str]], closed: int) -> int:
    """Which token opens the bracket that another closes; the first if none does."""
    depth = 0
    for at in range(closed, -1, -1):
        depth += (tokens[at].group() == ")") - (tokens[at].group() == "(")
        if not depth:
            return at
    return 0
