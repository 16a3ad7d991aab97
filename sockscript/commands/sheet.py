"""``sockscript sheet``: the leaflet of a pattern as HTML or PDF."""

from __future__ import annotations

import sys
from pathlib import Path

from sockscript.commands.check import UNUSABLE
from sockscript.commands.chosen import AskedForError, plans_asked, sizes_asked, usable
from sockscript.commands.output import may_write, missing_extra, tell_written
from sockscript.pictures.typeset import NoLetterError
from sockscript.sheet import html_form
from sockscript.sheet.leaflet import make_leaflet

ENDINGS = (".html", ".pdf")


def run(*, file: Path, sizes: list[str], choose: list[str], all_choices: bool,
        machine: str | None, paper: str, large_print: bool, with_script: bool, out: Path) -> int:
    """Write the leaflet; returns 0, or 2 when there is nothing to print."""
    ending = out.suffix.lower()
    try:
        if not may_write(out, ENDINGS, file):
            return UNUSABLE
        if paper.lower() not in html_form.PAPERS:
            raise AskedForError(f"There is no paper '{paper}'. Choose from "
                                f"{', '.join(html_form.PAPERS)}.")
        checked = usable(file, machine)
        if checked is None or checked.proof is None:
            return UNUSABLE
        proof = checked.proof
        script = proof.prepared.script
        plans = plans_asked(proof, sizes_asked(script, sizes), choose, all_choices)
        leaflet = make_leaflet(script, plans, proof.profile, machine is not None,
                               with_script)
        if ending != ".pdf":
            return tell_written(html_form.render(leaflet, paper=paper.lower(), large=large_print),
                             out)
        from sockscript.sheet import pdf_form

        return tell_written(pdf_form.render(leaflet, paper=paper.lower(), large=large_print), out)
    except (AskedForError, NoLetterError) as error:
        print(error, file=sys.stderr)
    except ImportError as error:
        print(missing_extra(error, "A PDF"), file=sys.stderr)
    return UNUSABLE
