"""What is seen only over several lines: each rule looks through a run and yields mishaps.

A rule is ``(run) -> list of Mishap``.  To add one, write it in the module of its family and
list it here; its words go into ``catalogue``.
"""

from __future__ import annotations

from collections.abc import Callable

from sockscript.expand.record import Mishap
from sockscript.expand.run import Run
from sockscript.findings.rules.corners import open_corners
from sockscript.findings.rules.endings import endings
from sockscript.findings.rules.feet import cuff_too_tight, unlikely_feet
from sockscript.findings.rules.short_rows import short_rows
from sockscript.findings.rules.targets import off_target
from sockscript.findings.rules.tubes import odd_passes
from sockscript.findings.rules.yarn import yarn_and_gauge

RULES: tuple[Callable[[Run], list[Mishap]], ...] = (
    short_rows, open_corners, odd_passes, endings, yarn_and_gauge, off_target, unlikely_feet,
    cuff_too_tight,
)
