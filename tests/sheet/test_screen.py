"""The HTML leaflet on a screen, in Debian's chromium: a phone, a tablet and a desk."""

from __future__ import annotations

import pytest
from support.outlines import outline_of

from sockscript.sheet import html_form

WIDTHS = (360, 768, 1280)
LEAFLETS = {
    "nine sizes": ({}, {}),
    "one size with pictures": ({"sizes": ["Woman-M"], "with_pictures": True}, {}),
    "every choice, the bank book and the script": (
        {"every_choice": True, "bank_book": True, "with_script": True}, {}),
    "large print without serifs": ({}, {"large": True, "sans": True}),
}


@pytest.fixture(scope="module", params=LEAFLETS)
def leaflet(request, tmp_path_factory, examples):
    """The file of one leaflet of the family sock."""
    asked, form = LEAFLETS[request.param]
    text = (examples / "family-sock.sockscript").read_text("utf-8")
    path = tmp_path_factory.mktemp("screen") / "leaflet.html"
    path.write_text(html_form.render(outline_of(text, **asked), **form), "utf-8")
    return path


@pytest.fixture(params=WIDTHS)
def page(request, browser, leaflet):
    """That file, open; nothing but the test itself may run on it."""
    # The leaflet forbids every script, so the scan has to go round its policy.
    context = browser.new_context(viewport={"width": request.param, "height": 800},
                                  bypass_csp=True)
    opened = context.new_page()
    opened.goto(leaflet.as_uri())
    yield opened
    context.close()


def test_an_accessibility_scan_finds_nothing(page, axe):
    page.evaluate(axe)
    found = page.evaluate("axe.run()")

    assert [f"{one['id']}: {node['html'][:100]}" for one in found["violations"]
            for node in one["nodes"]] == []


def test_only_what_is_named_and_reached_by_keyboard_moves_sideways(page):
    width = page.viewport_size["width"]
    assert page.evaluate("document.documentElement.scrollWidth") == width
    moving = page.locator("*").evaluate_all("""all => all.filter(one =>
        one.scrollWidth > one.clientWidth + 1 && one.clientWidth > 0 &&
        ["auto", "scroll"].includes(getComputedStyle(one).overflowX)).map(one =>
        [one.tabIndex, one.getAttribute("role"), Boolean(one.getAttribute("aria-label"))])""")
    assert all(one == [0, "region", True] for one in moving)
    # Nothing else is wider than the page, cut off where nobody can get at it.
    assert page.locator("body *:not(svg *)").evaluate_all("""(all, width) => all.filter(one =>
        one.getBoundingClientRect().right > width + 1 && !one.closest("[tabindex]")).length""",
                                                          width) == 0


def test_the_first_column_and_the_caption_stay_where_a_table_is_moved(page):
    if page.viewport_size["width"] > 360:
        return
    wide = page.locator(".table").evaluate_all(
        "all => all.findIndex(one => one.scrollWidth > one.clientWidth + 1)")
    if wide < 0:
        assert page.locator("thead").first.locator("th").count() < 3
        return
    table = page.locator(".table").nth(wide)
    name = table.locator("tbody th").first
    before = name.bounding_box()
    table.focus()
    for _ in range(5):
        page.keyboard.press("ArrowRight")
    page.wait_for_function("one => one.scrollLeft > 20", arg=table.element_handle())

    assert name.bounding_box()["x"] == pytest.approx(before["x"], abs=1)
    for caption in page.locator(".caption, figcaption").all():
        box = caption.bounding_box()
        assert box["x"] >= 0 and box["x"] + box["width"] <= 360


def test_letters_of_the_pictures_at_the_steps_are_large_enough(page):
    """No less than 8 pixels (CSS) high, also on a phone, where they are moved sideways."""
    sizes = page.locator(".steps-picture svg text").evaluate_all("""all => all.map(one =>
        parseFloat(one.getAttribute("font-size")) * one.ownerSVGElement.getScreenCTM().a)""")
    assert not sizes or min(sizes) >= 8
