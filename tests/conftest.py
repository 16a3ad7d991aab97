"""Shared by all tests: where the examples are, and which package is tested."""

from __future__ import annotations

import os
from pathlib import Path

import pytest

ROOT = Path(__file__).resolve().parent.parent


@pytest.fixture(scope="session")
def examples() -> Path:
    """The folder of example scripts."""
    return ROOT / "examples"


@pytest.fixture(autouse=True, scope="session")
def no_usual_machine(tmp_path_factory):
    """What the person who runs the tests keeps in her own folder changes nothing."""
    before = os.environ.get("XDG_CONFIG_HOME")
    os.environ["XDG_CONFIG_HOME"] = str(tmp_path_factory.mktemp("own"))
    yield
    if before is None:
        del os.environ["XDG_CONFIG_HOME"]
    else:
        os.environ["XDG_CONFIG_HOME"] = before
