"""The knitting log: kept, saved by the page as a file, printed, and read by the command."""

from __future__ import annotations

import json

import pytest
from support.schemas import follows_schema

from follow.pages import go_to, load, open_window, press, reload, shown, write
from sockscript.commands.logs import run as logs
from sockscript.fabric.tape import OnTheTape, tape
from sockscript.findings.prove import prepare, prove
from sockscript.machine.load import script_profile
from sockscript.text.source import read_source

SECONDS = """(() => { let now = 0; performance.now = () => now;
    window.pass = (seconds) => { now += 1000 * seconds; }; })();"""
"""The page's clock stands still until it is put on."""


def note(page, words: str) -> None:
    open_window(page, "log")
    page.locator("#note").fill(words)
    page.get_by_role("button", name="Keep this note").click()
    page.locator("#log [data-closes]").click()


def notes(page) -> list[str]:
    open_window(page, "log")
    found = page.locator("#note-list span").all_inner_texts()
    page.locator("#log [data-closes]").click()
    return found


def saved(page, folder) -> dict:
    """The log as the file that the page saves."""
    open_window(page, "log")
    with page.expect_download() as download:
        page.get_by_role("button", name="Save as a file").click()
    page.locator("#log [data-closes]").click()
    path = folder / download.value.suggested_filename
    download.value.save_as(path)
    told = json.loads(path.read_text("utf-8"))
    follows_schema(told, "logs/log")
    return {"path": path, **told}


@pytest.fixture
def timed(context, sock_page):
    """The page with a clock that stands still until it is put on."""
    page = context.new_page()
    page.add_init_script(SECONDS)
    load(page, sock_page.as_uri())
    return page


def test_a_note_is_tied_to_its_place_and_kept(sock):
    go_to(sock, "15", 30)
    note(sock, "Size 5 would be nicer <b>")
    press(sock, "PageDown")
    note(sock, "Mind the corner")
    reload(sock)

    assert notes(sock) == ["Leg, step 15, row counter 29 Size 5 would be nicer <b>",
                           "Heel, step 16, row counter 92 Mind the corner"]
    assert sock.locator("#note-list b").count() == 0


def test_a_note_that_was_only_typed_is_kept_when_the_window_closes(sock):
    open_window(sock, "log")
    sock.locator("#note").fill("Half a thought")
    sock.keyboard.press("Escape")

    assert notes(sock) == ["Cuff, step 1, row counter 0 Half a thought"]


def test_a_note_is_deleted_only_when_asked(sock):
    note(sock, "One")
    note(sock, "Two")
    open_window(sock, "log")
    sock.once("dialog", lambda asked: asked.dismiss())
    sock.locator("#note-list button").first.click()
    assert sock.locator("#note-list li").count() == 2
    sock.once("dialog", lambda asked: asked.accept())
    sock.locator("#note-list button").first.click()
    sock.locator("#log [data-closes]").click()

    assert notes(sock) == ["Cuff, step 1, row counter 0 Two"]


def test_forgetting_the_place_keeps_the_notes(sock):
    go_to(sock, "15", 30)
    note(sock, "Precious")
    open_window(sock, "socks")
    sock.once("dialog", lambda asked: asked.accept())
    sock.locator("#sock-list").get_by_role("button", name="Forget the place").click()
    assert "notes, times and measurements" in sock.locator("#sock-list").inner_text()
    sock.locator("#socks [data-closes]").click()
    reload(sock)

    assert shown(sock)["where"] == "Cuff, step 1"
    assert notes(sock) == ["Leg, step 15, row counter 29 Precious"]


def test_two_tabs_lose_no_note(context, sock, sock_page):
    other = context.new_page()
    load(other, sock_page.as_uri())
    note(sock, "From here")
    note(other, "From there")
    note(sock, "And here")

    assert [one.split("counter 0 ")[1] for one in notes(other)] == [
        "From here", "From there", "And here"]


def test_each_step_is_timed_and_pauses_are_left_out(timed, tmp_path):
    go_to(timed, "15")
    timed.evaluate("pass(230)")
    timed.locator("#ten").click()      # ten rows in 230 s: slow, but no pause
    timed.evaluate("pass(4000)")       # she had lunch
    timed.locator("#forward").click()
    timed.evaluate("pass(12)")
    timed.locator("#forward").click()
    found = saved(timed, tmp_path)["times"]

    assert found[0] == {"section": "Leg", "step": 15, "seconds": 230, "pauses": 1, "rows": 10,
                        "row-seconds": 230}
    assert found[1]["section"] == "Heel" and found[1]["seconds"] == 12 and found[1]["rows"] == 0


def test_a_clock_that_gives_no_number_gives_no_times(context, sock_page, tmp_path):
    page = context.new_page()
    page.add_init_script("performance.now = () => NaN; Date.now = () => NaN;")
    load(page, sock_page.as_uri())
    go_to(page, "15")
    page.locator("#ten").click()
    note(page, "Noon")
    found = saved(page, tmp_path)

    assert found["times"] == [] and found["began"] == ""
    assert [one["words"] for one in found["notes"]] == ["Noon"]


def test_measurements_are_kept_in_millimetres_whatever_the_unit(sock, tmp_path):
    open_window(sock, "log")
    sock.get_by_label("Leg, all round (cm)").fill("22.4")
    sock.locator("#unit").select_option("in")
    assert sock.get_by_label("Leg, all round (in)").input_value() == "8.8"
    sock.get_by_label("Foot, from heel to toe (in)").fill("11.5")
    sock.get_by_label("Weight (g)").fill("48")
    sock.keyboard.press("Tab")
    sock.locator("#log [data-closes]").click()
    reload(sock)
    found = saved(sock, tmp_path)

    # An inch is 25.4 mm by definition (international yard and pound agreement, 1959).
    assert found["measured"] == {"girth/Leg": 224, "foot": round(11.5 * 25.4, 1), "weight": 48}


def test_the_log_is_printed_without_the_rest_of_the_page(sock):
    go_to(sock, "15", 30)
    note(sock, "For the author")
    sock.evaluate("window.dispatchEvent(new Event('beforeprint'))")
    sock.emulate_media(media="print")

    assert "Leg, step 15, row counter 29: For the author" in sock.locator("#print").inner_text()
    assert not sock.locator("main").is_visible() and not sock.locator("footer").is_visible()


def test_a_damaged_log_is_begun_anew(sock, tmp_path):
    note(sock, "Lost")
    for value in ("{", "null", "[]", '{"notes": 3, "times": [], "measured": "x"}',
                  '{"notes": [3, {"words": 1}], "times": {"a": [1]}, "measured": {"foot": "x"}}'):
        sock.evaluate("""(value) => { for (const key of Object.keys(localStorage))
            if (key.startsWith('sockscript-follow-log/')) localStorage.setItem(key, value); }""",
                      value)
        assert saved(sock, tmp_path)["notes"] == []


def planned(script, size: str) -> list[OnTheTape]:
    ready = prepare(read_source(script))
    proved = prove(ready, script_profile(ready.script))
    runs = [outcomes[0].run for outcomes in proved.outcomes]
    return list(tape(next(run for run in runs if run.script.sizes.names[run.size] == size)))


def test_logs_of_the_real_page_go_back_to_the_author(browser, examples, tmp_path, capsys):
    """Three socks in two sizes, tapped through, measured and saved; then compared."""
    script = examples / "family-sock.sockscript"
    files = []
    for name, size, wide, long in (("Ada", "Child-S", 1.05, 0.98), ("Ben", "Child-S", 1.03, 0.96),
                                   ("Cleo", "Toddler", 1.04, 0.97)):
        context = browser.new_context()
        page = context.new_page()
        page.add_init_script(SECONDS)
        load(page, write(script, tmp_path / f"{name}.html", size).as_uri())
        page.evaluate("""() => { const on = document.getElementById('forward');
            while (!on.disabled) {
                const rows = /(\\d+) rows/.exec(on.textContent);
                pass(rows ? 3 * rows[1] : 3);
                on.click();
            } }""")
        page.get_by_role("button", name="Measure it and save the log").click()
        for one in planned(script, size):
            if one.what != "grams":
                value = one.value * (wide if one.what == "stitches" else long)
                page.get_by_label(f"{one.words} (cm)").fill(f"{value / 10:.1f}")
        page.locator("#knitter").fill(name)
        page.keyboard.press("Tab")
        page.locator("#log [data-closes]").click()
        files.append(saved(page, tmp_path)["path"])
        context.close()
    capsys.readouterr()

    assert logs(file=script, logs=files, format="json", out=None) == 0
    told = json.loads(capsys.readouterr().out)
    assert [(one["size"], one["socks"]) for one in told["sizes"]] == [
        ("Toddler", 1), ("Child-S", 2)]
    (plain,) = (one for one in told["gauges"] if one["fabric"] == "plain")
    # All came out 4 % wider and 3 % shorter on average than by 30 stitches and 42 rows.
    assert plain["stitches"] == pytest.approx(30 / 1.04, abs=0.15)
    assert plain["rows"] == pytest.approx(42 / 0.97, abs=0.2)
    assert [one["seconds-a-row"] for one in told["knitters"]] == [3, 3, 3]
    assert all(one["seconds"] > 600 for one in told["knitters"])
