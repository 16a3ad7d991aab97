"""Back to the last safe row, and what the tablet does: draw, speak, stay awake."""

from __future__ import annotations

from follow.pages import go_to, open_window, press, reload, shown


def words_of(page, where: str) -> list[str]:
    return page.locator(f"#{where} li").all_inner_texts()


def mishap(page) -> None:
    page.locator("#mishap-button").click()


def test_a_mishap_while_turning_goes_back_to_the_row_before(sock):
    go_to(sock, "14")
    mishap(sock)

    assert sock.locator("#safe-where").inner_text().startswith(
        "The last safe row: Turn to a tube, step 10, row counter 35, carriage at the right.")
    assert words_of(sock, "safe-words") == [
        "Back bed, L36 to R36 (72 needles): one stitch each.",
        "Front bed: all needles out of work."]
    told = words_of(sock, "safe-how")
    assert told[0].startswith("Stitches were moved by hand since then")
    assert "Thread the four-ply sock wool again." in told
    assert any("set the row counter to 35" in line for line in told)

    sock.get_by_role("button", name="Go back to this row").click()
    assert shown(sock)["where"] == "Turn to a tube, step 11"
    assert shown(sock)["counter"] == "35"
    reload(sock)
    assert shown(sock)["where"] == "Turn to a tube, step 11"


def test_in_circular_the_round_is_whole(sock):
    go_to(sock, "15", 10)
    mishap(sock)
    assert "after row 8 of 92" in sock.locator("#safe-where").inner_text()
    assert "Ravel back 1 row and put each loop back on its needle." in words_of(sock, "safe-how")
    sock.get_by_role("button", name="A safe row earlier").click()
    assert "after row 6 of 92" in sock.locator("#safe-where").inner_text()
    sock.get_by_role("button", name="Go back to this row").click()

    assert shown(sock)["counter"] == "6"


def test_before_the_first_row_there_is_none(sock):
    mishap(sock)

    assert sock.locator("#safe-where").inner_text().startswith("No row is safe yet")
    assert not sock.locator("#safe-go").is_visible()


def test_staying_here_changes_nothing(sock):
    go_to(sock, "14")
    before = shown(sock)
    mishap(sock)
    sock.locator("#mishap").get_by_role("button", name="Stay here").click()

    assert shown(sock) == before


def signs(page) -> dict[str, int]:
    """What is drawn: stitches, needles in hold, marks of change."""
    svg = page.locator("#picture")
    return {"stitches": svg.locator("circle.loop").count(),
            "held": svg.locator("path.loop").count(),
            "changed": svg.locator("path.changed").count()}


def test_the_picture_shows_the_machine_now_and_after(sock):
    go_to(sock, "18 (time 5)")
    assert signs(sock) == {"stitches": 36 + 32, "held": 4, "changed": 0}
    assert sock.locator("#picture rect.spot").count() == 1

    sock.get_by_role("button", name="After the hand work").click()
    assert signs(sock) == {"stitches": 36 + 31, "held": 5, "changed": 1}
    press(sock, "PageDown")
    assert signs(sock) == {"stitches": 36 + 31, "held": 5, "changed": 0}


def test_the_needles_in_words_are_those_of_the_picture(sock):
    go_to(sock, "18 (time 5)")
    sock.get_by_text("The needles in words").click()

    assert words_of(sock, "words") == [
        "Back bed, L18 to R18 (36 needles): one stitch each.",
        "Front bed, L18 to L17 (2 needles): one stitch each, in hold.",
        "Front bed, L16 to R16 (32 needles): one stitch each.",
        "Front bed, R17 to R18 (2 needles): one stitch each, in hold."]


def test_every_other_needle_is_told_as_one_stretch(sock):
    go_to(sock, "8", 5)
    sock.get_by_text("The needles in words").click()

    assert all("every other needle from" in line for line in words_of(sock, "words"))


def test_a_step_is_spoken_on_request_and_by_itself_if_wanted(context, sock_page):
    page = context.new_page()
    page.add_init_script("""window.spoken = [];
        window.SpeechSynthesisUtterance = class { constructor(words) { this.words = words; } };
        Object.defineProperty(window, 'speechSynthesis', {value: {
            cancel() {}, speak(one) { window.spoken.push(one.words); }}});""")
    page.goto(sock_page.as_uri())
    page.get_by_role("button", name="Read aloud").click()
    press(page, "PageDown")
    assert page.evaluate("window.spoken") == [
        "Cuff, step 1. The rib is knitted flat on both beds. Set the beds to full pitch. "
        "Carriage at the right. By hand."]

    open_window(page, "settings")
    page.get_by_label("Read each new step aloud").check()
    page.locator("#settings [data-closes]").click()
    press(page, "PageDown")
    go_to(page, "8", 33)
    press(page, "PageDown")
    spoken = page.evaluate("window.spoken.slice(1).map((words) => words.split('. ')[0])")
    assert spoken == ["Cuff, step 3", "Turn to a tube, step 9"]


def test_the_screen_is_kept_awake_unless_it_shall_not(context, sock_page):
    page = context.new_page()
    page.add_init_script("""window.locks = [];
        Object.defineProperty(Navigator.prototype, 'wakeLock', {value: {
            request(kind) { window.locks.push(kind);
                return Promise.resolve({released: false, release() { window.locks.pop(); }}); }}});
        """)
    page.goto(sock_page.as_uri())
    assert page.evaluate("window.locks") == ["screen"]

    open_window(page, "settings")
    page.get_by_label("Keep the screen awake").uncheck()
    assert page.evaluate("window.locks") == []
    reload(page)
    assert page.evaluate("window.locks") == []
