"""Shared by all tests: where the examples are, a browser, and what scans a page."""

from __future__ import annotations

import os
import shutil
from pathlib import Path

import pytest

# Tests of what is said are for the widest page, whatever terminal they are started from.
os.environ["COLUMNS"] = "88"

ROOT = Path(__file__).resolve().parent.parent
CHROMIUM = next(filter(None, map(shutil.which, (
    "chromium-headless-shell", "chromium", "chromium-browser"))), None)
"""The one without windows first: it takes less than half of the processor's time for a page."""
ARGUMENTS = ["--no-sandbox", "--disable-gpu", "--no-first-run", "--disable-sync",
             "--disable-background-networking", "--disable-component-update"]


@pytest.fixture(scope="session")
def examples() -> Path:
    """The folder of example scripts."""
    return ROOT / "examples"


@pytest.fixture(scope="session")
def browser():
    """Debian's chromium without a window."""
    if CHROMIUM is None:
        pytest.skip("no chromium on this machine (apt-get install chromium-headless-shell)")
    from playwright.sync_api import sync_playwright

    with sync_playwright() as playwright:
        one = playwright.chromium.launch(executable_path=CHROMIUM, args=ARGUMENTS)
        yield one
        one.close()


@pytest.fixture(scope="session")
def axe() -> str:
    """The text of axe-core, which .ci/run installs from npm and names in AXE_CORE."""
    path = os.environ.get("AXE_CORE")
    if not path:
        pytest.skip("AXE_CORE does not name axe.min.js (npm install axe-core)")
    return Path(path).read_text("utf-8")


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
