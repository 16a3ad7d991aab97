"""A folder of patterns, and the place of a member's own for its index."""

from __future__ import annotations

import pytest
from support.club import Club
from support.made_patterns import make_patterns


@pytest.fixture(scope="session")
def shelf(tmp_path_factory):
    """Twelve made patterns that nobody changes, and their index."""
    base = tmp_path_factory.mktemp("shelf")
    make_patterns(base / "club", 12)
    return Club(base / "club", base / "cache")


@pytest.fixture
def club(tmp_path):
    """An empty folder."""
    (tmp_path / "club").mkdir()
    return Club(tmp_path / "club", tmp_path / "cache")
