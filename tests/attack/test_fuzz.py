"""A short run of the attack on whole commands; DEVELOPERS.md has the long one."""

from __future__ import annotations

import signal

import pytest

from attack import fuzz

FIRST = 1_000_000
"""Scripts that the long run does not try."""
SLOW = ("picture", "sheet", "range", "numbers", "fit", "follow")


@pytest.mark.parametrize("command, count", [
    ("check", 50), *((one, 3 if one in SLOW else 8) for one in fuzz.OTHERS)])
def test_spoiled_scripts_bring_no_command_down(command, count, tmp_path, monkeypatch):
    monkeypatch.chdir(tmp_path)
    monkeypatch.setattr(fuzz.range_command, "MOST_COMBINATIONS", fuzz.MOST_RANGES)
    for name, place in fuzz.own_places(tmp_path).items():
        monkeypatch.setenv(name, place)
    before = signal.signal(signal.SIGALRM, fuzz._stop)
    try:
        fell = [fuzz.attacked(command, n, tmp_path) for n in range(FIRST, FIRST + count)]
    finally:
        signal.signal(signal.SIGALRM, before)

    assert not [why for why in fell if why]
