"""What stays outside, what stays text, what can be read by everyone, and how large it is."""

from __future__ import annotations

import re

import pytest

from follow.pages import go_to, open_window, press, reload, shown, write

SHOUT = "</script><script>window.hacked=1</script><img src=x onerror='window.hacked=1'>%%data%%"
HOSTILE = f'''pattern "{SHOUT}"
author "<!-- {SHOUT}"
licence "<b>{SHOUT}"
version 1

note "{SHOUT}"
caution "{SHOUT}"
yarn main "{SHOUT} wool"
gauge plain 30 stitches, 42 rows per 10 cm

section "{SHOUT}"
    bring centre 20 of front into work to cast on
    set front to knit
    note "{SHOUT}"
    caution "{SHOUT}"
    thread main
    knit 3 rows
    step "{SHOUT}"
    repeat 2 times
        step "again {SHOUT}"
        knit 1 row
    bind off all of front
    cut main
'''


@pytest.fixture
def hostile(context, tmp_path):
    """A page of a stranger's script, watched for what it runs and asks for."""
    script = tmp_path / "hostile.sockscript"
    script.write_text(HOSTILE, "utf-8")
    page = context.new_page()
    page.on("dialog", lambda _: pytest.fail("a window was opened"))
    page.goto(write(script, tmp_path / "hostile.html").as_uri())
    return page


def test_hostile_words_stay_words(hostile):
    for opens in ("before", "socks", "mishap", "go"):
        open_window(hostile, opens)
        hostile.locator(f"#{opens} [data-closes]").click()
    texts = [hostile.locator("body").inner_text()]
    while hostile.locator("#forward").is_enabled():
        press(hostile, "PageDown")
        texts.append(hostile.locator("body").inner_text())
    open_window(hostile, "socks")

    assert hostile.evaluate("window.hacked") is None
    assert hostile.title().startswith(SHOUT)
    assert hostile.locator("h1").inner_text() == SHOUT
    assert all(SHOUT in text for text in texts)
    assert any(f"Mind: {SHOUT}" in text for text in texts)
    assert any(f"Yarn in the feeder: {SHOUT}" in text for text in texts)
    assert hostile.locator("script").count() == 2
    assert hostile.locator("img, b").count() == 0


def test_a_hostile_name_of_a_sock_stays_a_name(sock):
    for _ in range(2):
        open_window(sock, "socks")
        sock.locator("#sock-name").fill("<img src=x onerror=alert(1)>"[:60])
        sock.get_by_role("button", name="Start", exact=True).click()
    open_window(sock, "socks")

    assert "<img src=x onerror=alert(1)>" in sock.locator("#sock-list").inner_text()
    assert sock.locator("img").count() == 0


def test_the_page_asks_for_nothing(context, sock_page):
    page = context.new_page()
    asked: list[str] = []
    page.on("request", lambda request: asked.append(request.url))
    page.goto(sock_page.as_uri())
    go_to(page, "15", 3)
    press(page, "PageDown", 2)
    for opens in ("before", "go", "mishap", "socks", "settings"):
        open_window(page, opens)
        page.locator(f"#{opens} [data-closes]").click()

    assert [url for url in asked if not url.startswith("data:")] == [sock_page.as_uri()]


def test_the_policy_forbids_what_the_page_does_not_do(context, sock_page):
    page = context.new_page()
    page.goto(sock_page.as_uri())

    refused = page.evaluate("""async () => {
        const refused = new Set();
        document.addEventListener('securitypolicyviolation',
                                  (event) => refused.add(event.effectiveDirective));
        await fetch('http://192.0.2.1/').catch(() => {});
        new Image().src = 'http://192.0.2.1/x.png';
        const script = document.createElement('script');
        script.textContent = 'window.hacked = 1';
        document.body.append(script);
        document.body.setAttribute('onclick', 'window.hacked = 1');
        document.body.click();
        await new Promise((done) => setTimeout(done, 300));
        return [[...refused].sort(), window.hacked || 0];
    }""")

    assert refused == [["connect-src", "img-src", "script-src-attr", "script-src-elem"], 0]


def test_the_page_of_the_largest_sock_is_small(sock_page):
    assert sock_page.stat().st_size < 300_000   # asked for in the plan of the project


def test_the_page_names_no_address_but_that_of_svg(sock_page):
    addresses = set(re.findall(r"https?://[^\"'\s<]+", sock_page.read_text("utf-8")))

    assert addresses == {"http://www.w3.org/2000/svg"}


def test_the_same_script_gives_the_same_page(sock_page, examples, tmp_path):
    again = write(examples / "family-sock.sockscript", tmp_path / "again.html", "Man-L")

    assert again.read_bytes() == sock_page.read_bytes()


# ---- read by everyone

DIALOGS = ("before", "go", "mishap", "log", "socks", "settings")


@pytest.mark.parametrize(("look", "rules"), [
    ("light", {}),
    # Nothing but the colours differs.
    ("dark", {"runOnly": ["color-contrast"]})])
def test_an_accessibility_scan_finds_nothing_serious(sock, axe, look, rules):
    sock.evaluate(axe)

    def scan() -> list[str]:
        found = sock.evaluate("(rules) => axe.run(rules)", rules)
        return [f"{one['id']}: {node['html'][:100]}" for one in found["violations"]
                if one["impact"] in ("serious", "critical") for node in one["nodes"]]

    sock.emulate_media(color_scheme=look, reduced_motion="reduce")
    assert scan() == []
    go_to(sock, "20")
    sock.locator("#views button").last.click()
    assert scan() == []
    for opens in DIALOGS:
        open_window(sock, opens)
        assert scan() == []
        sock.locator(f"#{opens} [data-closes]").click()


def test_dark_and_light_follow_the_tablet_and_the_switch(sock):
    def paper() -> int:
        found = sock.evaluate("getComputedStyle(document.body).backgroundColor")
        return sum(map(int, re.findall(r"\d+", found)[:3]))

    sock.emulate_media(color_scheme="light")
    assert paper() > 600
    sock.emulate_media(color_scheme="dark")
    assert paper() < 150
    open_window(sock, "settings")
    sock.locator("#look").select_option("light")
    assert paper() > 600
    sock.emulate_media(color_scheme="light")
    sock.locator("#look").select_option("dark")
    assert paper() < 150
    reload(sock)
    assert paper() < 150


def test_everything_is_reached_and_used_by_keyboard_alone(sock):
    names = []
    for _ in range(12):
        sock.keyboard.press("Tab")
        name, outline = sock.evaluate("""() => { const one = document.activeElement;
            return [one.id || one.dataset.opens || one.textContent,
                    parseFloat(getComputedStyle(one).outlineWidth)]; }""")
        names.append(name)
        assert outline >= 3, name
        if name == "forward":
            break
    sock.keyboard.press("Enter")

    assert {"mishap-button", "forward", "The needles in words"} <= set(names)
    assert shown(sock)["where"] == "Cuff, step 2"


def test_a_screen_reader_is_told_each_row_and_each_step(rows):
    said = rows.locator("#said")
    go_to(rows, "8", 33)
    press(rows, "PageDown")
    assert said.inner_text() == ("Row counter 33. Carriage from right to left. "
                                 "Row 34 of 34.")
    press(rows, "PageDown")
    assert "Transfer all stitches to the back bed" in said.inner_text()
    picture = rows.locator("#picture svg title").first.text_content()
    assert picture == ("Back bed: 36 stitches, set to knit; Front bed: 36 stitches, set to knit; "
                       "carriage at the left, row counter 34. Needles L37 to L1.")
