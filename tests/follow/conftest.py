"""Pages written by the command, open in a browser."""

from __future__ import annotations

from pathlib import Path

import pytest

from follow.pages import LATER, ready, single_rows, write


def pytest_collection_modifyitems(items):
    """A test in the browser may be tried three times: on a busy machine Chromium now and then
    hands a page an empty store (seen without any page of ours), which no test can tell apart."""
    for item in items:
        if "follow" in item.path.parts and {"sock", "rows", "context"} & set(item.fixturenames):
            item.add_marker(pytest.mark.flaky(reruns=2))


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


@pytest.fixture(scope="session")
def small_page(tmp_path_factory, examples) -> Path:
    """The page of the smallest size, which has as many steps and half of the rows."""
    folder = tmp_path_factory.mktemp("small")
    return write(examples / "family-sock.sockscript", folder / "sock.html", "Toddler")


@pytest.fixture
def sock(context, sock_page):
    """The page of the largest size, open, where every mistake in its script fails the test."""
    yield from opened(context, sock_page)


@pytest.fixture
def small_sock(context, small_page):
    """That of the smallest size."""
    yield from opened(context, small_page)


def opened(context, file: Path):
    page = context.new_page()
    mistakes: list[str] = []
    page.on("pageerror", lambda error: mistakes.append(str(error)))
    page.on("console", lambda message: mistakes.append(message.text))
    page.goto(file.as_uri())
    ready(page)
    yield page
    assert not mistakes


@pytest.fixture
def rows(sock):
    """That page, counting single rows."""
    single_rows(sock)
    return sock
