"""Hostile packs: each is refused with a reason, by every way in, and nothing is written."""

from __future__ import annotations

import io
import json
import struct
import warnings
import zipfile
from random import Random

import pytest
from support.command import ROOT, sockscript

from sockscript.commands.check import check_file
from sockscript.sharing.pack import make_pack
from sockscript.text.packed import LARGEST_PACK, NotAPackError, open_pack, pack_bytes
from sockscript.text.source import Problem, read_source

SOCK = ROOT / "examples" / "flat-sock.sockscript"
GOOD = make_pack(check_file(SOCK, None), {"leaflet.html": b"<p>so"}, None)
PACK = open_pack(GOOD)
SCRIPT = "script/flat-sock.sockscript"
MEMBERS = {name: data for name, data in PACK.members.items() if name != "pack.json"}


def archive(members, **changes):
    """An archive of (name, data) pairs; ``changes`` are put on the last one."""
    stream = io.BytesIO()
    with warnings.catch_warnings(), zipfile.ZipFile(stream, "w") as made:
        warnings.simplefilter("ignore")
        pairs = list(members)
        for n, (name, data) in enumerate(pairs):
            one = zipfile.ZipInfo(name, (1980, 1, 1, 0, 0, 0))
            one.create_system, one.external_attr = 0, 0x20
            if n == len(pairs) - 1:
                for key, value in changes.items():
                    setattr(one, key, value)
            made.writestr(one, data)
    return stream.getvalue()


def with_one_more(name, data=b"pattern \"x\"\n", **changes):
    return archive([*PACK.members.items(), (name, data)], **changes)


def recorded(members=MEMBERS, **changes):
    """A pack as it is written, with other members or another record."""
    return pack_bytes({**PACK.record, **changes}, members)


def flagged(bit):
    """A flag in the local header and the directory of the first member."""
    data = bytearray(GOOD)
    directory = data.index(b"PK\1\2")
    for at in (6, directory + 8):
        data[at] |= bit
    return bytes(data)


def renamed_inside(old, new):
    """A member under another name of the same length, everywhere in the archive."""
    assert len(old) == len(new)
    return GOOD.replace(old.encode(), new.encode())


def bomb():
    stream = io.BytesIO()
    with zipfile.ZipFile(stream, "w", zipfile.ZIP_DEFLATED) as made:
        made.writestr("pack.json", b" " * 50_000_000)
    return stream.getvalue()


def lying_size():
    """A directory that tells a member larger than the file is."""
    data = bytearray(GOOD)
    directory = data.index(b"PK\1\2")
    struct.pack_into("<II", data, directory + 20, 2 ** 31, 2 ** 31)
    return bytes(data)


def overlapping():
    """Two entries of the directory that name the same bytes."""
    data = bytearray(GOOD)
    first = data.index(b"PK\1\2")
    second = data.index(b"PK\1\2", first + 4)
    data[second + 42:second + 46] = data[first + 42:first + 46]
    return bytes(data)


HOSTILE = {
    "empty": (b"", "does not begin as one"),
    "text": (b'pattern "x"\n', "does not begin as one"),
    "only-a-start": (b"PK\3\4", "damaged"),
    "broken-off": (GOOD[:len(GOOD) // 2], "damaged"),
    "another-byte": (GOOD.replace(b"<p>so", b"<p>sO"), "damaged"),
    "too-large": (GOOD + b"\0" * LARGEST_PACK, "larger than"),
    "something-before": (b"MZ" + GOOD, "does not begin as one"),
    "something-after": (GOOD + b"#!/bin/sh\n", "more in this file"),
    "a-comment": (GOOD[:-2] + b"\x03\0abc", "more in this file"),
    "another-pack-after": (GOOD + GOOD, "more in this file"),
    "something-between": (with_one_more("leaflet.pdf", b"x", extra=b"\x99\x99\x02\x00ab"),
                          "more in this file"),
    "a-date": (archive(PACK.members.items(), date_time=(2024, 5, 1, 1, 1, 2)),
               "more in this file"),
    "another-order": (archive(reversed(PACK.members.items())), "more in this file"),
    "attributes": (archive(PACK.members.items(), external_attr=0o100777 << 16, create_system=3),
                   "more in this file"),
    "up": (with_one_more("../evil.sockscript"), "leads out of the folder"),
    "up-inside": (with_one_more("script/../../evil.sockscript"), "leads out of the folder"),
    "absolute": (with_one_more("/etc/evil.sockscript"), "outside the folder"),
    "drive": (with_one_more("C:/evil.sockscript"), "outside the folder"),
    "drive-relative": (with_one_more("c:evil.sockscript"), "outside the folder"),
    "backslash": (renamed_inside(SCRIPT, "script\\flat-sock.sockscript"),
                  "leads out of the folder"),
    "stream": (with_one_more("script/a.sockscript:x.sockscript"), "cannot be the name"),
    "device": (with_one_more("script/con.sockscript"), "cannot be the name"),
    "device-folder": (with_one_more("script/nul/a.sockscript"), "cannot be the name"),
    "dot-at-the-end": (with_one_more("script/a./b.sockscript"), "cannot be the name"),
    "empty-part": (with_one_more("script//b.sockscript"), "cannot be the name"),
    "control": (with_one_more("script/a\x1b[2J.sockscript"), "cannot be the name"),
    "direction": (with_one_more("script/a\u202eb.sockscript"), "cannot be the name"),
    "long-name": (with_one_more(f"script/{'a' * 300}.sockscript"), "cannot be the name"),
    "deep": (with_one_more(f"script/{'a/' * 30}b.sockscript"), "cannot be the name"),
    "nul-in-name": (renamed_inside(SCRIPT, "script/flat\0sock.sockscript"), "end inside it"),
    "link": (with_one_more("script/a.sockscript", b"/etc/passwd",
                           external_attr=0o120777 << 16, create_system=3), "is a link"),
    "pipe": (with_one_more("script/a.sockscript", external_attr=0o010644 << 16), "is a link"),
    "folder": (with_one_more("script/a/", b"", external_attr=0o040755 << 16), "is a link"),
    "folder-by-name": (with_one_more("script/a/", b""), "cannot be the name"),
    "doubled": (with_one_more(SCRIPT), "is in the pack twice"),
    "case-twin": (with_one_more("script/Flat-Sock.sockscript"), "one file on some computers"),
    "accent-twin": (archive([*PACK.members.items(), ("script/e\u0301.sockscript", b"x"),
                             ("script/\u00e9.sockscript", b"y")]), "one file on some computers"),
    "compressed": (with_one_more("leaflet.pdf", b"x" * 999, compress_type=zipfile.ZIP_DEFLATED),
                   "is compressed"),
    "bomb": (bomb(), "is compressed"),
    "lying-size": (lying_size(), ""),
    "overlapping": (overlapping(), ""),
    "encrypted": (flagged(1), "locked with a password"),
    "strong-encryption": (flagged(0x41), "locked with a password"),
    "nested": (with_one_more("script/more.sockpack", GOOD), "a pack within the pack"),
    "zip-inside": (with_one_more("script/more.zip", GOOD), "a pack within the pack"),
    "program": (with_one_more("setup.exe", b"MZ"), "does not belong"),
    "hidden": (with_one_more("script/.bashrc", b"rm"), "does not belong"),
    "many": (archive([*PACK.members.items(),
                      *((f"script/{n}.sockscript", b"") for n in range(99))]),
             "more than 60 members"),
    "no-record": (archive(MEMBERS.items()), "no pack.json"),
    "record-no-json": (archive([("pack.json", b"{"), *MEMBERS.items()]), "cannot be read"),
    "record-deep": (archive([("pack.json", b"[" * 100_000), *MEMBERS.items()]), "cannot be read"),
    "record-list": (archive([("pack.json", b"[]"), *MEMBERS.items()]), "of the form"),
    "other-form": (archive([("pack.json", b'{"form": "sockscript-pack-9"}'), *MEMBERS.items()]),
                   "of the form"),
    "no-title": (recorded(title=None), "does not tell all"),
    "title-no-text": (recorded(title=["x"]), "does not tell all"),
    "long-title": (recorded(title="x" * 10_000), "does not tell all"),
    "wrong-mark": (archive([("pack.json", PACK.members["pack.json"].replace(
        b'"sha256": "', b'"sha256": "0', 1)), *MEMBERS.items()]), "was changed after"),
    "changed-member": (archive([("pack.json", PACK.members["pack.json"]),
                                *{**MEMBERS, SCRIPT: MEMBERS[SCRIPT].replace(b"knit", b"tink")
                                  }.items()]), "was changed after"),
    "member-more": (with_one_more("script/z.sockscript"), ""),
    "member-missing": (archive(item for item in PACK.members.items() if item[0] != "leaflet.html"),
                       "'leaflet.html' is missing"),
    "huge-script": (recorded({**MEMBERS, SCRIPT: b"# so\n" * 200_000}), "larger than any script"),
    "other-coding": (recorded({**MEMBERS, SCRIPT: 'pattern "Gr\u00f6\u00dfe"'.encode("latin-1")}),
                     "coding that is not UTF-8"),
    "utf-16": (recorded({**MEMBERS, SCRIPT: 'pattern "x"'.encode("utf-16")}),
               "coding that is not UTF-8"),
    "binary": (recorded({**MEMBERS, SCRIPT: b"pattern\0"}), "is not a text"),
    "script-elsewhere": (recorded(script="../../secret.sockscript"), "is not in it"),
    "script-missing": (recorded(script="other.sockscript"), "is not in it"),
    "machine-missing": (recorded(machine="other.machine"), "is not in it"),
}


@pytest.mark.parametrize("name", HOSTILE)
def test_it_is_refused_with_its_reason(name):
    data, reason = HOSTILE[name]

    with pytest.raises(NotAPackError) as refused:
        open_pack(data)
    assert reason in str(refused.value)
    assert str(refused.value).endswith(".") and refused.value.hint


def test_the_pack_that_they_were_made_from_is_none_of_them():
    assert open_pack(GOOD).script == "flat-sock.sockscript"
    assert archive(PACK.members.items()) == GOOD == recorded()


@pytest.mark.parametrize("name", ["up", "link", "bomb", "doubled", "something-after",
                                  "changed-member", "encrypted", "direction"])
def test_no_command_reads_it_and_nothing_is_written(name, tmp_path):
    path = tmp_path / "a.sockpack"
    path.write_bytes(HOSTILE[name][0])
    opened = sockscript("open", str(path), "-o", str(tmp_path / "new"), cwd=tmp_path)
    steps = sockscript("steps", str(path), cwd=tmp_path)

    for done in (opened, steps):
        assert done.returncode == 2 and "not-a-pack" in done.stderr and done.stdout == ""
        assert "\x1b" not in done.stderr and "\u202e" not in done.stderr
    assert list(tmp_path.iterdir()) == [path]


def test_a_coding_of_names_that_is_not_utf_8_is_refused():
    name = "script/\u00e9.sockscript"
    data = bytearray(archive([*PACK.members.items(), (name, b"x")]))
    spot = data.index(name.encode())
    directory = data.index(name.encode(), spot + 1)
    for at in (spot - 30 + 6, directory - 46 + 8):
        data[at:at + 2] = b"\0\0"

    with pytest.raises(NotAPackError, match="coding that is not UTF-8"):
        open_pack(bytes(data))


def test_any_change_of_a_byte_is_found():
    """No place in a pack can be changed without a word."""
    random = Random(14)
    for _ in range(400):
        at = random.randrange(len(GOOD))
        data = bytearray(GOOD)
        data[at] ^= 1 << random.randrange(8)
        with pytest.raises(NotAPackError):
            open_pack(bytes(data))


def test_rubbish_is_refused_without_a_traceback(tmp_path):
    random = Random(15)
    path = tmp_path / "a.sockpack"
    for _ in range(300):
        data = bytearray(GOOD)
        for _ in range(random.randrange(1, 30)):
            at = random.randrange(len(data))
            data[at:at + random.randrange(9)] = random.randbytes(random.randrange(9))
        path.write_bytes(bytes(data))
        assert isinstance(read_source(path), Problem)


def test_a_pack_that_uses_a_file_outside_reads_none(tmp_path):
    secret = tmp_path / "secret.sockscript"
    secret.write_text("technique ours\n    cut\n")
    for used in (str(secret), "../secret.sockscript", "secret.sockscript", "/secret.sockscript"):
        text = f'use "{used}"\n'.encode() + MEMBERS[SCRIPT]
        path = tmp_path / "a.sockpack"
        path.write_bytes(recorded({**MEMBERS, SCRIPT: text}))
        found = check_file(path, None).problems
        assert [p.kind for p in found] in (["use-outside-folder"], ["unreadable-file"]), used


def test_words_in_a_record_move_no_screen(tmp_path):
    path = tmp_path / "a.sockpack"
    path.write_bytes(recorded(title="\x1b[2Jx\u202e", author="a\nb\r", licence="\x07"))
    done = sockscript("open", str(path))

    assert not set(done.stdout) & set("\x1b\u202e\r\x07")


def test_the_record_is_json_that_others_can_read():
    assert json.loads(PACK.members["pack.json"])["form"] == "sockscript-pack-1"
