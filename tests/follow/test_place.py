"""The place is kept, found again when damaged, and kept apart for several socks."""

from __future__ import annotations

import json
import re

from follow.pages import go_to, load, message, press, reload, shown, write

PLACES, COPIES = "sockscript-follow/", "sockscript-follow-copy/"


def damage(page, starts: tuple[str, ...], value: str) -> None:
    page.evaluate("""([starts, value]) => { for (const key of Object.keys(localStorage))
        if (starts.some((start) => key.startsWith(start))) localStorage.setItem(key, value); }""",
                  [list(starts), value])


def test_reloading_keeps_the_place(sock):
    go_to(sock, "15", 30)
    press(sock, "PageDown")
    before = shown(sock)
    reload(sock)

    assert shown(sock) == before
    assert before["counter"] == "30"
    assert message(sock) == ""


def test_closing_the_page_keeps_the_place(context, sock, sock_page):
    go_to(sock, "15", 30)
    before = shown(sock)
    sock.close()
    page = context.new_page()
    load(page, sock_page.as_uri())

    assert shown(page) == before


BROKEN = ["{", "null", "[]", '"12"', '{"at": 4}', "12", "\u0000", '{"at": -3, "of": 9}']


def test_a_damaged_place_is_found_in_the_second_copy(sock):
    go_to(sock, "15", 30)
    before = shown(sock)
    for value in BROKEN:
        damage(sock, (PLACES,), value)
        reload(sock)

        assert shown(sock) == before, value
        assert "found again in a second copy" in message(sock), value


def test_when_both_are_damaged_it_says_so_and_begins(sock):
    go_to(sock, "15", 30)
    for value in BROKEN:
        damage(sock, (PLACES, COPIES), value)
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
    damage(sock, (PLACES, COPIES), json.dumps({**kept, "at": 10**9}))
    reload(sock)

    assert shown(sock)["where"] == "Cuff, step 1"
    assert "damaged" in message(sock)


def test_damaged_settings_are_left_aside(sock):
    sock.evaluate("localStorage.setItem('sockscript-follow-settings', '{\"pace\": \"x\", ')")
    reload(sock)

    assert sock.locator("#pace").input_value() == "2"


def test_a_browser_that_keeps_nothing_says_so(context, sock_page):
    page = context.new_page()
    page.add_init_script("Object.defineProperty(window, 'localStorage', "
                         "{get() { throw new Error('refused'); }});")
    page.goto(sock_page.as_uri())
    press(page, "PageDown")

    assert shown(page)["where"] == "Cuff, step 2"
    assert "keeps nothing when the page is closed" in message(page)


def test_two_socks_of_a_pattern_have_places_of_their_own(sock):
    go_to(sock, "15", 30)
    sock.get_by_role("button", name="My socks").click()
    sock.locator("#sock-name").fill("Second sock")
    sock.get_by_role("button", name="Start", exact=True).click()
    assert shown(sock)["where"] == "Cuff, step 1"
    assert "Second sock" in sock.locator("#size").inner_text()
    press(sock, "PageDown")
    reload(sock)
    assert shown(sock)["where"] == "Cuff, step 2"

    sock.get_by_role("button", name="My socks").click()
    sock.get_by_role("button", name="Go on with it: Lantern Sock 1, Man-L, First sock").click()
    assert shown(sock)["counter"] == "29"


def test_another_pattern_is_listed_and_can_be_forgotten(context, sock, examples, tmp_path):
    go_to(sock, "15", 30)
    other = context.new_page()
    load(other, write(examples / "leg-warmer.sockscript", tmp_path / "warm.html",
                     "Medium").as_uri())
    press(other, "PageDown")
    other.get_by_role("button", name="My socks").click()
    items = other.locator("#sock-list li")
    assert items.count() == 2
    there = items.filter(has_text="Lantern Sock")
    assert "Its page is the file sock.html" in there.inner_text()

    other.once("dialog", lambda asked: asked.accept())
    there.get_by_role("button", name="Forget").click()
    assert items.count() == 1
    reload(sock)
    assert shown(sock)["where"] == "Cuff, step 1"


def test_own_notes_are_kept_for_each_sock(sock):
    def notes():
        return sock.locator("#own-notes")

    sock.get_by_role("button", name="My notes").click()
    notes().fill("Stitch size 5 at the cuff <b>")
    sock.keyboard.press("Escape")
    reload(sock)
    sock.get_by_role("button", name="My notes").click()
    assert notes().input_value() == "Stitch size 5 at the cuff <b>"
    sock.keyboard.press("Escape")
    sock.get_by_role("button", name="My socks").click()
    sock.locator("#sock-name").fill("Second sock")
    sock.get_by_role("button", name="Start", exact=True).click()
    sock.get_by_role("button", name="My notes").click()
    assert notes().input_value() == ""


def test_forgetting_is_asked_for_first(sock):
    go_to(sock, "15", 30)
    sock.get_by_role("button", name="My socks").click()
    sock.once("dialog", lambda asked: asked.dismiss())
    sock.locator("#sock-list").get_by_role("button", name="Forget").click()

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
