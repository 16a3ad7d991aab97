"""How long a piece takes, by the member's own pace."""

from __future__ import annotations

from typing import NamedTuple


class Pace(NamedTuple):
    """Seconds for a pass of the carriage, for one stitch moved by hand, and for a setting.

    The values to start from are a guess at an unhurried hand: common practice, no source.
    """

    carriage: float = 2.0
    hand: float = 4.0
    setting: float = 10.0


def minutes(passes: int, moves: int, settings: int, pace: Pace) -> float:
    """Minutes for so much work."""
    return (passes * pace.carriage + moves * pace.hand + settings * pace.setting) / 60
