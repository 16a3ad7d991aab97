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
    return page.evaluate("""() => Object.fromEntries(['where', 'cue', 'text', 'counter', 'carriage']
        .map((id) => [id, document.getElementById(id).innerText]))""")


def open_window(page, name: str) -> None:
    """Open a small window by its button, that of the menu where the page has no other
    (`test_after_a_window_the_space_bar_goes_on` opens each as a hand does)."""
    page.evaluate("""(name) => {
        if (!['mishap', 'shows'].includes(name))
            document.querySelector('nav [data-opens=menu]').click();
        document.querySelector(`#menu [data-opens=${name}], footer [data-opens=${name}]`).click();
    }""", name)
    page.locator(f"#{name}[open]").wait_for()


def open_by_hand(page, name: str) -> None:
    """The same, where the buttons must be seen and not be covered."""
    if name not in ("mishap", "shows"):
        page.locator("nav [data-opens=menu]").click()
    page.locator(f"#menu [data-opens={name}], footer [data-opens={name}]").click()
    page.locator(f"#{name}[open]").wait_for()


GO = """([step, row]) => {
    document.querySelector('nav [data-opens=menu]').click();
    document.querySelector('#menu [data-opens=go]').click();
    const section = document.getElementById('go-section');
    const steps = document.getElementById('go-step');
    for (const one of section.options) {
        section.value = one.value;
        section.dispatchEvent(new Event('change', {bubbles: true}));
        const found = [...steps.options].filter((o) => o.textContent.startsWith(step + ' ')).at(-1);
        if (!found) continue;
        steps.value = found.value;
        steps.dispatchEvent(new Event('change', {bubbles: true}));
        if (row > 1) document.getElementById('go-row').value = String(row);
        document.getElementById('go-now').click();
        return true;
    }
    return false;
}"""
"""As a hand chooses in the window, in one go; `test_go_to_a_section_and_step` does it by hand."""


def go_to(page, step: str, row: int = 1) -> None:
    """To the last stop of a step, where its rows are."""
    assert page.evaluate(GO, [step, row]), step


def message(page) -> str:
    return page.locator("#message-text").inner_text() if page.locator("#message").is_visible() \
        else ""
