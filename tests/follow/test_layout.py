"""Read from a metre away, on a tablet and on a phone, upright and on its side."""

from __future__ import annotations

import pytest

from follow.pages import LATER, go_to, load, open_window

SCREENS = {"tablet": (1024, 768), "tablet upright": (768, 1024), "phone": (360, 740),
           "phone on its side": (740, 360)}
PLACES = [("1", 1), ("8", 5), ("14", 1), ("15", 30), ("18 (time 5)", 1), ("25 (time 2)", 1)]

SIZES = """(ids) => ids.map((id) => parseFloat(
    getComputedStyle(document.getElementById(id)).fontSize))"""
IN_VIEW = """(ids) => { const fold = document.querySelector('footer').getBoundingClientRect().top;
    return ids.filter((id) => { const one = document.getElementById(id);
        return one.textContent && one.getBoundingClientRect().bottom > fold; }); }"""
WIDER = """() => [document.documentElement, document.getElementById('main'),
        ...document.querySelectorAll('.task, .beds, .way, .controls, header, .controls button')]
    .filter((one) => one.scrollWidth > one.clientWidth + 1 && one.clientWidth)
    .map((one) => one.id || one.className || one.tagName)"""
OUTSIDE = """() => [...document.querySelectorAll('footer button, nav button')].filter((one) => {
        const box = one.getBoundingClientRect();
        return box.width && (box.left < 0 || box.right > innerWidth || box.bottom > innerHeight);
    }).map((one) => one.textContent)"""


@pytest.fixture(scope="module")
def page(browser, sock_page):
    """The page, opened once for all that is only looked at."""
    context = browser.new_context()
    context.add_init_script(LATER)
    page = context.new_page()
    load(page, sock_page.as_uri())
    yield page
    context.close()


def on_screen(page, name: str, letters: str | None = None) -> None:
    """Turn to a screen of another size, and to letters of a size."""
    width, height = SCREENS[name]
    page.set_viewport_size({"width": width, "height": height})
    if letters is not None:
        page.evaluate("""(letters) => { const one = document.getElementById('letters');
            one.value = letters;
            one.dispatchEvent(new Event('change', {bubbles: true})); }""", letters)
        assert page.evaluate("document.documentElement.dataset.letters") == letters


def test_on_a_tablet_nothing_lies_below_the_fold_at_any_step(page):
    """The largest size, a tube of 72 stitches: every stop, at its first row and at a later one."""
    on_screen(page, "tablet", "plain")
    below = page.evaluate("""() => { let now = performance.now();
        performance.now = () => (now += 1000);
        const on = document.getElementById('forward'), one = document.getElementById('one');
        const main = document.getElementById('main'), below = [];
        const look = () => { if (main.scrollHeight > main.clientHeight)
            below.push(document.getElementById('where').textContent); };
        while (!on.disabled) {
            look();
            if (!one.hidden) { one.click(); look(); }
            on.click();
        }
        look();
        return below; }""")

    assert below == []
    assert page.locator("#where").inner_text() == "Finished"


def test_carriage_direction_and_cue_are_as_large_as_the_step(page):
    for place in PLACES[1:]:
        go_to(page, *place)
        for name in SCREENS:
            on_screen(page, name, "plain")
            step, needles, carriage, cue, arrow, counter = page.evaluate(
                SIZES, ["text", "needles", "carriage", "cue", "arrow", "counter"])
            assert step == needles == carriage == cue, (name, place)
            assert arrow >= step and counter >= 2 * step, (name, place)


def test_on_a_tablet_a_run_is_read_from_a_metre(page):
    """Letters of 20 minutes of arc are read with ease (ISO 9241-303, 20 to 22 for Latin letters;
    from memory): 5.8 mm at a metre.  A capital is 0.7 of its size; a tablet shows about 5 CSS
    pixels to the millimetre (132 to the inch)."""
    on_screen(page, "tablet", "plain")
    go_to(page, "15", 30)
    (step,) = page.evaluate(SIZES, ["text"])

    assert 0.7 * step / 5.2 >= 5.8


def test_on_a_tablet_words_and_needles_stand_side_by_side(page):
    on_screen(page, "tablet", "plain")
    task, beds = (page.locator(one).bounding_box() for one in (".task", ".beds"))

    assert beds["x"] >= task["x"] + task["width"] and beds["y"] == task["y"]


@pytest.mark.parametrize("letters", ["plain", "big", "huge"])
def test_nothing_is_wider_than_the_screen(page, letters):
    for name in SCREENS:
        on_screen(page, name, letters)
        for place in PLACES:
            go_to(page, *place)
            assert page.evaluate(WIDER) == [], (name, place)
            assert page.evaluate(OUTSIDE) == [], (name, place)


@pytest.mark.parametrize("letters", ["plain", "huge"])
def test_the_words_of_rows_are_seen_without_scrolling(page, letters):
    for name in SCREENS:
        on_screen(page, name, letters)
        for place in (("8", 5), ("15", 30), ("18 (time 5)", 1)):
            go_to(page, *place)
            assert page.evaluate(IN_VIEW, ["where", "text", "needles", "carriage", "cue",
                                           "counter"]) == [], (name, place)


def test_every_window_fits_and_can_be_closed(page):
    on_screen(page, "tablet", "huge")
    for opens in ("before", "go", "mishap", "log", "socks", "settings"):
        open_window(page, opens)
        for name, (width, height) in SCREENS.items():
            on_screen(page, name)
            box = page.locator(f"#{opens}").bounding_box()
            assert box["x"] >= 0 and box["x"] + box["width"] <= width, (opens, name)
            assert box["y"] >= 0 and box["y"] + box["height"] <= height, (opens, name)
            assert page.evaluate("(id) => { const one = document.getElementById(id); return "
                                 "one.scrollWidth <= one.clientWidth; }", opens), (opens, name)
        page.locator(f"#{opens} [data-closes]").first.click()
