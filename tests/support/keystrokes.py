"""A script typed line by line, as the keys that a knitter presses in an editor."""

from __future__ import annotations

import re

OPENING = re.compile(r"\s*(?:machine|otherwise|repeat|section|sizes|step|technique|when|words|"
                     r"works)\b", re.I)


def keys(text: str, enter: str = "\r", backspace: str = "\x7f") -> str:
    """The keys for a script in an editor that gives each new line its depth.

    Spelt out from the rule, not from the editors: as deep as the line above, four more after a
    line that opens a block.  Backspace goes out by four.
    """
    typed, base, deeper = "", 0, 0
    for number, line in enumerate(text.splitlines()):
        if number:
            typed += enter
        words = line.lstrip()
        if not words:
            continue
        offered, indent = base + deeper, len(line) - len(words)
        if indent >= offered:
            typed += " " * (indent - offered)
        else:
            assert (offered - indent) % 4 == 0, line
            typed += backspace * ((offered - indent) // 4)
        typed += words
        if words[0] not in '"“':
            base, deeper = indent, 4 if OPENING.match(line) else 0
    return typed
