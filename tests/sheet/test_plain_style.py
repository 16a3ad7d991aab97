"""Rules of style for all that a reader sees: the plain word wherever there is one."""

from __future__ import annotations

from pathlib import Path

import pytest

ROOT = Path(__file__).resolve().parents[2]

# What is not said: what is said instead.
PLAIN = {
    "slender": "thin",
    "splits and twists": "see that none is split or crossed",
    "ride up": "climb the needles",
    "jump off": "drop",
    "away from the carriage": "opposite the carriage",
    "narrowest part of the heel": "the shortest row of the heel",
}

READ = [path for folder, kinds in (
    ("sockscript", ("py", "js", "html", "md", "sockscript", "typ")), ("grammar", ("md", "lark")),
    ("examples", ("sockscript", "txt")), ("editors", ("md", "json")),
    ("tests/sheet/golden", ("*",)), (".", ("md",)))
    for kind in kinds for path in (ROOT / folder).glob(
        f"*.{kind}" if folder == "." else f"**/*.{kind}") if "node_modules" not in path.parts]


@pytest.mark.parametrize("ornate", sorted(PLAIN))
def test_the_plain_word_is_used(ornate):
    assert len(READ) > 300
    assert [str(path.relative_to(ROOT)) for path in READ
            if ornate in " ".join(path.read_text("utf-8").split()).casefold()] == []
