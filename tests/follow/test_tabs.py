"""Two tabs of one sock have one place: the newest."""

from __future__ import annotations

import pytest

from follow.pages import go_to, load, message, open_window, press, reload, shown, write


@pytest.fixture
def other(context, sock, sock_page):
    """A second tab of the same sock."""
    page = context.new_page()
    load(page, sock_page.as_uri())
    return page


def moved(page) -> str:
    """What the page asks about the place of another tab; waits for the question."""
    page.locator("#moved").wait_for()
    return page.locator("#moved-words").inner_text()


def stands_at(page, counter: str) -> None:
    page.locator("#counter", has_text=counter).wait_for()
    assert shown(page)["counter"] == counter


def test_the_older_tab_follows_the_newer(sock, other):
    go_to(other, "15", 30)
    stands_at(sock, "29")
    assert "knitted on in another tab, up to Leg, step 15, row counter 29." in message(sock)
    sock.locator("#one").click()
    stands_at(other, "30")
    reload(other)

    assert shown(other)["counter"] == "30"


def test_a_step_backwards_in_another_tab_is_asked_about(sock, other):
    go_to(other, "15", 30)
    stands_at(sock, "29")
    go_to(other, "8", 5)
    assert moved(sock) == (
        "In another tab this sock was taken back to Cuff, step 8, row counter 4. Here it stands at "
        "Leg, step 15, row counter 29. Which is right?")
    press(sock, "PageDown")
    assert shown(sock)["counter"] == "29"   # no row is counted before it is answered
    sock.get_by_role("button", name="Go back to there").click()
    stands_at(sock, "4")
    sock.evaluate("later()")
    sock.locator("#one").click()
    stands_at(other, "5")


@pytest.mark.parametrize("answer", ["button", "Escape"])
def test_who_stays_takes_the_other_tab_along(sock, other, answer):
    go_to(other, "15", 30)
    stands_at(sock, "29")
    go_to(other, "8", 5)
    moved(sock)
    if answer == "Escape":
        sock.keyboard.press("Escape")
    else:
        sock.locator("#moved").get_by_role("button", name="Stay here").click()

    stands_at(other, "29")
    reload(other)
    assert shown(other)["counter"] == "29"


def test_a_tab_that_was_not_told_looks_before_it_counts(context, sock, sock_page):
    """As a tab that the browser had put to sleep."""
    asleep = context.new_page()
    asleep.add_init_script("addEventListener('storage', (one) => one.stopImmediatePropagation());")
    load(asleep, sock_page.as_uri())
    go_to(sock, "15", 30)
    asleep.wait_for_timeout(300)
    assert shown(asleep)["where"] == "Cuff, step 1"
    press(asleep, "PageDown")

    assert shown(asleep)["counter"] == "29"
    assert "in another tab" in message(asleep)
    asleep.evaluate("later()")
    asleep.locator("#one").click()
    assert shown(asleep)["counter"] == "30"


def test_a_tab_of_another_sock_stays_where_it_is(sock, other):
    open_window(other, "socks")
    other.locator("#sock-name").fill("Second sock")
    other.get_by_role("button", name="Start", exact=True).click()
    go_to(other, "15", 30)
    sock.wait_for_timeout(300)

    assert shown(sock)["where"] == "Cuff, step 1"
    assert message(sock) == ""


def test_a_page_of_a_changed_pattern_is_told_apart(context, sock, examples, tmp_path):
    script = tmp_path / "changed.sockscript"
    text = (examples / "family-sock.sockscript").read_text("utf-8")
    script.write_text(text.replace('section "Cuff" in rib\n',
                                   'section "Cuff" in rib\n    step "Wash your hands."\n'), "utf-8")
    page = context.new_page()
    load(page, write(script, tmp_path / "changed.html", "Man-L").as_uri())
    press(page, "PageDown")
    sock.locator("#message").wait_for()

    assert "Another page of this pattern" in message(sock)
    assert shown(sock)["where"] == "Cuff, step 1"
