"""``sockscript pack``: a script and all that belongs to it in one file."""

from __future__ import annotations

import sys
from pathlib import Path

from sockscript.commands.check import UNUSABLE
from sockscript.commands.chosen import sheet_asked, usable
from sockscript.commands.output import may_write, tell_written
from sockscript.findings.checked import Checked
from sockscript.machine.places import find_profile
from sockscript.sharing.pack import make_pack
from sockscript.sharing.stamp import fingerprint_of
from sockscript.sheet import html_form
from sockscript.sheet.outline import Outline
from sockscript.text.source import PACK


def run(*, file: Path, machine: str | None, out: Path) -> int:
    """Check a script and write its pack; returns 0, or 2 when there is nothing to pack."""
    if not may_write(out, (PACK,), file):
        return UNUSABLE
    if file.suffix.lower() == PACK:
        print(f"{file} is a pack already.", file=sys.stderr)
        return UNUSABLE
    checked = usable(file, machine)
    if checked is None:
        return UNUSABLE
    missing = [word for word in ("author", "version", "licence")
               if not getattr(checked.script, word)]
    if missing:
        print(f"The script has no line {' and none '.join(missing)}: those who get the pack will "
              "want to know.", file=sys.stderr)
    status = tell_written(make_pack(checked, leaflets(checked), _profile(checked)), out)
    if not status:
        print(f"Fingerprint {fingerprint_of(checked)}")
    return status


def leaflets(checked: Checked) -> dict[str, bytes]:
    """A leaflet to look at without the tool: HTML, and PDF where it can be made."""
    sheet = sheet_asked(checked, sizes=[], choose=[], every_choice=True,
                        named_machine=checked.machine is not None, my_size=None, bank_book=False)
    found = {"leaflet.html": html_form.render(sheet).encode("utf-8")}
    pdf = _pdf(sheet)
    if pdf is not None:
        found["leaflet.pdf"] = pdf
    return found


def _pdf(sheet: Outline) -> bytes | None:
    from sockscript.pictures.typeset import NoLetterError

    try:
        from sockscript.sheet import pdf_form

        return pdf_form.render(sheet)
    except (ImportError, NoLetterError):
        return None


def _profile(checked: Checked) -> bytes | None:
    """The text of the machine profile that was asked for."""
    if checked.machine is None:
        return None
    path = find_profile(checked.machine, checked.script.source.folder)
    assert path is not None
    return "".join(f"{line}\n" for line in path.read_text("utf-8-sig").splitlines()).encode("utf-8")
