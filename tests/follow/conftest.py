"""A real browser, and pages written by the command."""

from __future__ import annotations

import os
import shutil
from pathlib import Path

import pytest

from follow.pages import LATER, ready, single_rows, write

CHROMIUM = shutil.which("chromium") or shutil.which("chromium-browser")
ARGUMENTS = ["--no-sandbox", "--disable-gpu", "--no-first-run", "--disable-sync",
             "--disable-background-networking", "--disable-component-update"]


def pytest_collection_modifyitems(items):
    """A test in the browser may be tried three times: on a busy machine Chromium now and then
    hands a page an empty store (seen without any page of ours), which no test can tell apart."""
    for item in items:
        if "follow" in item.path.parts and {"sock", "rows", "context"} & set(item.fixturenames):
            item.add_marker(pytest.mark.flaky(reruns=2))


@pytest.fixture(scope="session")
def browser():
    """Debian's chromium without a window."""
    if CHROMIUM is None:
        pytest.skip("no chromium on this machine (apt-get install chromium)")
    from playwright.sync_api import sync_playwright

    with sync_playwright() as playwright:
        one = playwright.chromium.launch(executable_path=CHROMIUM, args=ARGUMENTS)
        yield one
        one.close()


@pytest.fixture
def context(browser):
    """A browser that has kept nothing yet."""
    one = browser.new_context(viewport={"width": 1024, "height": 768})
    one.set_default_timeout(5_000)
    one.add_init_script(LATER)
    yield one
    one.close()


@pytest.fixture(scope="session")
def sock_page(tmp_path_factory, examples) -> Path:
    """The page of the largest size of the family sock."""
    folder = tmp_path_factory.mktemp("pages")
    return write(examples / "family-sock.sockscript", folder / "sock.html", "Man-L")


@pytest.fixture
def sock(context, sock_page):
    """That page, open, where every mistake in its script fails the test."""
    page = context.new_page()
    mistakes: list[str] = []
    page.on("pageerror", lambda error: mistakes.append(str(error)))
    page.on("console", lambda message: mistakes.append(message.text))
    page.goto(sock_page.as_uri())
    ready(page)
    yield page
    assert not mistakes


@pytest.fixture
def rows(sock):
    """That page, counting single rows."""
    single_rows(sock)
    return sock


@pytest.fixture(scope="session")
def axe() -> str:
    """The text of axe-core, which .ci/run installs from npm and names in AXE_CORE."""
    path = os.environ.get("AXE_CORE")
    if not path:
        pytest.skip("AXE_CORE does not name axe.min.js (npm install axe-core)")
    return Path(path).read_text("utf-8")
