"""A script handed on in one file: the same bytes everywhere, read by all commands, checked anew."""

from __future__ import annotations

import json
import re
import shutil
import zipfile
from pathlib import Path

import pytest
from support.command import ROOT, process, sockscript
from support.schemas import follows_schema

from sockscript.commands.check import check_file
from sockscript.commands.open_pack import run as open_pack_command
from sockscript.sharing.pack import make_pack
from sockscript.text.packed import LEAFLETS, open_pack, pack_bytes

SOCK = ROOT / "examples" / "toe-up-sock.sockscript"
TOES = ("version 2\nauthor \"Ada\"\nuse \"more/ends.sockscript\"\n"
        "technique our-toe with leave\n    leaves tube of leave stitches a bed\n"
        "    do wedge-toe with leave = leave\n")
USING = """pattern "Harbour Tube"
author "Ben"
version 4
licence "CC0"
yarn main "any yarn"
gauge plain 30 stitches, 42 rows per 10 cm
use "our-toes.sockscript"

section "Tube" in plain
    do tube-cast-on with half = 24, yarn = main
    stitch size 5
    knit 24 rounds
    do our-toe with leave = 12
    knit 1 round
    cut
    remove weights
    remove comb
    do graft-end
"""


@pytest.fixture
def script(tmp_path):
    """A script that uses two other files."""
    folder = tmp_path / "ben"
    (folder / "more").mkdir(parents=True)
    (folder / "our-toes.sockscript").write_text(TOES)
    (folder / "more" / "ends.sockscript").write_text("technique our-end\n    cut\n")
    path = folder / "tube.sockscript"
    path.write_text(USING)
    return path


@pytest.fixture
def pack(script, tmp_path):
    path = tmp_path / "tube.sockpack"
    done = sockscript("pack", str(script), "-o", str(path))
    assert done.returncode == 0, done.stderr
    return path


def opened(path):
    return open_pack(path.read_bytes())


# ---- what is in it


def test_a_pack_is_an_ordinary_archive_with_all_that_the_script_needs(pack):
    with zipfile.ZipFile(pack) as archive:
        assert archive.testzip() is None
        names = archive.namelist()
        record = json.loads(archive.read("pack.json"))

    assert names[0] == "pack.json"
    assert {"script/tube.sockscript", "script/our-toes.sockscript",
            "script/more/ends.sockscript", "leaflet.html"} <= set(names)
    assert (record["title"], record["author"], record["version"], record["licence"]) \
        == ("Harbour Tube", "Ben", "4", "CC0")
    assert record["check"]["sizes"] == ["one size"]
    assert record["check"]["findings"] == []
    stitches = record["check"]["stitches"][0]
    assert stitches["cast-on"] + stitches["made"] \
        == sum(stitches.values()) - stitches["cast-on"] - stitches["made"]
    follows_schema(record, "sharing/pack")


def test_it_is_the_same_byte_for_byte_wherever_and_whenever_it_is_made(script, pack, tmp_path):
    other = tmp_path / "elsewhere" / "deep"
    shutil.copytree(script.parent, other)
    for path in other.rglob("*.sockscript"):
        path.write_text(path.read_text(), newline="\r\n")
        path.chmod(0o600)
    again = tmp_path / "again.sockpack"
    sockscript("pack", str(other / "tube.sockscript"), "-o", str(again), PYTHONHASHSEED="7",
               TZ="Asia/Tokyo", LC_ALL="C")

    assert again.read_bytes() == pack.read_bytes()


def test_nothing_in_it_tells_of_the_computer(pack):
    with zipfile.ZipFile(pack) as archive:
        for one in archive.infolist():
            assert (one.date_time, one.external_attr, one.create_system, one.extra, one.comment) \
                == ((1980, 1, 1, 0, 0, 0), 0x20, 0, b"", b"")
    assert str(pack.parent).encode() not in pack.read_bytes()


def test_what_is_missing_in_the_header_is_told(tmp_path):
    path = tmp_path / "a.sockscript"
    path.write_text(USING.replace('licence "CC0"\n', "").replace('use "our-toes.sockscript"\n', "")
                    .replace("our-toe", "wedge-toe"))
    done = sockscript("pack", str(path), "-o", str(tmp_path / "a.sockpack"))

    assert done.returncode == 0 and "has no line licence" in done.stderr


@pytest.mark.parametrize("out", ["a.zip", "a.sockscript", "a"])
def test_a_pack_ends_as_a_pack(script, tmp_path, out):
    done = sockscript("pack", str(script), "-o", str(tmp_path / out))

    assert done.returncode == 2 and not (tmp_path / out).exists()


def test_a_script_that_cannot_be_read_is_not_packed(tmp_path):
    path = tmp_path / "a.sockscript"
    path.write_text('pattern "x"\nsection "x"\n    kint 2 rows\n')
    done = sockscript("pack", str(path), "-o", str(tmp_path / "a.sockpack"))

    assert done.returncode == 2 and not (tmp_path / "a.sockpack").exists()


# ---- all commands read it


@pytest.mark.parametrize("command", [
    ["check"], ["steps"], ["steps", "--format", "json"], ["sizes"], ["needles", "--step", "3"],
    ["check", "--format", "json"], ["check", "--machine", "harbour-45"]])
def test_commands_read_a_pack_as_they_read_its_script(command, script, pack):
    name, *options = command
    of_script = sockscript(name, str(script), *options)
    of_pack = sockscript(name, str(pack), *options)

    assert of_pack.returncode == of_script.returncode
    told = of_pack.stdout.replace(f"{pack}/tube.sockscript", "*")
    assert told.replace("\n  Not signed: anybody may have made it\n", "\n") \
        == of_script.stdout.replace(str(script), "*")
    assert of_script.stdout


@pytest.mark.parametrize("command, out", [("sheet", "a.html"), ("follow", "a.html"),
                                          ("picture", "a.svg")])
def test_commands_that_write_make_the_same_of_a_pack(command, out, script, pack, tmp_path):
    options = ["--what", "fabric"] if command == "picture" else []
    made = []
    for path in (script, pack):
        assert sockscript(command, str(path), *options, "-o", str(tmp_path / out)).returncode == 0
        made.append((tmp_path / out).read_bytes())

    assert made[0] == made[1]


@pytest.mark.parametrize("command", [["format"], ["check", "--mend", "--yes"]])
def test_nothing_writes_over_a_pack(command, pack):
    before = pack.read_bytes()
    done = sockscript(*command, str(pack))

    assert done.returncode == 2 and "stays as it was made" in done.stderr
    assert pack.read_bytes() == before


def test_a_pack_takes_the_place_of_an_older_one_of_its_pattern_only(script, pack, tmp_path):
    first = opened(pack).record["fingerprint"]
    script.write_text(USING.replace("knit 24", "knit 26"))
    again = sockscript("pack", script, "-o", pack)
    kept = pack.read_bytes()

    assert again.returncode == 0 and f"place of the one with fingerprint {first}" in again.stdout
    for other in (USING.replace("Harbour", "Quay"), USING.replace('"Ben"', '"Cleo"')):
        script.write_text(other)
        refused = sockscript("pack", script, "-o", pack)
        assert refused.returncode == 2 and pack.read_bytes() == kept
        assert "holds another pattern, 'Harbour Tube' by Ben; it is not" in refused.stderr
    script.write_text(USING.replace("knit 24", "knit 26"))
    assert "takes the place" not in sockscript("pack", script, "-o", pack).stdout


def test_a_folder_of_packs_is_checked(pack):
    shutil.rmtree(pack.parent / "ben")
    done = sockscript("check", str(pack.parent))

    assert done.returncode == 0 and "tube.sockpack/tube.sockscript: no stitch" in done.stdout


# ---- open


def test_open_tells_verifies_and_writes_nothing(pack):
    before = sorted(pack.parent.rglob("*"))
    done = sockscript("open", str(pack))

    assert done.returncode == 0, done.stdout + done.stderr
    for words in ("Harbour Tube\n============\n", "by Ben", "version 4", "licence CC0",
                  "not signed: anybody may have made it", "script/our-toes.sockscript",
                  "Every file is as it was packed, and the fingerprint is right.",
                  "A check made now tells the same", "Nothing was written."):
        assert words in done.stdout, words
    assert sorted(pack.parent.rglob("*")) == before


def test_open_unpacks_into_a_new_folder_only(pack, script, tmp_path):
    folder = tmp_path / "new"
    first = sockscript("open", str(pack), "-o", str(folder))
    second = sockscript("open", str(pack), "-o", str(folder))

    assert first.returncode == 0
    assert (folder / "tube.sockscript").read_text() == USING
    assert (folder / "more" / "ends.sockscript").is_file()
    assert sockscript("check", str(folder / "tube.sockscript")).stdout.splitlines()[1:] \
        == sockscript("check", str(script)).stdout.splitlines()[1:]
    assert second.returncode == 2 and "new folder only" in second.stderr


def test_a_pack_of_a_machine_is_checked_on_it(script, tmp_path):
    mine = tmp_path / "mine.machine"
    mine.write_text('machine "Attic bed"\n    beds 2\n    needles 20\n    pitches half, full\n'
                    "    has circular, hold\n")
    path = tmp_path / "m.sockpack"
    sockscript("pack", str(script), "--machine", str(mine), "-o", str(path))
    done = sockscript("open", str(path))

    assert done.returncode == 1
    assert "too-few-needles" in done.stdout or "needle-off-bed" in done.stdout
    assert "A check made now tells the same" in done.stdout


def test_a_pack_with_another_check_in_it_is_told(pack):
    found = opened(pack)
    record = {**found.record, "check": {**found.record["check"], "combinations": 400}}
    pack.write_bytes(pack_bytes(record, {n: d for n, d in found.members.items()
                                         if n != "pack.json"}))
    done = sockscript("open", str(pack))

    assert done.returncode == 1
    assert "A check made now tells otherwise: how many combinations" in done.stdout


def test_a_pack_with_another_fingerprint_is_told(pack):
    found = opened(pack)
    record = {**found.record, "fingerprint": "3333-4444-7777-9999"}
    pack.write_bytes(pack_bytes(record, {n: d for n, d in found.members.items()
                                         if n != "pack.json"}))
    done = sockscript("open", str(pack))

    assert done.returncode == 1 and "but here the fingerprint is " in done.stdout


def test_a_leaflet_from_somebody_else_is_not_handed_on(pack, tmp_path):
    found = opened(pack)
    evil = b"<html><script>alert(1)</script></html>"
    members = {n: d for n, d in found.members.items() if n != "pack.json"} | {"leaflet.html": evil}
    pack.write_bytes(pack_bytes(found.record, members))
    done = sockscript("open", str(pack), "-o", str(tmp_path / "new"))

    assert "Its leaflet.html is not what this Sockscript makes of the script" in done.stdout
    assert b"alert(1)" not in (tmp_path / "new" / "leaflet.html").read_bytes()


def test_making_a_pack_is_a_function_of_its_script():
    checked = check_file(SOCK, None)
    first = make_pack(checked, {LEAFLETS[0]: b"<p>so"}, None)

    assert first == make_pack(check_file(SOCK, None), {LEAFLETS[0]: b"<p>so"}, None)
    assert re.fullmatch(rb"PK\x03\x04.*", first[:20], re.S)


def test_plain_check_of_a_script_loads_no_archives():
    done = process("check", str(SOCK), PYTHONPROFILEIMPORTTIME="1")

    assert "zipfile" not in done.stderr and "sockscript.text.packed" not in done.stderr
    assert "sockscript.sharing.fingerprint" in done.stderr


@pytest.mark.parametrize(("name", "words"), [
    ("gone.sockpack", "There is no pack gone.sockpack"), ("gone.txt", "gone.txt is not a pack")])
def test_a_pack_that_is_not_there_is_told_from_a_file_that_is_none(name, words, capsys):
    assert open_pack_command(pack=Path(name), out=None) == 2
    assert words in capsys.readouterr().err
