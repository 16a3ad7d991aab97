"""``sockscript pack``: a script and all that belongs to it in one file."""

from __future__ import annotations

import os
import sys
from collections.abc import Mapping, Sequence
from pathlib import Path
from typing import Any

from sockscript.commands.check import UNUSABLE, numbers_of, report
from sockscript.commands.chosen import sheet_asked, usable
from sockscript.commands.exchanged_text import exchanging, with_lines
from sockscript.commands.output import may_write, tell_written
from sockscript.commands.signer import unusable_key
from sockscript.expand.called import exchanged_words
from sockscript.findings.checked import Checked, begin, prove_begun
from sockscript.machine.places import find_profile
from sockscript.sharing.pack import make_pack
from sockscript.sharing.stamp import fingerprint_of
from sockscript.sheet import html_form
from sockscript.sheet.outline import Outline
from sockscript.text.packed import NotAPackError, open_pack, signed_bytes
from sockscript.text.source import PACK, Source
from sockscript.text.visible import visible
from sockscript.text.width import set_in


def run(*, file: Path, machine: str | None, out: Path, sign: bool = False,
        instead: Sequence[str] = ()) -> int:
    """Check a script and write its pack; returns 0, or 2 when there is nothing to pack."""
    if not may_write(out, (PACK,), file):
        return UNUSABLE
    if file.suffix.lower() == PACK:
        print(f"{file} is a pack already.", file=sys.stderr)
        return UNUSABLE
    checked = usable(file, machine, instead)
    if checked is None:
        return UNUSABLE
    profile = _profile(checked)
    if instead:
        asked = str(fingerprint_of(checked))
        checked = _written_down(checked, instead)
        if checked.proof is None or str(fingerprint_of(checked)) != asked:
            print(f"{report(checked)}\nA technique that is exchanged has to go into the pack by "
                  "itself: give it a name of its own, in a file that uses no other.",
                  file=sys.stderr)
            return UNUSABLE
    missing = [word for word in ("author", "version", "licence")
               if not getattr(checked.script, word)]
    if missing:
        print(set_in(f"The script has no line {' and none '.join(missing)}: those who get the pack "
                     "will want to know."), file=sys.stderr)
    data = make_pack(checked, leaflets(checked), profile)
    if sign:
        try:
            data = _signed(data)
        except (ImportError, OSError, ValueError) as error:
            print(unusable_key(error), file=sys.stderr)
            return UNUSABLE
    older, new = _held(out), open_pack(data).record
    if older is not None and any(older[word] != new[word] for word in ("title", "author")):
        print(f"{out} is there already and holds another pattern, '{visible(older['title'])}'"
              + (f" by {visible(older['author'])}" if older["author"] else "")
              + "; it is not written over.", file=sys.stderr)
        return UNUSABLE
    status = tell_written(data, out)
    if not status:
        if older is not None and older["fingerprint"] != new["fingerprint"]:
            print(f"It takes the place of the one with fingerprint {older['fingerprint']}.")
        if instead:
            print(f"With {exchanged_words(checked.library)}.")
        print(f"Fingerprint {fingerprint_of(checked)}")
    return status


def _held(out: Path) -> Mapping[str, Any] | None:
    """What the pack tells that is there already; None where there is none that can be read."""
    try:
        return open_pack(out.read_bytes()).record
    except (OSError, NotAPackError):
        return None


def _written_down(checked: Checked, instead: Sequence[str]) -> Checked:
    """The script as it is in the pack: with lines for the techniques that are exchanged."""
    source = checked.script.source
    lines, files = exchanging(checked, instead)
    beside = {name: "\n".join(one.raw) for name, one in checked.library.files.items()}
    beside |= {Path(one.name).name: "\n".join(one.raw) for one in files}
    begun = begin(Source(source.name, with_lines(source, lines), beside=beside))
    if begun.profile is None:
        return begun
    return prove_begun(begun._replace(profile=checked.profile, machine=checked.machine), numbers_of)


def _signed(data: bytes) -> bytes:
    from sockscript.sharing.signing import keys_folder, signature_of

    pack = open_pack(data)
    return signed_bytes(pack, signature_of(pack, keys_folder(os.environ)))


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
