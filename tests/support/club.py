"""A folder of patterns with an index of its own, and the command that lists it."""

from __future__ import annotations

import json
from typing import Any

from support.command import sockscript


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
