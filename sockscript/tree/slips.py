"""Syntax errors in knitters' words: what was found, what would fit, which word was meant."""

from __future__ import annotations

import re
from collections.abc import Callable

from lark.exceptions import LarkError, UnexpectedCharacters, UnexpectedToken

from sockscript.text.parser import DEEPEST, TooDeepError
from sockscript.text.quotes import without_words
from sockscript.text.source import Problem, Source, Span
from sockscript.tree.everyday_slips import EVERYDAY_SLIPS
from sockscript.tree.habit_slips import HABIT_SLIPS, in_plain_quotes
from sockscript.tree.header_slips import HEADER_SLIPS
from sockscript.tree.plain_slips import PLAIN_SLIPS
from sockscript.tree.printed_slips import PRINTED_SLIPS
from sockscript.tree.rounding_slips import rounded_and_on

_TERMINAL_WORDS = {
    "NAME": "a name", "STRING": 'words in quotes "…"', "NUMBER": "a number",
    "MIXED": "a number", "VULGAR": "a number", "FRACTION": "a number", "RATIO": "a number",
    "HALF_MORE": "a half", "INCH_MARK": "in", "NEEDLE": "a needle such as L5",
    "NEEDLE_SIDE": "a needle such as L(half)", "ORDINAL": "an ordinal such as 2nd",
    "LPAR": "(", "RPAR": ")", "COMMA": "a comma", "EQUAL": "=", "PERCENT": "%",
    "PLUS": "+", "MINUS": "-", "STAR": "*", "SLASH": "/", "$END": "the end of the line",
    "__ANON_0": "×", "__ANON_1": "÷",
}
_SIGNS = {"PLUS", "MINUS", "STAR", "SLASH", "PERCENT", "LPAR", "RPAR", "COMMA"}
_SPELLING = {"nm": "Nm", "ne": "Ne"}
_NUMBERS = {"NUMBER", "MIXED", "VULGAR", "FRACTION", "RATIO"}

FEWEST_LETTERS = 3
"""With fewer letters the beginning of a word tells too little."""
LONGEST_WORD, MOST_LIKE = 60, 1000
"""Longer words are no slips of the pen; of more names only those that begin alike are compared."""
LONGEST_SLIP = 400
"""Longer lines are no slips of the pen."""
ALL_SLIPS = (*HABIT_SLIPS, *EVERYDAY_SLIPS, *PRINTED_SLIPS, *HEADER_SLIPS, *PLAIN_SLIPS)
_MOST_WORDS = 5
"""More words that fit are not told one by one beside other things, nor twice as many alone."""


def nearest(word: str, words: list[str] | tuple[str, ...] | set[str]) -> str | None:
    """The word most like ``word``, if one is like it at all; the only one that begins with it
    comes first."""
    begun = word.lower()
    if len(begun) > LONGEST_WORD:
        return None
    if len(words) > MOST_LIKE:
        words = sorted(other for other in words if other[:1] == begun[:1])[:MOST_LIKE]
    longer = [other for other in words if other.startswith(begun)]
    if len(longer) == 1 and len(begun) >= FEWEST_LETTERS:
        return longer[0]
    import difflib

    found = difflib.get_close_matches(begun, sorted(words), n=1, cutoff=0.7)
    # "knitting" is less like "knit" than its first letters are.
    return found[0] if found else max(
        (other for other in words if len(other) > FEWEST_LETTERS and begun.startswith(other)),
        key=len, default=None)


def _first_words() -> tuple[str, ...]:
    """The words that may begin a line (loaded late: a script in order needs none of it)."""
    from sockscript.tree.line_kinds import samples

    return tuple(samples())


def _for_example(text: str, first: str, block: str = "line") -> str:
    """A line as it should be that begins with a word (empty: there is none to show)."""
    from sockscript.tree.line_kinds import sample_like

    sample = sample_like(text, first, block == "machine_line")
    return f"For example:  {sample}" if sample else ""


_SECOND_WORDS = r"(off|for|on|to|into|down|up|size|counter|pitch|hold|row|comb|[0-9]+)"
"""Words that stand second in a line, and are joined to the first by mistake."""


def _parted(found: str) -> str | None:
    """Two words written as one, the first of them one that begins a line."""
    match = re.fullmatch(rf"({'|'.join(_first_words())})-?{_SECOND_WORDS}", found, re.I)
    return f"{match[1]} {match[2]}" if match else None


def _keywords(expected: set[str]) -> set[str]:
    return {name.lower() for name in expected
            if name not in _TERMINAL_WORDS and not name.startswith("__")}


def _expectation(expected: set[str]) -> str:
    """What could stand here, the plainest first (empty: too many words)."""
    words = sorted(f"'{_SPELLING.get(word, word)}'" for word in _keywords(expected))
    things: list[str] = []
    if expected & _NUMBERS:
        things.append("a number")
    for name in ("STRING", "NAME", "NEEDLE"):
        if name in expected:
            things.append(_TERMINAL_WORDS[name])
    if "$END" in expected and not things and not words:
        return "the end of the line"
    if "EQUAL" in expected:
        things.append("'='")
    if len(words) > (_MOST_WORDS if things else 2 * _MOST_WORDS):
        words = []
    both = things + words
    if "$END" in expected:
        both.append("the end of the line")
    return ", ".join(both[:-1]) + " or " + both[-1] if len(both) > 1 else "".join(both)


def syntax_problem(error: LarkError, text: str, whole: Span, shift: int = 0,
                   block: str = "line") -> Problem:
    """Explain why a line (or a part of it, ``shift`` columns in) cannot be understood."""
    if isinstance(error, TooDeepError):
        return Problem("nested-too-deep", whole, f"More than {DEEPEST} signs, brackets or words "
                       "stand in one another here.",
                       "Work the value out in several lines:  let part = …")
    first = text.split()[0].lower() if text.split() else ""
    sample = _for_example(text, first, block) if block != "value" else ""
    special = _known_slip(text, whole, shift)
    if special is not None:
        return special
    column = getattr(error, "column", 1) or 1
    if isinstance(error, UnexpectedToken):
        expected = set(error.accepts or error.expected)
        token = error.token
        if token.type == "$END":
            end = len(text.rstrip()) + shift
            at = Span(whole.source, whole.line, end, end + 1)
            fits = _expectation(expected)
            return Problem("unfinished-line", at, "The line stops too early"
                           + (f": {fits} should follow." if fits else "."), sample)
        column = token.column or 1
    elif isinstance(error, UnexpectedCharacters):
        expected = set(error.allowed or ())
    else:
        expected = set()
    begin = column - 1
    while begin and text[begin - 1].isalnum() and text[begin:begin + 1].isalnum():
        begin -= 1
    match = re.compile(r"[^\W_]+(-[^\W_]+)*|\S").match(text, begin)
    found = match.group(0) if match else text[begin:begin + 1]
    column = begin + 1
    at = _at(whole, column - 1 + shift, max(1, len(found)))
    if block != "line" and not text[:begin].strip() and shift == 0:
        return _first_in_block(found, expected, at, block)
    return _unexpected_word(found, column, text, expected, at, sample)


def _first_in_block(found: str, expected: set[str], at: Span, block: str) -> Problem:
    """A line of a block that has its own kinds of lines begins wrongly."""
    if block == "machine_line":
        words = _keywords(expected)
        meant = nearest(found, words)
        return Problem("unknown-word", at, f"No line of a machine block begins with '{found}'.",
                       f"Did you mean '{meant}'?" if meant else
                       f"They begin with {', '.join(sorted(words))}.",
                       at.replaced_by(meant) if meant else None)
    if block == "range_row":
        return Problem("does-not-fit", at, f"'{found}' does not fit here: a line under 'works for' "
                       "names a value and its range.",
                       "For example:  foot-length 20 to 27 cm by 5 mm")
    what = {"size_row": "a row of the table of sizes begins with the name of a measurement",
            "word_line": "this line begins with the name of a setting"}.get(
        block, "a value should stand here")
    return Problem("does-not-fit", at, f"'{found}' does not fit here: {what}.")


def _at(whole: Span, begin: int, length: int) -> Span:
    """A place in the line of ``whole``; ``begin`` counts from 0."""
    return Span(whole.source, whole.line, begin + 1, begin + 1 + length)


def _unexpected_word(found: str, column: int, text: str, expected: set[str], at: Span,
                     sample: str) -> Problem:
    """A word or sign that the grammar does not take at its place."""
    starts_line = not text[:column - 1].strip()
    if starts_line and found[:1].isalpha():
        meant = _parted(found) or nearest(found, _first_words())
        hint = f"Did you mean '{meant}'?" if meant else "Is it a name without an instruction " \
            "before it, or a line that belongs under another?"
        example = _for_example(text, meant or "")
        if example:
            hint += f"  {example}"
        return Problem("unknown-word", at, f"No instruction begins with '{found}'.", hint,
                       at.replaced_by(meant) if meant else None)
    if found in ('"', "“", "”", "'"):
        return Problem("open-quote", at, "A quotation mark has no partner on this line.",
                       'Words stand between two of them: "like this".')
    if starts_line and "STRING" in expected:
        return Problem("does-not-fit", at, f"No instruction begins with '{found}'.",
                       "Every line begins with a word such as  knit  or  section.")
    if found == "-" and text[column:column + 1].isdigit() and expected & _NUMBERS:
        return Problem("bad-number", at, "Nothing here can be less than none.",
                       "Write the number without the minus.")
    meant = nearest(found, _keywords(expected)) if found[:1].isalpha() else None
    if meant and meant != found.lower():
        return Problem("unknown-word", at, f"'{found}' does not fit here.",
                       f"Did you mean '{meant}'?", at.replaced_by(meant))
    fits = _expectation(expected)
    message = f"'{found}' does not fit here" + (f": {fits} should stand here." if fits else ".")
    return Problem("does-not-fit", at, message, sample)


def said_otherwise(words: str) -> str:
    """How a script says what is said at the machine or stands in printed steps; empty: not known.
    """
    whole = Span(Source("words", words), 1, 1, len(words) + 1)
    found = _known_slip(words, whole, 0) if words and "\n" not in words else None
    return f"{found.message} {found.hint}".rstrip() if found is not None else ""


_At = Callable[[int, int], Span]
"""The place of some letters of the text, counted from 0."""


def _known_slip(text: str, whole: Span, shift: int) -> Problem | None:
    """Slips that have a plain sentence of their own."""
    def at(start: int, end: int) -> Span:
        return Span(whole.source, whole.line, start + 1 + shift, end + 1 + shift)

    bare = without_words(text)
    for slip, of_short_lines in _KNOWN_SLIPS:
        if len(bare) <= LONGEST_SLIP or not of_short_lines:
            found = slip(bare, text, at)
            if found is not None:
                return found
    return None


def _plain_quotes(bare: str, text: str, at: _At) -> Problem | None:
    plain = in_plain_quotes(bare, text)
    if plain is None:
        return None
    begun, ended, quoted = plain
    here = at(begun, ended)
    return Problem("does-not-fit", here, "Words stand between double quotation marks.",
                   f"Write:  {text[:begun].strip()} {quoted}{text[ended:].rstrip()}".replace(
                       ":   ", ":  "), here.replaced_by(quoted))


def _open_quote(bare: str, text: str, at: _At) -> Problem | None:
    opened = re.search('["“]', bare)
    return None if opened is None else Problem(
        "open-quote", at(opened.start(), len(text)),
        "The quotation mark that opens here is never closed on this line.",
        'Put a " after the last of the words.')


def _sizes_by_number(bare: str, text: str, at: _At) -> Problem | None:
    sizes = re.match(r"\s*sizes((?:\s+\S+)+)\s*$", text, re.I)
    if sizes is None or not re.search(r"\s\d", bare):
        return None
    here = at(sizes.start(1) + 1, sizes.end(1))
    quoted = "   ".join(f'"{name}"' if name[0].isdigit() else name
                        for name in re.findall(r'["“][^"”]*["”]|\S+', sizes.group(1)))
    return Problem("does-not-fit", here, "The name of a size begins with a letter, or stands "
                   "between quotation marks.", f"Write:  sizes {quoted}",
                   here.replaced_by(f" {quoted}"))


def _like_a_pattern(bare: str, text: str, at: _At) -> Problem | None:
    """The first of ``ALL_SLIPS`` that a line is like."""
    for slip in ALL_SLIPS:
        match = re.search(slip.pattern, bare, re.I)
        if match:
            here = at(match.start("here"), match.end("here"))
            fields = {**match.groupdict(), "verb": (match.groupdict().get("verb") or "").lower(),
                      "joined": "-".join(match.groupdict().get("words", "").split())}
            return Problem("does-not-fit", here, slip.message.format(**fields),
                           slip.hint.format(**fields), None if slip.instead is None else
                           here.replaced_by(slip.instead.format(**fields)))
    return None


def _open_bracket(bare: str, text: str, at: _At) -> Problem | None:
    if bare.count("(") <= bare.count(")"):
        return None
    start = bare.rindex("(")
    return Problem("does-not-fit", at(start, start + 1),
                   "A bracket opens here and is never closed.", "Put a ) after the value.")


def _let_without_equal(bare: str, text: str, at: _At) -> Problem | None:
    match = re.match(r"\s*(let)\s+([\w-]+)\s+(is|:=|:|to|be)\s", bare, re.I)
    if match is None:
        return None
    here = at(match.start(3), match.end(3))
    return Problem("does-not-fit", here,
                   f"A value is given with =, not with '{match.group(3)}'.",
                   f"Write:  let {match.group(2)} = …", here.replaced_by("="))


def _colon_at_the_end(bare: str, text: str, at: _At) -> Problem | None:
    if not bare.rstrip().endswith(":"):
        return None
    end = len(bare.rstrip())
    here = at(end - 1, end)
    return Problem("does-not-fit", here, "No colon is needed here.",
                   "Leave it out; the block is told by its indentation.", here.replaced_by(""))


def _compared_by_signs(bare: str, text: str, at: _At) -> Problem | None:
    match = re.search(r"==?|>=?|<=?", bare)
    first = bare.split()[0].lower() if bare.split() else ""
    if match is None or first not in ("when", "expect", "repeat"):
        return None
    words = {"=": "is", "==": "is", ">": "is more than", "<": "is less than",
             ">=": "is at least", "<=": "is at most"}[match.group(0)]
    here = at(match.start(), match.end())
    return Problem("does-not-fit", here,
                   f"Two values are compared in words, not with '{match.group(0)}'.",
                   f"Write '{words}'.", here.replaced_by(f" {words} "))


_KNOWN_SLIPS: tuple[tuple[Callable[[str, str, _At], Problem | None], bool], ...] = (
    (_plain_quotes, True), (_open_quote, False), (_sizes_by_number, False),
    (rounded_and_on, True), (_like_a_pattern, True), (_open_bracket, False),
    (_let_without_equal, False), (_colon_at_the_end, False), (_compared_by_signs, False))
"""The first that fits is told; and whether it is looked for in short lines only."""
