"""Any texts, and texts that are almost scripts, for hypothesis."""

from __future__ import annotations

from hypothesis import strategies as st

from support.grammar_lines import SAMPLES

FRAGMENTS = ["knit", " ", "  ", "\n", "\n    ", '"', "“", "”", "{", "}", "#", "\t", "let", "=",
             "do", "with", "sizes", "machine", "words", "in", "½", "3 1/2", "ſ", "İ", "ǆ", "\x0c",
             "\u2028", "\xa0", *(text for texts in SAMPLES.values() for text in texts)]
TEXTS = st.one_of(st.text(max_size=200),
                  st.lists(st.sampled_from(FRAGMENTS), max_size=40).map("".join))
"""Anything, or pieces of scripts in any order."""
