"""``sockscript sheet``: the leaflet of a pattern as HTML or PDF."""

from __future__ import annotations

import sys
from collections.abc import Sequence
from pathlib import Path

from sockscript.commands.check import UNUSABLE
from sockscript.commands.chosen import AskedForError, sheet_asked, usable
from sockscript.commands.output import may_write, missing_extra, tell_written
from sockscript.pictures.typeset import NoLetterError
from sockscript.sheet import html_form

ENDINGS = (".html", ".pdf")


def run(*, file: Path, sizes: list[str], choose: list[str], all_choices: bool,
        machine: str | None, my_size: str | None, bank_book: bool, paper: str, large_print: bool,
        sans_serif: bool, with_script: bool, every_row: bool, out: Path,
        instead: Sequence[str] = ()) -> int:
    """Write the leaflet; returns 0, or 2 when there is nothing to print."""
    ending = out.suffix.lower()
    try:
        if not may_write(out, ENDINGS, file):
            return UNUSABLE
        if paper.lower() not in html_form.PAPERS:
            raise AskedForError(f"There is no paper '{paper}'. Choose from "
                                f"{', '.join(html_form.PAPERS)}.")
        checked = usable(file, machine, instead)
        if checked is None or checked.proof is None:
            return UNUSABLE
        leaflet = sheet_asked(checked, sizes=sizes, choose=choose, every_choice=all_choices,
                              named_machine=checked.machine is not None, my_size=my_size,
                              bank_book=bank_book, with_script=with_script,
                              with_pictures=True, every_row=every_row)
        if every_row and len(leaflet.sizes) > 1:
            raise AskedForError("--every-row has a box for every row of one size: say which with "
                                "--size.")
        if ending != ".pdf":
            return tell_written(html_form.render(leaflet, paper=paper.lower(), large=large_print,
                                                 sans=sans_serif), out)
        from sockscript.sheet import pdf_form

        return tell_written(pdf_form.render(leaflet, paper=paper.lower(), large=large_print,
                                            sans=sans_serif), out)
    except (AskedForError, NoLetterError) as error:
        print(error, file=sys.stderr)
    except ImportError as error:
        print(missing_extra(error, "A PDF"), file=sys.stderr)
    return UNUSABLE
