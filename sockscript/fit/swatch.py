"""From a measured swatch to a gauge, and what two gauges do to a finished piece."""

from __future__ import annotations

from fractions import Fraction
from typing import NamedTuple

SPAN_MM = 100
"""Gauges are told over 10 cm."""


class Swatch(NamedTuple):
    """Stitches counted over a width and rows over a height, both in millimetres."""

    stitches: Fraction
    rows: Fraction
    wide: Fraction
    tall: Fraction

    @property
    def stitches_per_10_cm(self) -> Fraction:
        """Stitches over 100 mm."""
        return self.stitches / self.wide * SPAN_MM

    @property
    def rows_per_10_cm(self) -> Fraction:
        """Rows over 100 mm."""
        return self.rows / self.tall * SPAN_MM


def difference(planned: Fraction, found: Fraction, length: Fraction) -> Fraction:
    """Millimetres by which a piece comes out longer than ``length`` (negative: shorter).

    It is planned by one gauge (stitches or rows over 10 cm) and knits to the other: as many
    stitches as ``length`` takes by ``planned`` measure ``length * planned / found``.
    """
    return length * planned / found - length
