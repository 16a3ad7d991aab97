"""``sockscript open``: what a pack is, whether it is as it says, and unpacking it."""

from __future__ import annotations

import os
import sys
from collections.abc import Mapping
from pathlib import Path

from sockscript.commands.check import CLEAN, FOUND, UNUSABLE, numbers_of, report
from sockscript.commands.output import write_out
from sockscript.commands.pack import leaflets
from sockscript.commands.signer import signer_at_length
from sockscript.findings.checked import Checked, begin, much_kept, prove_begun
from sockscript.findings.report import problem_text
from sockscript.machine.load import profile_in
from sockscript.sharing.fingerprint import same_pattern
from sockscript.sharing.pack import differences, record_of
from sockscript.sharing.stamp import fingerprint_of
from sockscript.text.packed import (
    FOLDER,
    LARGEST_PACK,
    LEAFLETS,
    RECORD,
    SIGNATURE,
    NotAPackError,
    Pack,
    open_pack,
)
from sockscript.text.source import PACK, Problem, Source, Span, read_source
from sockscript.text.visible import in_one_line
from sockscript.text.width import page, set_in


def run(*, pack: Path, out: Path | None, know: str | None = None) -> int:
    """Tell of a pack, verify it, check its script anew and unpack it into a new folder.

    Returns 0 if it is what it says and knits, 1 if something was found, 2 if it is refused.
    """
    if pack.suffix.lower() == PACK and not pack.is_file():
        print(f"There is no pack {pack}: look at the spelling and at the folder you are in.",
              file=sys.stderr)
        return UNUSABLE
    if pack.suffix.lower() != PACK:
        print(f"{pack} is not a pack: a pack is a file whose name ends in {PACK}.",
              file=sys.stderr)
        return UNUSABLE
    try:
        with pack.open("rb") as stream:
            found = open_pack(stream.read(LARGEST_PACK + 1))
        signed = signer_at_length(found, know)
    except OSError as error:
        print(f"{pack} cannot be read: {error.strerror or error}.", file=sys.stderr)
        return UNUSABLE
    except NotAPackError as error:
        nowhere = Span(Source(str(pack), ""), 1, 1, 1)
        print(problem_text(Problem("not-a-pack", nowhere, str(error), error.hint)),
              file=sys.stderr)
        return UNUSABLE
    print("\n".join(_told(pack, found, signed)))
    checked = _checked(pack, found)
    status = _verdict(found, checked)
    kept = {name: data for name, data in found.members.items() if name not in LEAFLETS}
    if checked.proof is not None:
        kept |= _leaflets(found, checked)
    if out is None:
        print(set_in(f"\nNothing was written. All commands read the pack as it is; to unpack it "
                     f"into a new folder:\n  sockscript open {pack} -o {Path(pack.stem)}"))
        return status
    return _unpacked(kept, out) or status


def _checked(path: Path, pack: Pack) -> Checked:
    """The script of the pack proved on the machine that it was checked on."""
    begun = begin(read_source(path))
    name = pack.record["machine"]
    if name and begun.profile is not None:
        profile = profile_in(Source(f"{path}/{name}", pack.texts()[name]))
        if isinstance(profile, tuple):
            return begun._replace(problems=profile, profile=None)
        begun = begun._replace(profile=profile, machine=profile.name)
    with much_kept():
        return prove_begun(begun, numbers_of)


def _leaflets(pack: Pack, checked: Checked) -> dict[str, bytes]:
    """The leaflets of the script as this program makes them: a page from somebody else is not
    handed on to a browser unseen."""
    made = leaflets(checked)
    for name in LEAFLETS:
        if name in pack.members and pack.members[name] != made.get(name):
            print(set_in(
                f"\nIts {name} is not what this Sockscript makes of the script: it is "
                + ("made anew where it is unpacked." if name in made else "not unpacked.")))
    return {name: data for name, data in made.items() if name in pack.members}


def _told(path: Path, pack: Pack, signed: str) -> list[str]:
    """What the pack says of itself, before anything is believed."""
    record = pack.record
    head = in_one_line(record["title"])
    lines = [set_in(head), "=" * min(len(head), page())]
    for word, label in (("author", "by"), ("version", "version"), ("licence", "licence"),
                        ("fingerprint", "fingerprint"), ("sockscript", "made with Sockscript")):
        lines.append(f"  {label} {in_one_line(record[word]) or '(not said)'}")
    lines.append(f"  {signed}")
    lines += ["", "In it:"]
    names = [name for name in pack.members if name not in (RECORD, SIGNATURE)]
    wide = min(44, max(map(len, names), default=0) + 2)
    lines += [f"  {name:<{wide}}{len(pack.members[name]):>9} bytes" for name in names]
    return lines


def _verdict(pack: Pack, checked: Checked) -> int:
    """Whether the script is what the record tells, by a check made now."""
    print()
    if checked.proof is None:
        print(report(checked))
        return UNUSABLE
    told, now = pack.record, record_of(checked)
    ours = fingerprint_of(checked)
    status = CLEAN if checked.knits else FOUND
    if same_pattern(told["fingerprint"], str(ours)):
        print(set_in("Every file is as it was packed, and the fingerprint is right."))
    else:
        print(set_in(
            f"Every file is as it was packed, but here the fingerprint is {ours}: this Sockscript "
            "reads the script, or knits a technique of its own, otherwise than the one it was "
            "packed with."))
        status = FOUND
    other = differences(told["check"], now)
    if other:
        print(set_in(f"A check made now tells otherwise: {', '.join(other)}."))
        status = FOUND
    else:
        print(set_in("A check made now tells the same as the one in the pack."))
    print("\n" + report(checked))
    return status


def _unpacked(members: Mapping[str, bytes], out: Path) -> int:
    """Write the members into a new folder; returns the exit status."""
    try:
        os.mkdir(out)
    except FileExistsError:
        print(f"{out} is there already; a pack is unpacked into a new folder only.",
              file=sys.stderr)
        return UNUSABLE
    except OSError as error:
        print(f"{out} cannot be made: {error.strerror or error}.", file=sys.stderr)
        return UNUSABLE
    for name, data in members.items():
        path = out.joinpath(*name.removeprefix(FOLDER).split("/"))
        path.parent.mkdir(parents=True, exist_ok=True)
        if write_out(data, path):
            return UNUSABLE
    print(f"\nUnpacked into {out}.")
    return CLEAN
