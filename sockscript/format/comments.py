"""Comments: what they say, and how deep one stands that has a line to itself."""

from __future__ import annotations

from bisect import bisect_left
from collections.abc import Mapping

from sockscript.text.layout import indentation, without_comment
from sockscript.text.source import Source


class Comments:
    """The comments of a source.  ``depths``: the depth of every line of code, by its number."""

    def __init__(self, source: Source, depths: Mapping[int, int]) -> None:
        self.source = source
        self.depths = depths
        self._code = sorted(depths)

    def at(self, number: int) -> str:
        """The comment of a line with its ``#``, or nothing."""
        raw = self.source.line(number)
        return raw[len(without_comment(raw)):].strip()

    def depth(self, number: int) -> int:
        """How deep a comment belongs that stands alone: with the lines it is in one column with."""
        column = indentation(self.source.line(number))
        place = bisect_left(self._code, number)
        after = self._code[place] if place < len(self._code) else None
        if after is not None and indentation(self.source.line(after)) == column:
            return self.depths[after]
        block = None
        for n in (self._code[m] for m in range(place - 1, -1, -1)):
            if block is not None and self.depths[n] >= self.depths[block]:
                continue
            block = n
            here = indentation(self.source.line(n))
            if here <= column:
                return self.depths[n] + (here < column)
        return 0
