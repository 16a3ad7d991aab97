"""The index of a catalogue: kept with the member, only what changed is read, never lost."""

from __future__ import annotations

import os
import shutil
import subprocess
import sys
import time
from pathlib import Path

import pytest
from support.made_patterns import made_pattern, make_small_patterns, small_pattern

from sockscript.catalogue import place
from sockscript.catalogue.index import Index
from sockscript.catalogue.update import changes


def read_next(club) -> list[str]:
    """The files that the next call would read."""
    index = Index(club.index)
    try:
        return [path.decode() for path in
                changes(os.fsencode(os.path.realpath(club.folder)), index.known()).read]
    finally:
        index.close()


def settle(club) -> None:
    """Make all files older than what may still be changed in the same tick."""
    long_ago = time.time() - 100
    for path in club.folder.rglob("*.sockscript"):
        os.utime(path, (long_ago, long_ago))


@pytest.fixture
def three(club):
    """Three patterns, indexed a while after they were written."""
    for number in (1, 2, 3):
        (club.folder / f"{number}.sockscript").write_text(small_pattern(number), "utf-8")
    settle(club)
    club.call()
    return club


def test_only_what_changed_is_read(three):
    folder = three.folder

    assert read_next(three) == []
    (folder / "2.sockscript").write_text(small_pattern(2).replace("version", "version 9 #", 1))
    (folder / "4.sockscript").write_text(small_pattern(4), "utf-8")
    assert read_next(three) == ["2.sockscript", "4.sockscript"]
    assert three.data()["found"] == 4
    assert [entry["version"] for entry in three.data()["entries"]
            if entry["path"] == "2.sockscript"] == ["9"]


def test_a_new_time_alone_is_no_change(three):
    path = three.folder / "2.sockscript"
    path.touch()

    assert read_next(three) == []
    three.call()
    settle(three)
    three.call()
    assert read_next(three) == []


def test_a_change_that_keeps_size_and_time_is_seen_soon_after(club):
    """As git's index has it ("racy git"): a file written in the same tick may change unseen, so
    what was just written is looked at again."""
    path = club.folder / "1.sockscript"
    text = small_pattern(1)
    path.write_text(text, "utf-8")
    just_now = time.time() + 5
    os.utime(path, (just_now, just_now))
    club.call()
    path.write_text(text.replace("author", "AUTHOR"), "utf-8")
    os.utime(path, (just_now, just_now))

    assert path.read_text("utf-8") != text and path.stat().st_size == len(text.encode())
    assert read_next(club) == ["1.sockscript"]


def test_a_script_is_read_again_when_a_file_that_it_uses_changes(club):
    script = made_pattern(0).replace("\nmachine\n", '\nuse "ours.sockscript"\nmachine\n', 1)
    (club.folder / "a.sockscript").write_text(script, "utf-8")
    ours = club.folder / "ours.sockscript"
    before = {entry["path"]: entry["status"] for entry in club.data()["entries"]}
    ours.write_text('use "inner.sockscript"\ntechnique our-end\n    cut\n', "utf-8")
    (club.folder / "inner.sockscript").write_text("technique inner\n    cut\n", "utf-8")
    after = {entry["path"]: entry["status"] for entry in club.data()["entries"]}
    settle(club)
    club.call()
    (club.folder / "inner.sockscript").write_text("technique inner\n    kut\n", "utf-8")
    broken = {entry["path"]: entry["status"] for entry in club.data()["entries"]}

    assert (before["a.sockscript"], after["a.sockscript"]) == ("unusable", "clean")
    assert broken["a.sockscript"] == "unusable"


def test_what_is_gone_is_forgotten(three):
    (three.folder / "1.sockscript").unlink()
    shutil.move(three.folder / "2.sockscript", three.folder / "5.sockscript")

    assert three.paths() == ["3.sockscript", "5.sockscript"]


def test_nothing_is_written_into_the_folder(three):
    assert sorted(path.name for path in three.folder.rglob("*")) == [
        "1.sockscript", "2.sockscript", "3.sockscript"]
    assert three.index.stat().st_mode & 0o077 == 0 or os.name == "nt" or \
        three.index.parent.stat().st_mode & 0o077 == 0


def _garbage(file: Path) -> None:
    file.write_bytes(b"this is no database " * 500)


def _empty(file: Path) -> None:
    file.write_bytes(b"")


def _cut(file: Path) -> None:
    file.write_bytes(file.read_bytes()[:file.stat().st_size // 2])


def _holes(file: Path) -> None:
    data = bytearray(file.read_bytes())
    for start in range(4096, len(data), 8192):
        data[start:start + 4096] = b"\xff" * len(data[start:start + 4096])
    file.write_bytes(bytes(data))


def _sql(*statements: str):
    def harm(file: Path) -> None:
        import sqlite3

        db = sqlite3.connect(file)
        for statement in statements:
            db.execute(statement)
        db.commit()
        db.close()
    return harm


@pytest.mark.parametrize("harm", [
    _garbage, _empty, _cut, _holes, _sql("DROP TABLE sizes"), _sql("DROP TABLE words"),
    _sql("UPDATE form SET form = 'another'"), _sql("DROP TABLE form"),
    _sql("UPDATE files SET data = '{'"), _sql("UPDATE files SET data = '[]'"),
    _sql("UPDATE files SET used = 'x'"), _sql("ALTER TABLE files RENAME COLUMN mark TO x"),
], ids=["garbage", "empty", "cut", "holes", "no sizes", "no words", "another form", "no form",
        "half data", "other data", "used", "no column"])
def test_a_broken_index_is_made_anew(three, harm):
    everything = three.data("--foot", "25cm")
    three.call()
    harm(three.index)
    for ending in ("-wal", "-shm"):
        three.index.with_name(three.index.name + ending).unlink(missing_ok=True)

    assert three.data("--foot", "25cm") == everything
    assert three.data("--foot", "25cm") == everything
    assert three.call("--foot", "25cm").stderr == ""


@pytest.mark.parametrize("cache", ["/dev/null", "file"])
def test_without_a_place_for_it_the_catalogue_still_works(three, tmp_path, cache):
    if cache == "file":
        cache = str(tmp_path / "file")
        Path(cache).write_text("", "utf-8")
    three.cache = Path(cache)
    done = three.call()

    assert "cannot be kept" in done.stderr and "3 files" in done.stdout


def test_several_processes_at_once_lose_nothing(club):
    """Three fill the same index while a fourth adds and takes away files."""
    make_small_patterns(club.folder, 40)
    environment = {**os.environ, "XDG_CACHE_HOME": str(club.cache)}
    command = [sys.executable, "-m", "sockscript", "catalogue", str(club.folder), "--format",
               "json"]
    running = [subprocess.Popen(command, env=environment, cwd=club.folder.parent,
                                stdout=subprocess.PIPE, stderr=subprocess.PIPE, text=True)
               for _ in range(3)]
    for number in range(40, 50):
        (club.folder / f"late-{number}.sockscript").write_text(small_pattern(number), "utf-8")
        (club.folder / "shelf-0" / f"pattern-{number - 20}.sockscript").unlink()
        time.sleep(0.1)
    for one in running:
        _, errors = one.communicate(timeout=240)
        assert one.returncode == 0 and errors == ""
    data = club.data()

    assert data["files"] == data["found"] == 40
    assert "unusable" not in {entry["status"] for entry in data["entries"]}
    here = {str(path.relative_to(club.folder)) for path in club.folder.rglob("*.sockscript")}
    assert {entry["path"] for entry in data["entries"]} == here


def test_what_was_read_stays_when_it_is_stopped(club):
    make_small_patterns(club.folder, 300)
    environment = {**os.environ, "XDG_CACHE_HOME": str(club.cache)}
    running = subprocess.Popen([sys.executable, "-m", "sockscript", "catalogue", str(club.folder)],
                               env=environment, cwd=club.folder.parent, stdout=subprocess.DEVNULL,
                               stderr=subprocess.PIPE, text=True, start_new_session=True)
    until = time.monotonic() + 120
    kept = 0
    while not kept and time.monotonic() < until and running.poll() is None:
        time.sleep(0.2)
        for file in club.cache.rglob("*.sqlite"):
            index = Index(file)
            kept = len(index.known())
            index.close()
    os.killpg(running.pid, 2)
    _, errors = running.communicate(timeout=60)

    assert kept and "Traceback" not in errors
    assert len(read_next(club)) <= 300 - kept
    assert club.data()["found"] == 300


@pytest.mark.skipif(not Path("/proc/self/environ").exists(), reason="looks at /proc")
def test_no_process_stays_behind_when_the_first_is_killed(club):
    make_small_patterns(club.folder, 600)
    mark = f"CLUB_TEST={club.folder}"
    running = subprocess.Popen([sys.executable, "-m", "sockscript", "catalogue", str(club.folder)],
                               env={**os.environ, "XDG_CACHE_HOME": str(club.cache),
                                    "CLUB_TEST": str(club.folder)}, cwd=club.folder.parent,
                               stdout=subprocess.DEVNULL, stderr=subprocess.DEVNULL)

    def there() -> int:
        count = 0
        for path in Path("/proc").glob("[0-9]*/environ"):
            try:
                count += mark.encode() in path.read_bytes().split(b"\0")
            except OSError:
                continue
        return count

    until = time.monotonic() + 60
    while there() < 3 and running.poll() is None and time.monotonic() < until:
        time.sleep(0.05)
    assert there() >= 3
    running.kill()
    running.wait(30)
    while there() and time.monotonic() < until:
        time.sleep(0.1)
    assert there() == 0


@pytest.mark.parametrize("platform, environment, end", [
    ("win32", {"LOCALAPPDATA": "/local"}, "/local/sockscript/Cache"),
    ("darwin", {}, "/Library/Caches/sockscript"),
    ("linux", {"XDG_CACHE_HOME": "/caches"}, "/caches/sockscript"),
    ("linux", {"XDG_CACHE_HOME": "relative"}, "/.cache/sockscript"),
    ("linux", {}, "/.cache/sockscript"),
])
def test_the_usual_place(platform, environment, end):
    """XDG Base Directory Specification 0.8; for Windows and macOS the folders that their makers'
    guides name for caches (from memory)."""
    assert place.cache_folder(environment, platform).as_posix().endswith(end)
