"""A short run of the attack on whole commands; DEVELOPERS.md has the long one."""

from __future__ import annotations

import signal

import pytest

from attack import fuzz

FIRST = 1_000_000
"""Scripts that the long run does not try."""
COUNTS = {"check": 25, "format": 10, "swatch": 10, "new": 10, "open": 10}


@pytest.fixture(scope="module", autouse=True)
def quickly():
    with pytest.MonkeyPatch.context() as patch:
        fuzz.once_only(patch.setattr)
        yield


@pytest.mark.parametrize("command", ["check", *fuzz.OTHERS])
def test_spoiled_scripts_bring_no_command_down(command, tmp_path, monkeypatch):
    monkeypatch.chdir(tmp_path)
    for name, place in fuzz.own_places(tmp_path).items():
        monkeypatch.setenv(name, place)
    before = signal.signal(signal.SIGALRM, fuzz._stop)
    count = COUNTS.get(command, 3)
    try:
        fell = [fuzz.attacked(command, n, tmp_path) for n in range(FIRST, FIRST + count)]
    finally:
        signal.signal(signal.SIGALRM, before)

    assert not [why for why in fell if why]
