"""A folder of patterns, and the place of a member's own for its index."""

from __future__ import annotations

import json
from typing import Any

import pytest
from support.command import here as sockscript
from support.made_patterns import make_patterns


class Club:
    """A folder, and the command that lists it."""

    def __init__(self, folder, cache):
        self.folder = folder
        self.cache = cache

    def call(self, *words, **environment):
        """Run the command."""
        done = sockscript("catalogue", str(self.folder), *words, cwd=self.folder.parent,
                          XDG_CACHE_HOME=str(self.cache), **environment)
        assert "Traceback" not in done.stderr and done.returncode in (0, 1), done.stderr
        return done

    def data(self, *words) -> dict[str, Any]:
        """What it tells as JSON."""
        return json.loads(self.call(*words, "--format", "json").stdout)

    def paths(self, *words) -> list[str]:
        """The files that it finds."""
        return sorted(entry["path"] for entry in self.data(*words)["entries"])

    @property
    def index(self):
        """The file of the index."""
        (file,) = self.cache.rglob("*.sqlite")
        return file


@pytest.fixture(scope="session")
def shelf(tmp_path_factory):
    """Twenty-four made patterns that nobody changes, and their index."""
    base = tmp_path_factory.mktemp("shelf")
    make_patterns(base / "club", 24)
    return Club(base / "club", base / "cache")


@pytest.fixture
def club(tmp_path):
    """An empty folder."""
    (tmp_path / "club").mkdir()
    return Club(tmp_path / "club", tmp_path / "cache")
