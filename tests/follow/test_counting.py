"""Counting, going back, keys and pedals, and the way to a step."""

from __future__ import annotations

import json
import re

import pytest

from follow.pages import go_to, open_window, press, reload, shown, single_rows


def test_the_first_stop_is_the_first_step(sock):
    assert shown(sock) == {"where": "Cuff, step 1", "cue": "By hand",
                           "text": "Set the beds to full pitch.", "counter": "0",
                           "carriage": "Carriage at the right"}


def test_rows_are_counted_by_tap_space_and_page_down(rows):
    go_to(rows, "8")
    before = shown(rows)

    rows.locator("#forward").click()
    press(rows, "Space")
    rows.locator("#main").focus()
    press(rows, "Space")
    press(rows, "PageDown")

    after = shown(rows)
    assert (before["counter"], before["cue"]) == ("0", "Row 1 of 34")
    assert (after["counter"], after["cue"]) == ("4", "Row 5 of 34")
    assert (before["carriage"], after["carriage"]) == ("Carriage from left to right",) * 2


def test_going_back_shows_what_was_shown(rows):
    go_to(rows, "15", 90)
    seen = [shown(rows)]
    for _ in range(6):
        press(rows, "PageDown")
        seen.append(shown(rows))
    for earlier in reversed(seen[:-1]):
        rows.locator("#back").click()
        assert shown(rows) == earlier

    assert len({str(one) for one in seen}) == 7


def test_after_a_tap_on_back_the_space_bar_goes_on(rows):
    go_to(rows, "15", 10)
    rows.locator("#back").click()
    press(rows, "Space")

    assert shown(rows)["counter"] == "9"


def test_a_bouncing_pedal_counts_once(rows):
    go_to(rows, "15")
    rows.evaluate("""() => { for (let n = 0; n < 3; n += 1) document.body.dispatchEvent(
        new KeyboardEvent('keydown', {key: 'PageDown', bubbles: true})); }""")

    assert shown(rows)["counter"] == "1"


def test_a_held_key_counts_once(rows):
    go_to(rows, "15")
    rows.keyboard.down("PageDown")
    for _ in range(3):
        rows.wait_for_timeout(230)
        rows.keyboard.down("PageDown")   # the browser is told that the key repeats
    rows.keyboard.up("PageDown")

    assert shown(rows)["counter"] == "1"


def test_a_pedal_with_a_key_of_its_own_is_taught(rows):
    go_to(rows, "15")
    open_window(rows, "settings")
    rows.get_by_role("button", name="Teach the pedal that goes on").click()
    rows.keyboard.press("F9")
    assert rows.locator("#pedal-on-key").inner_text() == "now: F9"
    rows.locator("#settings [data-closes]").click()
    press(rows, "F9", 2)
    reload(rows)
    press(rows, "F9")

    assert shown(rows)["counter"] == "3"


def test_a_pedal_cannot_take_the_keys_that_the_page_needs(sock):
    for key in ("Tab", "Enter", "Escape"):
        open_window(sock, "settings")
        sock.get_by_role("button", name="Teach the pedal that goes on").click()
        sock.keyboard.press(key)
        assert sock.locator("#pedal-on-key").inner_text() == ""
        sock.locator("#settings [data-closes]").click()


def test_a_pedal_taught_to_go_back_goes_back_whatever_its_key_did(rows):
    go_to(rows, "15", 5)
    open_window(rows, "settings")
    for way in ("on", "back"):
        rows.get_by_role("button", name=f"Teach the pedal that goes {way}").click()
        rows.keyboard.press("PageDown")
    assert rows.locator("#pedal-on-key").inner_text() == ""
    rows.locator("#settings [data-closes]").click()
    press(rows, "PageDown")

    assert shown(rows)["counter"] == "3"


def test_the_cautions_are_offered_before_the_first_row(sock):
    sock.get_by_role("button", name="Read them").click()
    assert "never reach between the beds" in sock.locator("#before").inner_text()
    sock.locator("#before [data-closes]").click()
    press(sock, "PageDown")

    assert not sock.locator("#begin").is_visible()


def test_keys_do_nothing_while_a_window_is_open(sock):
    go_to(sock, "15")
    sock.locator("#mishap-button").click()
    press(sock, "PageDown", 2)

    assert shown(sock)["counter"] == "0"


def test_the_whole_sock_can_be_tapped_through(small_sock, small_page):
    """Every tap on, then every tap back, with a clock that need not be waited for."""
    rows = small_sock
    single_rows(rows)
    page = small_page.read_text("utf-8")
    data = json.loads(re.search(r'id="data">(.*?)</script>', page, re.S)[1])
    taps = sum(max(stop.get("k", 0), 1) for stop in data["stops"])
    rows.evaluate("() => { let now = 0; performance.now = () => (now += 1000); }")

    seen = rows.evaluate("""() => {
        const words = () => ['where', 'cue', 'counter', 'carriage']
            .map((id) => document.getElementById(id).textContent).join('|');
        const on = document.getElementById('forward'), back = document.getElementById('back');
        const there = [words()], again = [];
        while (!on.disabled) { on.click(); there.push(words()); }
        again.push(words());
        while (!back.disabled) { back.click(); again.push(words()); }
        return [there, again.reverse()];
    }""")

    assert len(seen[0]) == taps + 1
    assert seen[0] == seen[1]
    assert seen[0][-1].startswith("Finished|")


@pytest.mark.parametrize("step, row, counter", [("8", 20, "19"), ("15", 47, "46"), ("23", 1, "0")])
def test_go_to_a_step_and_row(sock, step, row, counter):
    go_to(sock, step, row)

    assert sock.locator("#where").inner_text().endswith(f"step {step}")
    assert shown(sock)["counter"] == counter


def test_time_left_follows_the_pace(sock):
    go_to(sock, "15")
    usual = int(re.search(r"(\d+) minutes", sock.locator("#left").inner_text())[1])
    open_window(sock, "settings")
    sock.locator("#pace").fill("4")
    sock.locator("#pace").dispatch_event("change")
    words = sock.locator("#left").inner_text()
    hours, minutes = (int(found[1]) if (found := re.search(rf"(\d+) {unit}", words)) else 0
                      for unit in ("hour", "minute"))
    rows = 92 + 48 + 152 + 46

    # Two seconds more for each row that is left: those of leg, heel, foot and toe.
    assert abs(hours * 60 + minutes - usual - rows * 2 / 60) <= 1
