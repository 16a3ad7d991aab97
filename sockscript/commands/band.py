"""What stands on the band of a yarn, as it is typed after a command: ``430 yards per 4 oz``."""

from __future__ import annotations

import re

from sockscript.numbers.quantity import Exact
from sockscript.text.source import Source
from sockscript.tree.read import read_script

LONGEST_BAND = 60
"""Letters that somebody types of a band."""
_ALIKE = ((r"\bmet(?:re|er)s?\b", "m"), (r"\byds?\b", "yards"),
          (r"\b(?:gr|grams?|grammes?)\b", "g"),
          (r"(?<=\d)(?=[a-z])", " "), (r"(?<=[a-z])\s*(?:/|=|\bin\b|\bto\b)\s*(?=\d)", " per "))
"""Other ways to write the same, and how a script has it."""


def read_band(text: str) -> tuple[str, Exact] | None:
    """What was typed as a script has it, and metres for a gram; None when it is no band."""
    if len(text) > LONGEST_BAND or re.search(r"[\"“”#\n]", text):
        return None
    said = text.strip()
    for pattern, same in _ALIKE:
        said = re.sub(pattern, same, said, flags=re.I)
    script = read_script(Source("band", f'yarn main "yarn" {said}'))
    if script.problems or len(script.yarns) != 1:
        return None
    yarn = script.yarns[0]
    if yarn.metres_per_gram is None or yarn.role != "main":
        return None
    return said, yarn.metres_per_gram
