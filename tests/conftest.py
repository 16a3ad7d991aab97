"""Shared by all tests: where the examples are, and which package is tested."""

from __future__ import annotations

from pathlib import Path

import pytest

ROOT = Path(__file__).resolve().parent.parent


@pytest.fixture(scope="session")
def examples() -> Path:
    """The folder of example scripts."""
    return ROOT / "examples"
