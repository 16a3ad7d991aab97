"""Lines that the grammar allows, made from its rules, for hypothesis."""

from __future__ import annotations

from functools import cache
from itertools import pairwise

from hypothesis import strategies as st
from lark.exceptions import LarkError

from sockscript.text.parser import load_parser

SAMPLES = {
    "NAME": ["alpha", "My-Toe", "half-round", "Érable", "kante2"],
    "STRING": ['"wool,  and # more"', "“so it  IS”", '"Knit {2 +  1} rows"'],
    "NUMBER": ["0", "3", "12.5", "140", "7,5"],
    "MIXED": ["2 1/2", "3   7/16", "0 3/4", "1-1/2"],
    "VULGAR": ["½", "7⅞", "7 ½"],
    "FRACTION": ["3/4 in", "12/16 inches"],
    "RATIO": ["3/4", "7/16"],
    "HALF_MORE": [" 1/2", "½", ".5"],
    "INCH_MARK": ['"', "″"],
    "NEEDLE": ["l5", "R12"],
    "NEEDLE_SIDE": ["L", "r"],
    "ORDINAL": ["2nd", "3RD"],
    "TURNED": ["turned"],
}
"""Texts of the terminals that are patterns."""

ENDLESS = 10**6


@cache
def _rules():
    found = {}
    for rule in load_parser().rules:
        found.setdefault(rule.origin.name, []).append(rule.expansion)
    return found


@cache
def _words():
    return {terminal.name: [terminal.pattern.value] for terminal in load_parser().terminals
            if type(terminal.pattern).__name__ == "PatternStr"} | SAMPLES


@cache
def _least_depths():
    """How many rules deep each one goes at least."""
    depths = dict.fromkeys(_rules(), ENDLESS)
    for _ in range(len(depths)):
        for name in depths:
            depths[name] = 1 + min(_depth_of(expansion, depths) for expansion in _rules()[name])
    return depths


def _depth_of(expansion, depths):
    return max((0 if symbol.is_term else depths[symbol.name] for symbol in expansion), default=0)


def _derive(draw, name, budget):
    expansions = _rules()[name]
    fitting = [e for e in expansions if _depth_of(e, _least_depths()) <= budget]
    fitting = fitting or [min(expansions, key=lambda e: _depth_of(e, _least_depths()))]
    words = []
    for symbol in draw(st.sampled_from(fitting)):
        if symbol.is_term:
            word = draw(st.sampled_from(_words()[symbol.name]))
            own = symbol.name in ("STRING", "NAME")
            words.append(word if own else draw(st.sampled_from([word, word, word.upper()])))
        else:
            words.extend(_derive(draw, symbol.name, budget - 1))
    return words


@st.composite
def lines(draw, start):
    """A line of the kind ``start`` that the parser can read, with spaces here and there."""
    words = _derive(draw, start, draw(st.integers(4, 14)))
    text = words[0]
    for before, word in pairwise(words):
        tight = word in "(),%" or before in "(,"
        text += ("" if word in '"″' else draw(st.sampled_from(["", " "])) if tight else
                 draw(st.sampled_from([" ", " ", "   ", "\t"]))) + word
    return text


def readable(text, start):
    """Whether the parser reads it: a drawn name may meet a word of the language."""
    try:
        load_parser().parse(text, start=start)
    except LarkError:
        return False
    return True
