"""Whose pack it is: told as far as it is known, and no further."""

from __future__ import annotations

import base64
import json
import re
import shutil
import stat

import pytest
from cryptography.hazmat.primitives.asymmetric.ed25519 import Ed25519PublicKey
from support.command import sockscript
from support.schemas import follows_schema

from sockscript.sharing.signing import FORM, keys_folder
from sockscript.text.packed import SIGNATURE, open_pack, pack_bytes, signed_bytes

SOCK = "square.sockscript"
SQUARE = """pattern "Square"
author "Ada"
version 1
licence "CC0"
yarn main "any yarn"
section "Square"
    bring centre 20 of front into work
    set front to knit
    thread main
    cast on front
    knit 5 rows
    bind off front
    cut
"""


@pytest.fixture(scope="module")
def of_ada(tmp_path_factory):
    """A folder with a pack that Ada has signed, and her keys."""
    folder = tmp_path_factory.mktemp("ada")
    (folder / SOCK).write_text(SQUARE)
    assert sockscript("pack", SOCK, "--sign", "-o", "a.sockpack", cwd=folder,
                      SOCKSCRIPT_KEYS=str(folder / "ada")).returncode == 0
    return folder


@pytest.fixture
def club(tmp_path, of_ada):
    """Commands as one of the members gives them."""
    def command(who, *words):
        return sockscript(*words, cwd=tmp_path, SOCKSCRIPT_KEYS=str(tmp_path / who))
    shutil.copytree(of_ada, tmp_path, dirs_exist_ok=True)
    command.folder = tmp_path
    return command


def signed(done):
    return re.search(r"^  ((?:not )?signed.*)$", done.stdout, re.M)[1]


def test_a_key_is_unknown_until_it_is_kept_under_a_name(club):
    mark = re.search(r"your key is (\S+)\.", club("ada", "key").stdout)[1]

    assert signed(club("ben", "open", "a.sockpack")) \
        == f"signed by a key that you have not seen: {mark}"
    assert signed(club("ben", "open", "a.sockpack", "--know", "Ada")).endswith(
        "from now on you know it as Ada")
    assert signed(club("ben", "open", "a.sockpack")) == "signed by the key that you know as Ada"
    assert signed(club("eve", "open", "a.sockpack")).startswith("signed by a key that you have not")
    assert f"You know {mark} as Ada." in club("ben", "key").stdout


def test_every_command_that_reads_a_pack_tells_whose_it_is(club):
    assert "  Signed by a key that you have not seen\n" in club("ben", "check", "a.sockpack").stdout
    club("ben", "open", "a.sockpack", "--know", "Ada")
    assert club("ben", "check", "a.sockpack").stdout.endswith(
        "\n  Signed by the key that you know as Ada\n")
    assert club("ben", "sizes", "a.sockpack").stderr == \
        "a.sockpack is signed by the key that you know as Ada.\n"
    assert "a.sockpack is signed by" in club("ben", "compare", SOCK, "a.sockpack").stderr


def test_another_key_does_not_take_a_name_that_is_known(club):
    club("ben", "open", "a.sockpack", "--know", "Ada")
    club("eve", "pack", SOCK, "--sign", "-o", "e.sockpack")
    done = club("ben", "open", "e.sockpack", "--know", "Ada")

    assert signed(done).endswith("the one that you know as Ada is another, and stays")
    assert signed(club("ben", "open", "a.sockpack")) == "signed by the key that you know as Ada"
    assert signed(club("ben", "open", "e.sockpack")).startswith("signed by a key that you have not")


def test_a_signature_is_right_by_the_standard_library_of_others(club):
    """Ed25519, RFC 8032: by any library that has it, from what the pack holds."""
    pack = open_pack((club.folder / "a.sockpack").read_bytes())
    told = json.loads(pack.members[SIGNATURE])
    follows_schema(told, "sharing/signature")
    key = Ed25519PublicKey.from_public_bytes(base64.b64decode(told["key"]))

    key.verify(base64.b64decode(told["signature"]),
               FORM.encode() + b"\n" + pack.members["pack.json"])


@pytest.mark.parametrize("change", [
    {"signature": base64.b64encode(bytes(64)).decode()},
    {"key": base64.b64encode(bytes(32)).decode()},
    {"signature": "x"}, {"key": ""}, {"form": "other"}, {"key": 7}, {"signature": None}])
def test_a_signature_that_is_not_right_is_refused(club, change):
    path = club.folder / "a.sockpack"
    pack = open_pack(path.read_bytes())
    told = {**json.loads(pack.members[SIGNATURE]), **change}
    path.write_bytes(signed_bytes(pack, json.dumps(told).encode()))
    done = club("ben", "open", "a.sockpack", "-o", "new")

    assert done.returncode == 2 and "signature is not of this pack" in re.sub(r"\s+", " ",
                                                                            done.stderr)
    assert not (club.folder / "new").exists()
    if "signature" in change:
        done = club("ben", "check", "a.sockpack")
        assert done.returncode == 2 and "signature is not of this" in done.stdout


def test_a_signature_of_another_pack_is_refused(club):
    path = club.folder / "a.sockpack"
    pack = open_pack(path.read_bytes())
    other = open_pack(pack_bytes({**pack.record, "author": "Eve"}, {
        name: data for name, data in pack.members.items() if name not in ("pack.json", SIGNATURE)}))
    path.write_bytes(signed_bytes(other, pack.members[SIGNATURE]))

    assert club("ben", "open", "a.sockpack").returncode == 2


def test_a_key_is_for_its_member_only_and_never_in_a_pack(club):
    path = club.folder / "ada" / "my-key.pem"
    before = path.read_bytes()
    club("ada", "pack", SOCK, "--sign", "-o", "b.sockpack")

    assert stat.S_IMODE(path.stat().st_mode) == 0o600
    assert path.read_bytes() == before
    assert (club.folder / "b.sockpack").read_bytes() == (club.folder / "a.sockpack").read_bytes()
    assert before.split(b"\n")[1] not in (club.folder / "a.sockpack").read_bytes()


def test_a_spoiled_key_is_told(club):
    (club.folder / "ada" / "my-key.pem").write_text("so")
    done = club("ada", "pack", SOCK, "--sign", "-o", "c.sockpack")

    assert done.returncode == 2 and "Your key cannot be used" in done.stderr
    assert not (club.folder / "c.sockpack").exists()


def test_no_signature_is_said_plainly(club):
    club("ada", "pack", SOCK, "-o", "plain.sockpack")

    assert signed(club("ben", "open", "plain.sockpack")) == "not signed: anybody may have made it"
    assert "no key is kept as Ada" in signed(club("ben", "open", "plain.sockpack", "--know", "Ada"))


@pytest.mark.parametrize("platform, environment, end", [
    ("linux", {"XDG_CONFIG_HOME": "/home/x/.conf"}, "/home/x/.conf/sockscript"),
    ("linux", {"XDG_CONFIG_HOME": "relative"}, ".config/sockscript"),
    ("win32", {"APPDATA": "/appdata"}, "/appdata/sockscript"),
    ("darwin", {}, "Application Support/sockscript"),
    ("linux", {"SOCKSCRIPT_KEYS": "/stick/keys"}, "/stick/keys")])
def test_keys_are_kept_where_settings_are(platform, environment, end):
    assert keys_folder(environment, platform).as_posix().endswith(end)
