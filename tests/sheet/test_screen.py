"""The HTML leaflet on a screen, in Debian's chromium: a phone, a tablet and a desk."""

from __future__ import annotations

import pytest
from support.outlines import outline_of

from sockscript.sheet import html_form

PHONE, DESK = 360, 1280
LEAFLETS = {
    "nine sizes": ({}, {}, (PHONE, 768, DESK)),
    "one size with pictures": (
        {"sizes": ["Woman-M"], "with_pictures": True, "every_row": True}, {}, (PHONE, 768, DESK)),
    "every choice, the bank book and the script": (
        {"every_choice": True, "bank_book": True, "with_script": True}, {}, (PHONE, DESK)),
    "large print without serifs": ({}, {"large": True, "sans": True}, (PHONE, DESK)),
}


@pytest.mark.parametrize("name", LEAFLETS)
def test_the_page_of_the_family_sock(name, request, browser, tmp_path, examples):
    """One page, made narrow and wide: opening it is what takes time."""
    asked, form, widths = LEAFLETS[name]
    text = (examples / "family-sock.sockscript").read_text("utf-8")
    path = tmp_path / "leaflet.html"
    path.write_text(html_form.render(outline_of(text, **asked), **form), "utf-8")
    # The leaflet forbids every script, so the scan has to go round its policy.
    context = browser.new_context(viewport={"width": widths[0], "height": 800}, bypass_csp=True)
    page = context.new_page()
    page.goto(path.as_uri())
    try:
        for width in widths:
            page.set_viewport_size({"width": width, "height": 800})
            only_what_is_named_and_reached_by_keyboard_moves_sideways(page, width)
            if width == PHONE:
                the_first_column_and_the_caption_stay_where_a_table_is_moved(page)
            letters_of_the_pictures_at_the_steps_are_large_enough(page)
        axe = request.getfixturevalue("axe")
        page.evaluate(axe)
        for width in widths:
            page.set_viewport_size({"width": width, "height": 800})
            # Colours, which take most of the time, are the same at every width.
            colours = "true" if width == PHONE else "false"
            found = page.evaluate(
                f"axe.run({{rules: {{'color-contrast': {{enabled: {colours}}}}}}})")
            assert [f"{one['id']}: {node['html'][:100]}" for one in found["violations"]
                    for node in one["nodes"]] == []
    finally:
        context.close()


def only_what_is_named_and_reached_by_keyboard_moves_sideways(page, width):
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


def the_first_column_and_the_caption_stay_where_a_table_is_moved(page):
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
    boxes = page.locator(".caption, figcaption").evaluate_all("""all => all.map(one => {
        const box = one.getBoundingClientRect(); return [box.left, box.right]; })""")
    assert all(left >= 0 and right <= PHONE for left, right in boxes)


def letters_of_the_pictures_at_the_steps_are_large_enough(page):
    """No less than 8 pixels (CSS) high, beside their steps as on a phone."""
    sizes = page.locator(".steps-picture svg text").evaluate_all("""all => all.map(one =>
        parseFloat(one.getAttribute("font-size")) * one.ownerSVGElement.getScreenCTM().a)""")
    assert not sizes or min(sizes) >= 8
