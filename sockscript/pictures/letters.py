"""How wide words come out, in whatever font a reader has.

The widest of DejaVu Sans 2.37, Liberation Sans 1.07 and Noto Sans 2.004 for each letter (read
from the ``hmtx`` tables of the fonts): a picture that has room for these has room for all.
"""

from __future__ import annotations

_FIRST = 32
_REGULAR = (
    318, 401, 460, 838, 636, 950, 780, 275, 390, 390, 551, 838, 318, 361, 318, 372, 636, 636, 636,
    636, 636, 636, 636, 636, 636, 636, 337, 337, 838, 838, 838, 556, 1015, 684, 686, 722, 770,
    667, 611, 778, 752, 339, 500, 667, 557, 907, 760, 787, 667, 787, 722, 667, 611, 732, 684, 989,
    685, 667, 685, 390, 372, 390, 838, 556, 500, 613, 635, 550, 635, 615, 352, 635, 634, 278, 278,
    579, 278, 974, 634, 612, 635, 635, 413, 521, 392, 634, 592, 818, 592, 592, 525, 636, 551, 636,
    838)
_BOLD = (
    348, 456, 521, 838, 696, 1002, 872, 306, 457, 457, 545, 838, 380, 415, 380, 413, 696, 696,
    696, 696, 696, 696, 696, 696, 696, 696, 400, 400, 838, 838, 838, 611, 1000, 774, 762, 734,
    830, 683, 683, 821, 837, 389, 556, 775, 637, 995, 837, 850, 733, 850, 770, 720, 682, 812, 774,
    1103, 771, 724, 725, 457, 413, 457, 838, 556, 500, 675, 716, 593, 716, 678, 435, 716, 712,
    343, 343, 665, 343, 1042, 712, 687, 716, 716, 493, 595, 478, 712, 652, 924, 645, 652, 582,
    712, 551, 712, 838)
_OTHER = 1000
"""Letters beyond ASCII: none of those of a European language is wider."""


def width(words: str, size: float, bold: bool = False) -> float:
    """The most that words of a font size take, in its units."""
    table = _BOLD if bold else _REGULAR
    return size / 1000 * sum(
        table[ord(letter) - _FIRST] if 0 <= ord(letter) - _FIRST < len(table) else
        (_OTHER if ord(letter) > 0x7f else 0) for letter in words)
