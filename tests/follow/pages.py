"""What a hand does on the page, and what it then shows."""

from __future__ import annotations

from pathlib import Path

from sockscript.commands.follow import run

LATER = """(() => {
    const now = performance.now.bind(performance);
    let later = 0;
    performance.now = () => now() + later;
    window.later = () => { later += 1000; };
})();"""
"""Run in a page before its own script: its clock can be put on, so that nobody need wait."""


def write(script: Path, out: Path, size: str | None = None) -> Path:
    """The page of one size, as the command writes it."""
    assert run(file=script, size=size, choose=[], machine=None, pace=2, out=out) == 0
    return out


def press(page, key: str, times: int = 1) -> None:
    """Press a key, each time a second after whatever was pressed before."""
    for _ in range(times):
        page.evaluate("later()")
        page.keyboard.press(key)


def ready(page) -> None:
    """Wait until the page has compared its two stores."""
    page.locator("html[data-ready]").wait_for(state="attached")


def single_rows(page) -> None:
    """Let the large button, the space bar and the pedal count single rows."""
    open_window(page, "settings")
    page.locator("#single").check()
    page.locator("#settings [data-closes]").click()


def reload(page) -> None:
    """Load the page again, with what the browser keeps."""
    page.reload()
    ready(page)


def load(page, address: str) -> None:
    """Load a page in a browser that keeps something."""
    page.goto(address)
    ready(page)


SECOND = """async (value) => {
    const open = await new Promise((found) => {
        const asked = indexedDB.open('sockscript-follow');
        asked.onsuccess = () => found(asked.result);
    });
    const kept = open.transaction('kept', 'readwrite').objectStore('kept');
    const keys = await new Promise((found) => {
        const asked = kept.getAllKeys();
        asked.onsuccess = () => found(asked.result);
    });
    for (const key of keys) {
        if (value === null) kept.delete(key);
        else if (value !== undefined) kept.put(value, key);
    }
    await new Promise((done) => { kept.transaction.oncomplete = done; });
    open.close();
    return keys;
}"""
"""The keys of the page's second store; each gets a value first, or is deleted (null)."""


def shown(page) -> dict[str, str]:
    """What the page says of the place."""
    return {name: page.locator(f"#{name}").inner_text()
            for name in ("where", "cue", "text", "counter", "carriage")}


def open_window(page, name: str) -> None:
    """Open a small window, by the menu where the page has no button for it."""
    if name not in ("mishap", "shows"):
        page.locator("nav [data-opens=menu]").click()
    page.locator(f"#menu [data-opens={name}], footer [data-opens={name}]").click()
    page.locator(f"#{name}[open]").wait_for()


def go_to(page, step: str, row: int = 1) -> None:
    """To the last stop of a step, where its rows are."""
    open_window(page, "go")
    for section in page.locator("#go-section option").all():
        page.locator("#go-section").select_option(section.get_attribute("value"))
        value = page.evaluate(
            "step => [...document.querySelectorAll('#go-step option')]"
            ".filter(o => o.textContent.startsWith(step + ' ')).map(o => o.value).at(-1)", step)
        if value is not None:
            break
    page.locator("#go-step").select_option(value)
    if row > 1:
        page.locator("#go-row").fill(str(row))
    page.get_by_role("button", name="Go there").click()


def message(page) -> str:
    return page.locator("#message-text").inner_text() if page.locator("#message").is_visible() \
        else ""
