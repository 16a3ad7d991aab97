"""The place is kept, found again when damaged, and kept apart for several socks."""

from __future__ import annotations

import json
import re

import pytest

from follow.pages import SECOND, go_to, load, message, open_window, press, reload, shown, write

PLACES = "sockscript-follow/"


def damage(page, value: str, second: str | None = None) -> None:
    """Put ``value`` in place of the places in the local store, and ``second`` in the other one."""
    page.evaluate("""([start, value]) => { for (const key of Object.keys(localStorage))
        if (key.startsWith(start)) localStorage.setItem(key, value); }""", [PLACES, value])
    if second is not None:
        page.evaluate(SECOND, second)


def test_reloading_keeps_the_place(rows):
    go_to(rows, "15", 30)
    press(rows, "PageDown")
    before = shown(rows)
    reload(rows)

    assert shown(rows) == before
    assert before["counter"] == "30"
    assert message(rows) == ""


def test_closing_the_page_keeps_the_place(context, sock, sock_page):
    go_to(sock, "15", 30)
    before = shown(sock)
    sock.close()
    page = context.new_page()
    load(page, sock_page.as_uri())

    assert shown(page) == before


BROKEN = ["{", "null", "[]", '"12"', '{"at": 4}', "12", "\u0000", '{"at": -3, "of": 9}']


def test_a_damaged_place_is_found_in_the_second_store(sock):
    go_to(sock, "15", 30)
    before = shown(sock)
    for value in BROKEN:
        damage(sock, value)
        reload(sock)

        assert shown(sock) == before, value
        assert "found again in a second store" in message(sock), value
    reload(sock)
    assert shown(sock) == before and message(sock) == ""


def test_an_emptied_store_is_noticed_and_mended_from_the_second(sock):
    open_window(sock, "socks")
    sock.locator("#sock-name").fill("Second sock")
    sock.get_by_role("button", name="Start", exact=True).click()
    open_window(sock, "log")
    sock.locator("#note").fill("Size 5 at the cuff")
    sock.keyboard.press("Escape")
    go_to(sock, "15", 30)
    before = shown(sock)
    kept = sock.evaluate("({...localStorage})")
    sock.evaluate("localStorage.clear()")
    reload(sock)

    assert shown(sock) == before
    assert "Second sock" in sock.locator("#size").inner_text()
    assert "found again in a second store" in message(sock)
    assert sock.evaluate("({...localStorage})") == kept


def test_a_second_store_that_is_gone_is_written_anew(sock):
    go_to(sock, "15", 30)
    sock.evaluate(SECOND, None)
    reload(sock)
    assert message(sock) == ""
    sock.evaluate("localStorage.clear()")
    reload(sock)

    assert shown(sock)["counter"] == "29"


def test_of_two_places_the_newer_one_counts_whatever_the_clock_says(sock):
    """The local store is set back, as from an old copy of the browser's files."""
    go_to(sock, "15", 10)
    old = sock.evaluate("({...localStorage})")
    go_to(sock, "15", 30)
    sock.evaluate("(old) => { for (const key in old) localStorage[key] = old[key]; }", old)
    reload(sock)

    assert shown(sock)["counter"] == "29"
    assert "found again in a second store" in message(sock)


def test_when_both_are_damaged_it_says_so_and_begins(sock):
    go_to(sock, "15", 30)
    for value in BROKEN[::3]:
        damage(sock, value, value)
        reload(sock)

        assert shown(sock)["where"] == "Cuff, step 1", value
        assert "damaged and cannot be read" in message(sock), value
    sock.get_by_role("button", name="I have read this").click()
    press(sock, "PageDown")
    reload(sock)
    assert shown(sock)["where"] == "Cuff, step 2"
    assert message(sock) == ""


def test_a_place_beyond_the_end_is_no_place(sock):
    go_to(sock, "15", 30)
    kept = json.loads(sock.evaluate(
        f"localStorage[Object.keys(localStorage).find(k => k.startsWith('{PLACES}'))]"))
    beyond = json.dumps({**kept, "at": 10**9})
    damage(sock, beyond, beyond)
    reload(sock)

    assert shown(sock)["where"] == "Cuff, step 1"
    assert "damaged" in message(sock)


def test_without_a_second_store_the_page_works_as_well(context, sock_page):
    page = context.new_page()
    page.add_init_script("Object.defineProperty(window, 'indexedDB', "
                         "{get() { throw new Error('refused'); }});")
    load(page, sock_page.as_uri())
    press(page, "PageDown")
    reload(page)

    assert shown(page)["where"] == "Cuff, step 2"
    assert message(page) == ""


def test_a_forgotten_place_does_not_come_back(sock):
    go_to(sock, "15", 30)
    open_window(sock, "socks")
    sock.once("dialog", lambda asked: asked.accept())
    sock.locator("#sock-list").get_by_role("button", name="Forget the place").click()
    reload(sock)

    assert shown(sock)["where"] == "Cuff, step 1"


@pytest.mark.parametrize("clock", [
    "performance.now = () => NaN; Date.now = () => NaN;",
    "performance.now = () => undefined; Date.now = () => undefined;",
    "performance.now = () => { throw new Error(); }; Date.now = () => { throw new Error(); };",
    "performance.now = () => 'noon'; Date.now = () => 1e300;"])
def test_a_clock_that_gives_no_number_costs_no_row(context, sock_page, clock):
    page = context.new_page()
    mistakes: list[str] = []
    page.on("pageerror", lambda error: mistakes.append(str(error)))
    page.add_init_script(clock)
    load(page, sock_page.as_uri())
    go_to(page, "15", 30)
    for _ in range(3):
        page.locator("#one").click()
    reload(page)

    assert shown(page)["counter"] == "32"
    assert "minutes left" in page.locator("#left").inner_text()
    assert mistakes == []


def test_damaged_settings_are_left_aside(sock):
    sock.evaluate("localStorage.setItem('sockscript-follow-settings', '{\"pace\": \"x\", ')")
    reload(sock)

    assert sock.locator("#pace").input_value() == "2"


def test_a_browser_that_keeps_nothing_says_so(context, sock_page):
    page = context.new_page()
    page.add_init_script("Object.defineProperty(window, 'localStorage', "
                         "{get() { throw new Error('refused'); }});")
    load(page, sock_page.as_uri())
    press(page, "PageDown")

    assert shown(page)["where"] == "Cuff, step 2"
    assert "keeps nothing when the page is closed" in message(page)


def test_two_socks_of_a_pattern_have_places_of_their_own(sock):
    go_to(sock, "15", 30)
    open_window(sock, "socks")
    sock.locator("#sock-name").fill("Second sock")
    sock.get_by_role("button", name="Start", exact=True).click()
    assert shown(sock)["where"] == "Cuff, step 1"
    assert "Second sock" in sock.locator("#size").inner_text()
    press(sock, "PageDown")
    reload(sock)
    assert shown(sock)["where"] == "Cuff, step 2"

    open_window(sock, "socks")
    sock.get_by_role("button", name="Go on with it: Lantern Sock 1, Man-L, First sock").click()
    assert shown(sock)["counter"] == "29"


def test_another_pattern_is_listed_and_can_be_forgotten(context, sock, examples, tmp_path):
    go_to(sock, "15", 30)
    other = context.new_page()
    load(other, write(examples / "leg-warmer.sockscript", tmp_path / "warm.html",
                     "Medium").as_uri())
    press(other, "PageDown")
    open_window(other, "socks")
    items = other.locator("#sock-list li")
    assert items.count() == 2
    there = items.filter(has_text="Lantern Sock")
    assert "Its page is the file sock.html" in there.inner_text()

    other.once("dialog", lambda asked: asked.accept())
    there.get_by_role("button", name="Forget the place").click()
    assert items.count() == 1
    reload(sock)
    assert shown(sock)["where"] == "Cuff, step 1"


def test_forgetting_is_asked_for_first(sock):
    go_to(sock, "15", 30)
    open_window(sock, "socks")
    sock.once("dialog", lambda asked: asked.dismiss())
    sock.locator("#sock-list").get_by_role("button", name="Forget the place").click()

    assert sock.locator("#sock-list li").count() == 1


def test_a_changed_pattern_is_told_and_the_step_found(context, sock, examples, tmp_path):
    go_to(sock, "15", 30)
    script = tmp_path / "changed.sockscript"
    text = (examples / "family-sock.sockscript").read_text("utf-8")
    changed = re.sub('(section "Cuff".*\n)', r'\1    step "Wash your hands."\n', text, count=1)
    script.write_text(changed, "utf-8")
    assert changed != text
    page = context.new_page()
    load(page, write(script, tmp_path / "changed.html", "Man-L").as_uri())

    assert "was changed since you last knitted" in message(page)
    assert shown(page)["where"] == "Leg, step 16"
    assert shown(page)["counter"] == "29"


def test_a_new_version_begins_anew(context, sock, examples, tmp_path):
    go_to(sock, "15", 30)
    script = tmp_path / "two.sockscript"
    text = (examples / "family-sock.sockscript").read_text("utf-8")
    script.write_text(text.replace("version 1\n", "version 2\n", 1), "utf-8")
    page = context.new_page()
    load(page, write(script, tmp_path / "two.html", "Man-L").as_uri())

    assert shown(page)["where"] == "Cuff, step 1"
    assert message(page) == ""
