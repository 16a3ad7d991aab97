"""The parser: from tables compiled when the package was built, or else from the grammar.

Compiling the grammar takes longer than checking a whole sock, so the wheel carries the finished
tables.  They are used only if they were made from the same grammar by the same lark; a source
tree has none and compiles the grammar at each start.
"""

from __future__ import annotations

import hashlib
import io
from functools import lru_cache
from pathlib import Path
from typing import Any

import lark
from lark import Lark, Tree
from lark.exceptions import LarkError

from sockscript.text.tokens import LineLexer

HERE = Path(__file__).parent
TABLES = HERE / "tables.bin"
_KEY_LENGTH = 64
DEEPEST = 60
"""Signs, brackets or words in one another on a line: what walks over a tree goes down so far."""


class TooDeepError(LarkError):
    """A line whose parts stand in one another deeper than ``DEEPEST``."""


def grammar_file() -> Path:
    """The grammar inside the installed package, or beside it in a source tree."""
    packaged = HERE / "sockscript.lark"
    return packaged if packaged.exists() else HERE.parent.parent / "grammar" / "sockscript.lark"


def tables_key(grammar: str) -> str:
    """What the tables depend on: the grammar and the version of lark."""
    return hashlib.sha256(f"{lark.__version__}\n{grammar}".encode()).hexdigest()


def compile_grammar(grammar: str) -> Lark:
    """Build the parser from the text of the grammar."""
    starts = next(line for line in grammar.splitlines() if line.startswith("// start:"))
    return Lark(grammar, parser="lalr", lexer=LineLexer, start=starts.split()[2:],
                maybe_placeholders=True)


def compiled_tables(grammar: str) -> bytes:
    """The contents of ``tables.bin`` for a grammar."""
    buffer = io.BytesIO()
    compile_grammar(grammar).save(buffer)
    return tables_key(grammar).encode() + buffer.getvalue()


@lru_cache(maxsize=1)
def load_parser() -> Lark:
    """The parser for the lines of a script.  Made once; writes nothing."""
    grammar = grammar_file().read_text("utf-8")
    if TABLES.exists():
        data = TABLES.read_bytes()
        if data[:_KEY_LENGTH] == tables_key(grammar).encode():
            return Lark.load(io.BytesIO(data[_KEY_LENGTH:]))
    return compile_grammar(grammar)


def parse_text(text: str, start: str) -> Any:
    """Parse a line, or the value in a brace.  Raises LarkError; TooDeepError among them."""
    parse: Any = load_parser().parse(text, start=start)
    # Each step down takes at least one letter.
    if len(text) > DEEPEST:
        layer: list[Any] = [parse]
        depth = 0
        while layer:
            layer = [kid for tree in layer if isinstance(tree, Tree) for kid in tree.children]
            depth += 1
            if depth > DEEPEST:
                raise TooDeepError
    return parse
