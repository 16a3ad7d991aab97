"""Where profiles are looked for, and the machine that a member usually means."""

from __future__ import annotations

import json
import os
from pathlib import Path

import pytest
from platformdirs.macos import MacOS
from platformdirs.unix import Unix

from sockscript.commands import check
from sockscript.machine.load import load_profile
from sockscript.machine.places import keep_usual, own_folder, usual_machine
from sockscript.machine.profile import Profile

PROFILE = 'machine "{}"\n    beds 2\n    needles 100\n'


@pytest.fixture
def folders(tmp_path, monkeypatch):
    """Three folders: the script's, the current one, and that of the member's own settings."""
    made = [tmp_path / name for name in ("script", "current", "settings/sockscript")]
    for folder in made:
        folder.mkdir(parents=True)
    monkeypatch.setenv("XDG_CONFIG_HOME", str(tmp_path / "settings"))
    monkeypatch.chdir(made[1])
    return made


def named(asked, beside):
    """The name in the profile that is found, or what is said instead."""
    found = load_profile(asked, beside)
    return found.name if isinstance(found, Profile) else found[0].kind


def test_beside_the_script_then_here_then_ones_own_then_the_shipped_ones(folders):
    for folder in folders:
        (folder / "harbour-45.machine").write_text(PROFILE.format(folder.name))
    found = []
    for folder in folders:
        found.append(named("harbour-45", folders[0]))
        (folder / "harbour-45.machine").unlink()

    assert found == ["script", "current", "sockscript"]
    assert named("harbour-45", folders[0]) == "Harbour 4.5 mm double bed"


def test_a_name_may_have_its_ending(folders):
    (folders[2] / "mine.machine").write_text(PROFILE.format("Mine"))

    assert named("mine.machine", folders[0]) == named("mine", None) == "Mine"
    assert named("./mine.machine", None) == "unreadable-file"
    assert named("../mine", None) == named("", None) == "unknown-machine"


def test_whoever_is_not_found_is_told_where_was_looked(folders):
    (folders[0] / "kitchen.machine").write_text(PROFILE.format("Kitchen"))
    found = load_profile("kitchn", folders[0])

    assert isinstance(found, tuple)
    assert "Did you mean 'kitchen'" in found[0].hint
    assert str(folders[2]) in found[0].hint


def test_the_usual_machine_is_remembered_and_forgotten(folders):
    assert usual_machine() is None
    keep_usual("harbour-45")
    assert usual_machine() == "harbour-45"
    keep_usual(None)
    keep_usual(None)
    assert usual_machine() is None


def test_a_damaged_note_of_the_usual_machine_means_none(folders):
    keep_usual("x").write_bytes(b"\xff\xfe\x00")

    assert usual_machine() is None


@pytest.mark.parametrize("given", [None, "relative/path"])
def test_ones_own_folder_is_the_platforms(given, monkeypatch):
    """Compared with platformdirs, a general library for such folders."""
    monkeypatch.delenv("XDG_CONFIG_HOME", raising=False)
    environ = {} if given is None else {"XDG_CONFIG_HOME": given}

    assert str(own_folder("linux", environ)) == Unix("sockscript").user_config_dir
    assert str(own_folder("darwin", environ)) == MacOS("sockscript").user_config_dir


def test_the_folder_that_the_user_has_named(monkeypatch):
    monkeypatch.setenv("XDG_CONFIG_HOME", "/somewhere/else")

    assert str(own_folder("linux")) == Unix("sockscript").user_config_dir
    assert str(own_folder("linux")) == "/somewhere/else/sockscript"


def test_on_windows_it_is_the_roaming_folder():
    """Microsoft, known folders: FOLDERID_RoamingAppData is %APPDATA%."""
    environ = {"APPDATA": "C:\\Users\\Ada\\AppData\\Roaming"}

    assert str(own_folder("win32", environ)).replace(os.sep, "\\") == (
        "C:\\Users\\Ada\\AppData\\Roaming\\sockscript")


def test_other_programs_are_told_which_machine_was_assumed(folders, capsys):
    script = Path(__file__).resolve().parents[2] / "examples" / "flat-sock.sockscript"
    keep_usual("harbour-45")
    told = []
    for named in (None, "fell-90", "any"):
        check.run(files=[script], machine=named, format="json")
        told.append(json.loads(capsys.readouterr().out)["files"][0]["machine"])
        check.run(files=[script], machine=named, format="sarif")
        (kept,) = json.loads(capsys.readouterr().out)["runs"][0]["properties"]["machines"]
        assert kept["machine"] == told[-1]

    assert told == [{"name": "harbour-45", "usual": True}, {"name": "fell-90", "usual": False},
                    None]
