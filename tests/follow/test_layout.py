"""Read from a metre away, on a tablet and on a phone, upright and on its side."""

from __future__ import annotations

import pytest

from follow.pages import LATER, go_to, load, open_window, ready

SCREENS = {"tablet": (1024, 768), "tablet upright": (768, 1024), "phone": (360, 740),
           "phone on its side": (740, 360)}
PLACES = [None, ("8", 5), ("14", 1), ("15", 30), ("18 (time 5)", 1), ("25 (time 2)", 1)]

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


@pytest.fixture
def screen(browser, sock_page):
    """The page on a screen of a size, with letters of a size."""
    contexts = []

    def shown(name, letters="plain"):
        width, height = SCREENS[name]
        context = browser.new_context(viewport={"width": width, "height": height})
        contexts.append(context)
        context.add_init_script(LATER)
        page = context.new_page()
        load(page, sock_page.as_uri())
        page.evaluate("(letters) => localStorage.setItem('sockscript-follow-settings', "
                      "JSON.stringify({letters}))", letters)
        page.reload()
        ready(page)
        return page

    yield shown
    for context in contexts:
        context.close()


def test_on_a_tablet_nothing_lies_below_the_fold_at_any_step(screen):
    """The largest size, a tube of 72 stitches: every stop, at its first row and at a later one."""
    page = screen("tablet")
    below = page.evaluate("""() => { let now = 0; performance.now = () => (now += 1000);
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


def test_carriage_direction_and_cue_are_as_large_as_the_step(screen):
    for name in SCREENS:
        page = screen(name)
        for place in PLACES[1:]:
            go_to(page, *place)
            step, needles, carriage, cue, arrow, counter = page.evaluate(
                SIZES, ["text", "needles", "carriage", "cue", "arrow", "counter"])
            assert step == needles == carriage == cue, (name, place)
            assert arrow >= step and counter >= 2 * step, (name, place)


def test_on_a_tablet_a_run_is_read_from_a_metre(screen):
    """Letters of 20 minutes of arc are read with ease (ISO 9241-303, 20 to 22 for Latin letters;
    from memory): 5.8 mm at a metre.  A capital is 0.7 of its size; a tablet shows about 5 CSS
    pixels to the millimetre (132 to the inch)."""
    page = screen("tablet")
    go_to(page, "15", 30)
    (step,) = page.evaluate(SIZES, ["text"])

    assert 0.7 * step / 5.2 >= 5.8


def test_on_a_tablet_words_and_needles_stand_side_by_side(screen):
    page = screen("tablet")
    task, beds = (page.locator(one).bounding_box() for one in (".task", ".beds"))

    assert beds["x"] >= task["x"] + task["width"] and beds["y"] == task["y"]


@pytest.mark.parametrize("letters", ["plain", "big", "huge"])
@pytest.mark.parametrize("name", SCREENS)
def test_nothing_is_wider_than_the_screen(screen, name, letters):
    page = screen(name, letters)
    for place in PLACES:
        if place is not None:
            go_to(page, *place)
        assert page.evaluate(WIDER) == [], place
        assert page.evaluate(OUTSIDE) == [], place


@pytest.mark.parametrize("letters", ["plain", "huge"])
@pytest.mark.parametrize("name", SCREENS)
def test_the_words_of_rows_are_seen_without_scrolling(screen, name, letters):
    page = screen(name, letters)
    for place in (("8", 5), ("15", 30), ("18 (time 5)", 1)):
        go_to(page, *place)
        assert page.evaluate(IN_VIEW, ["where", "text", "needles", "carriage", "cue",
                                       "counter"]) == [], place


@pytest.mark.parametrize("name", SCREENS)
def test_every_window_fits_and_can_be_closed(screen, name):
    page = screen(name, "huge")
    for opens in ("before", "go", "mishap", "log", "socks", "settings"):
        open_window(page, opens)
        box = page.locator(f"#{opens}").bounding_box()
        width, height = SCREENS[name]
        assert box["x"] >= 0 and box["x"] + box["width"] <= width, opens
        assert box["y"] >= 0 and box["y"] + box["height"] <= height, opens
        assert page.evaluate("(id) => { const one = document.getElementById(id); "
                             "return one.scrollWidth <= one.clientWidth; }", opens), opens
        page.locator(f"#{opens} [data-closes]").first.click()
