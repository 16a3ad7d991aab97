"""``sockscript follow``: a page to knit from, for a tablet beside the machine."""

from __future__ import annotations

import sys
from collections.abc import Sequence
from pathlib import Path

from sockscript.commands.check import UNUSABLE
from sockscript.commands.chosen import (
    AskedForError,
    as_texts,
    choices_asked,
    one_size,
    plan_of,
    sizes_asked,
    usable,
)
from sockscript.commands.output import may_write, tell_written
from sockscript.expand.called import borrowed
from sockscript.findings.checked import Checked
from sockscript.findings.prove import Proof
from sockscript.fit.pace import Pace
from sockscript.follow.data import NothingToKnitError, page_data
from sockscript.follow.page import whole_page
from sockscript.follow.walk import TooLongError
from sockscript.sharing.stamp import fingerprint_of
from sockscript.text.width import set_in

ENDINGS = (".html",)


def run(*, file: Path, size: str | None, choose: list[str], machine: str | None, pace: float,
        out: Path, instead: Sequence[str] = ()) -> int:
    """Write the page of one size; ``pace`` is seconds for a pass of the carriage.

    Returns 0, or 2 when there is no such size or choice.
    """
    if not 0.1 <= pace <= 600:
        print("The pace is seconds for a pass of the carriage, from 0.1 to 600.", file=sys.stderr)
        return UNUSABLE
    if not may_write(out, ENDINGS, file):
        return UNUSABLE
    checked = usable(file, machine, instead)
    if checked is None or checked.proof is None:
        return UNUSABLE
    try:
        page = _page(checked, checked.proof, size, choose, checked.machine is not None,
                     Pace()._replace(carriage=pace))
    except (AskedForError, NothingToKnitError, TooLongError) as error:
        print(error, file=sys.stderr)
        return UNUSABLE
    status = tell_written(page, out)
    if not status:
        print(set_in("Open it in the browser of the tablet that stands beside the machine; it "
                     "needs no network."))
    return status


def _page(checked: Checked, proof: Proof, size: str | None, choose: list[str],
          named_machine: bool, pace: Pace) -> str:
    script = proof.prepared.script
    position = one_size(script, size)
    chosen = choices_asked(script, choose)
    # Steps are numbered as on the sheet of all sizes, which may lie beside the machine.
    plan = plan_of(proof, sizes_asked(script, []), chosen)
    faults = sum(finding.severity == "fault" for finding in checked.findings)
    data = page_data(script, plan, position, as_texts(chosen), named_machine, pace, faults,
                     str(fingerprint_of(checked)),
                     list(map(str, borrowed(script, checked.library))))
    return whole_page(f"{data['title']}, {data['size']}", data)
