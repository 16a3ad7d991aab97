"""Packs in a folder of patterns: listed, compared, and offered on the pages of the club."""

from __future__ import annotations

import os
import subprocess
import sys

from support.command import sockscript
from support.made_patterns import made_pattern

USING = made_pattern(0).replace("\nmachine\n", '\nuse "ours.sockscript"\nmachine\n', 1).replace(
    "    remove weights\n", "    do our-end\n", 1)
OURS = "technique our-end\n    remove weights\n"


def packed(club, name: str = "tide"):
    """A script that uses another file, and its pack outside the folder."""
    (club.folder / f"{name}.sockscript").write_text(USING, "utf-8")
    (club.folder / "ours.sockscript").write_text(OURS, "utf-8")
    pack = club.folder.parent / f"{name}.sockpack"
    done = sockscript("pack", str(club.folder / f"{name}.sockscript"), "-o", str(pack))
    assert done.returncode == 0, done.stderr
    return pack


def test_a_pack_is_listed_as_its_script_is(club):
    pack = packed(club)
    (club.folder / "tide.sockpack").write_bytes(pack.read_bytes())
    (club.folder / "bad.sockpack").write_bytes(pack.read_bytes()[:-40])
    entries = {entry["path"]: entry for entry in club.data()["entries"]}
    script, same = entries["tide.sockscript"], entries["tide.sockpack"]

    assert entries["bad.sockpack"]["status"] == "unusable"
    assert (script.pop("pack"), same.pop("pack")) == (False, True)
    assert script.pop("path") != same.pop("path")
    assert script == same and script["status"] == "clean" and "our-end" in script["techniques"]


def test_an_exchanged_technique_is_listed_by_the_name_of_what_is_done(club):
    packed(club)
    lines = USING.splitlines(keepends=True)
    at = next(n for n, line in enumerate(lines) if line.startswith("section"))
    text = "".join([*lines[:at], "exchange our-end for gathered-end\n", *lines[at:]])
    (club.folder / "other.sockscript").write_text(text, "utf-8")
    entries = {entry["path"]: entry for entry in club.data()["entries"]}

    assert "gathered-end" in entries["other.sockscript"]["techniques"]
    assert "our-end" not in entries["other.sockscript"]["techniques"]


def test_a_script_and_its_pack_are_the_same_pattern(club):
    pack = packed(club)
    done = sockscript("compare", str(club.folder / "tide.sockscript"), str(pack))

    assert done.returncode == 0 and "The same pattern" in done.stdout


def test_the_pages_offer_a_pack_that_has_all_it_needs(club):
    packed(club)
    (club.folder / "odd '<b>.sockscript").write_text(made_pattern(2), "utf-8")
    out = club.folder.parent / "pages"
    for count in (1, 0):
        done = subprocess.run(
            [sys.executable, "-m", "sockscript", "catalogue", str(club.folder), "--site",
             str(out)], capture_output=True, text=True, timeout=300, check=False,
            cwd=club.folder.parent, env={**os.environ, "XDG_CACHE_HOME": str(club.cache)})
        assert done.returncode == 0, done.stderr
        assert ("; 0 files" in done.stdout) is (count == 0)
    (pack,) = (out / "patterns").glob("tide-*.sockpack")
    page = pack.with_suffix(".html").read_text("utf-8")
    there = club.folder.parent / "there"
    there.mkdir()
    (there / "got.sockpack").write_bytes(pack.read_bytes())
    checked = sockscript("check", str(there / "got.sockpack"))

    assert f'href="{pack.name}" download>Download the pack' in page
    assert checked.returncode == 0 and "no stitch is lost" in checked.stdout
    assert len(list((out / "patterns").glob("odd-b-*.sock*"))) == 1
