"""The pages of a catalogue: written once, nobody else's files touched, read in a browser."""

from __future__ import annotations

import json
import os
import re
import shutil
import time
from html.parser import HTMLParser
from pathlib import Path

import pytest
from attrs import evolve
from support.command import ROOT, sockscript
from support.made_patterns import small_pattern
from support.schemas import follows_schema

from sockscript.catalogue.entry import entry_of
from sockscript.catalogue.site import SitePattern, first_page
from sockscript.findings.checked import check
from sockscript.text.source import Source

TIDE = small_pattern(2).replace("    cut\n    bind off front\n", "    do gathered-end\n")
HOSTILE = '<img src=x onerror=alert(1)><script>alert(2)</script> & "'


def written(done) -> tuple[int, int]:
    """How many patterns, and how many files were written."""
    found = re.search(r"\((\d+) patterns?; (\d+) files? new or changed\)", done.stdout)
    assert found is not None and done.returncode == 0, done.stdout + done.stderr
    return int(found[1]), int(found[2])


def stems(out: Path) -> set[str]:
    return {path.name.removesuffix("-leaflet.html")
            for path in (out / "patterns").glob("*-leaflet.html")}


class Site:
    """A folder of patterns and where its pages go."""

    def __init__(self, base: Path) -> None:
        self.base = base
        self.folder = base / "our club"
        self.out = base / "pages"
        self.folder.mkdir()

    def write(self, *words: str, out: Path | None = None):
        return sockscript("catalogue", str(self.folder), *words, "--site", str(out or self.out),
                          cwd=self.base, XDG_CACHE_HOME=str(self.base / "cache"))

    def put(self, name: str, text: str) -> Path:
        path = self.folder / name
        path.write_text(text, "utf-8")
        return path


@pytest.fixture
def site(tmp_path):
    return Site(tmp_path)


@pytest.fixture
def two(site):
    """A site of two patterns."""
    site.put("lantern.sockscript", small_pattern(1))
    site.put("tide.sockscript", TIDE)
    assert written(site.write())[0] == 2
    return site


@pytest.fixture(scope="module")
def mixed(tmp_path_factory):
    """A site with every kind of file."""
    one = Site(tmp_path_factory.mktemp("mixed"))
    for name in ("flat-sock", "toe-up-sock", "leg-warmer"):
        one.put(f"{name}.sockscript", (ROOT / "examples" / f"{name}.sockscript").read_text("utf-8"))
    quoted = HOSTILE.replace('"', "”")
    hostile = re.sub('^pattern ".*"', f'pattern "{quoted}"', small_pattern(3))
    one.put("hostile '\"<b>.sockscript", hostile)
    one.put("slip.sockscript", 'pattern "<b>Slip"\nsection "x"\n    kint <i>\n')
    one.put("ours.sockscript", "technique our-end\n    cut\n")
    one.put("hole.sockscript",
            (ROOT / "examples" / "broken" / "short-row-hole.sockscript").read_text("utf-8"))
    written(one.write())
    return one


def test_what_is_written(two):
    names = {path.name for path in (two.out / "patterns").iterdir()}
    (lantern,) = (stem for stem in stems(two.out) if stem.startswith("lantern-"))
    first = (two.out / "index.html").read_text("utf-8")
    page = (two.out / "patterns" / f"{lantern}.html").read_text("utf-8")

    assert {f"{lantern}.html", f"{lantern}-leaflet.html", f"{lantern}-shape.svg"} <= names
    assert f'href="patterns/{lantern}.html"' in first and "<h1>our club</h1>" in first
    for name in re.findall(r'(?:href|src)="([^"#]+)"', page):
        assert (two.out / "patterns" / name).is_file(), name


def test_only_what_changed_is_written_anew(two):
    times = {path: path.stat().st_mtime_ns for path in two.out.rglob("*") if path.is_file()}
    assert written(two.write()) == (2, 0)
    assert times == {path: path.stat().st_mtime_ns for path in two.out.rglob("*")
                     if path.is_file()}

    two.put("tide.sockscript", TIDE.replace("author", "# so\nauthor", 1))
    count, files = written(two.write())
    changed = {path.name for path, time in times.items() if path.stat().st_mtime_ns != time}
    assert count == 2 and 0 < files <= 3
    assert all(name.startswith("tide-") or name == "sockscript-site.json" for name in changed)


def test_what_is_lost_is_written_again(two):
    lost = next((two.out / "patterns").glob("lantern-*-leaflet.html"))
    text = lost.read_bytes()
    lost.unlink()

    assert written(two.write()) == (2, 1)
    assert lost.read_bytes() == text


def test_pages_of_a_pattern_that_is_gone_go_too(two):
    (two.folder / "tide.sockscript").unlink()
    mine = two.out / "patterns" / "tide-mine.html"
    mine.write_text("mine", "utf-8")

    assert written(two.write()) == (1, 1)
    assert {path.name for path in (two.out / "patterns").glob("tide-*")} == {"tide-mine.html"}


def test_what_another_wrote_or_changed_stays(two):
    page = next(path for path in (two.out / "patterns").glob("tide-*.html")
                if "leaflet" not in path.name)
    page.write_text("changed by hand", "utf-8")
    (two.out / "notes.txt").write_text("ours", "utf-8")
    two.put("tide.sockscript", TIDE.replace("version", "version 77 #", 1))
    done = two.write()

    assert page.read_text("utf-8") == "changed by hand" and "is left as it is" in done.stderr
    (two.folder / "tide.sockscript").unlink()
    two.write()
    assert page.read_text("utf-8") == "changed by hand"
    assert (two.out / "notes.txt").read_text("utf-8") == "ours"


def test_a_page_of_somebody_else_is_never_replaced(site):
    site.put("a.sockscript", small_pattern(1))
    site.out.mkdir()
    (site.out / "index.html").write_text("my own page", "utf-8")
    done = site.write()

    assert done.returncode == 2 and "did not write" in done.stderr
    assert [path.name for path in site.out.iterdir()] == ["index.html"]


@pytest.mark.parametrize("harm", ["{", "[]", '{"form": "x"}', '{"form": "sockscript-site-1"}',
                                  '{"form": "sockscript-site-1", "files": [1], "patterns": {}}'])
def test_a_damaged_list_of_what_is_ours(two, harm):
    (two.out / "sockscript-site.json").write_text(harm, "utf-8")
    before = {path: path.read_bytes() for path in two.out.rglob("*") if path.is_file()}
    done = two.write()

    assert done.returncode == 2 and "Traceback" not in done.stderr
    assert before == {path: path.read_bytes() for path in two.out.rglob("*") if path.is_file()}


def test_a_list_that_names_other_files_takes_none_away(two):
    """Someone may have put a list into a shared folder that names files outside."""
    victim = two.base / "victim.html"
    victim.write_text("mine", "utf-8")
    kept = two.out / "sockscript-site.json"
    data = json.loads(kept.read_text("utf-8"))
    follows_schema(data, "catalogue/site")
    import hashlib

    digest = hashlib.sha256(b"mine").hexdigest()
    for name in ("../victim.html", "patterns/../../victim.html", str(victim),
                 "patterns/link.html"):
        data["files"][name] = [digest, 4]
    (two.out / "patterns" / "link.html").symlink_to(victim)
    kept.write_text(json.dumps(data), "utf-8")
    written(two.write())

    assert victim.read_text("utf-8") == "mine"


def test_nothing_is_written_through_links(two):
    victim = two.base / "victim.html"
    victim.write_text("mine", "utf-8")
    page = next((two.out / "patterns").glob("tide-*-leaflet.html"))
    page.unlink()
    page.symlink_to(victim)
    two.write()
    assert victim.read_text("utf-8") == "mine"

    shutil.rmtree(two.out / "patterns")
    (two.base / "elsewhere").mkdir()
    (two.out / "patterns").symlink_to(two.base / "elsewhere")
    done = two.write()
    assert done.returncode == 2 and "is a link" in done.stderr
    assert not list((two.base / "elsewhere").iterdir())


def test_where_a_site_cannot_be(site):
    site.put("a.sockscript", small_pattern(1))
    (site.base / "file").write_text("", "utf-8")

    assert "is not a folder" in site.write(out=site.base / "file").stderr
    assert "among them" in site.write(out=site.folder).stderr
    assert "among them" in site.write(out=site.base).stderr
    assert "either --site" in site.write("--all").stderr
    assert [path.name for path in site.folder.iterdir()] == ["a.sockscript"]


def test_a_site_within_the_folder_is_not_listed(site):
    site.put("a.sockscript", small_pattern(1))
    out = site.folder / "site"

    assert written(site.write(out=out))[0] == 1
    assert written(site.write(out=out)) == (1, 0)


def test_what_was_asked_is_on_the_site(two):
    out = two.base / "some"
    count, _ = written(two.write("--technique", "gathered-end", out=out))

    assert count == len(stems(out)) == 1


class _Tags(HTMLParser):
    def __init__(self) -> None:
        super().__init__()
        self.tags: list[str] = []
        self.words = ""

    def handle_starttag(self, tag, attributes):
        self.tags.append(tag)
        assert not [name for name, _ in attributes if name.startswith("on")], attributes

    def handle_data(self, data):
        self.words += data


def test_hostile_words_stay_words(mixed):
    for path in mixed.out.rglob("*.html"):
        reader = _Tags()
        reader.feed(path.read_text("utf-8"))
        assert reader.tags.count("script") == (path.name == "index.html"), path
        if "leaflet" not in path.name:
            assert not {"b", "i"} & set(reader.tags)
    assert all(re.fullmatch(r"[a-z0-9.-]+", path.name)
               for path in (mixed.out / "patterns").iterdir())
    reader = _Tags()
    reader.feed((mixed.out / "index.html").read_text("utf-8"))
    assert "<script>alert(2)</script>" in reader.words
    assert "slip.sockscript: cannot be used" in reader.words
    assert "ours.sockscript: techniques only" in reader.words


def test_a_pattern_with_faults_says_so_first(mixed):
    page = next(path for path in (mixed.out / "patterns").glob("hole-*.html")
                if "leaflet" not in path.name).read_text("utf-8")

    assert "Do not knit this pattern before it is mended" in page
    assert page.index("Do not knit") < page.index("Download the")


# ---- in a browser


@pytest.fixture
def opened(browser):
    """Opens a page; every mistake in it fails the test, and so does any request but for files."""
    pages, mistakes = [], []

    def go(path: Path, **options):
        page = browser.new_page(**options)
        pages.append(page)
        page.set_default_timeout(20_000)
        page.on("pageerror", lambda error: mistakes.append(str(error)))
        page.on("console", lambda message: mistakes.append(message.text))
        page.on("dialog", lambda dialog: mistakes.append("a dialog"))
        page.on("request", lambda request: None if request.url.startswith("file:")
                else mistakes.append(request.url))
        page.goto(path.as_uri())
        return page

    yield go
    for page in pages:
        page.close()
    assert not mistakes


def shown(page) -> list[str]:
    return page.evaluate("[...document.querySelectorAll('ul.patterns > li')]"
                         ".filter((one) => !one.hidden).map((one) => "
                         "one.querySelector('h2').textContent)")


def fits(page, count: int) -> None:
    # The policy of the page lets no text run, not even the one that Playwright would wait with.
    until = time.monotonic() + 20
    while len(shown(page)) != count and time.monotonic() < until:
        page.wait_for_timeout(50)
    assert len(shown(page)) == count


def test_the_first_page_finds_patterns_from_a_file(mixed, opened):
    page = opened(mixed.out / "index.html")
    assert len(shown(page)) == 5 and page.locator("#count").inner_text() == "5 patterns"

    page.get_by_label("Foot length in cm").fill("25")
    page.get_by_label("Needle beds").select_option("1")
    fits(page, 1)
    assert shown(page) == ["Boathouse Sock"]
    assert page.locator("#count").inner_text() == "1 of 5 patterns fit"
    # With an inch tape: 15 in are longer than any of its feet, 9 7/8 in are 25.1 cm.
    page.get_by_label("Foot length in cm").fill("15 in")
    fits(page, 0)
    for typed in ("9 7/8 in", '9⅞"', "9,875 inches"):
        page.get_by_label("Foot length in cm").fill(typed)
        fits(page, 1)
    page.get_by_role("button", name="Show all").click()
    fits(page, 5)
    page.get_by_label("Words").fill("MÓORING")
    fits(page, 1)
    page.get_by_label("Words").fill("")
    page.get_by_label("Stitches in 10 cm").fill("28")
    page.get_by_label("Check").select_option("clean")
    fits(page, 1)
    page.get_by_label("Stitches in 10 cm").fill("99/in")
    fits(page, 0)
    page.get_by_label("Stitches in 10 cm").fill("7 1/8 per in")  # 28.05 in 10 cm
    fits(page, 1)
    assert shown(page) == ["Mooring Leg Warmer"]
    page.get_by_label("Stitches in 10 cm").fill("thick")
    page.wait_for_selector("#stitches[aria-invalid=true]")


def test_a_page_leads_to_leaflet_and_download(mixed, opened):
    page = opened(mixed.out / "index.html")
    page.get_by_role("link", name="Boathouse Sock").click()
    page.wait_for_selector("dl")
    assert page.evaluate("[...document.images].every((one) => one.complete && one.naturalWidth)")
    there = page.get_by_role("link", name="Download the").get_attribute("href")
    assert (mixed.out / "patterns" / there).stat().st_size > 1000
    page.get_by_role("link", name="Read the leaflet").click()
    page.wait_for_selector("h1")
    assert page.locator("h1").inner_text() == "Boathouse Sock"


def test_it_is_read_without_scripts(mixed, browser):
    context = browser.new_context(java_script_enabled=False)
    page = context.new_page()
    page.goto((mixed.out / "index.html").as_uri())

    assert page.get_by_role("link", name="Boathouse Sock").is_visible()
    assert not page.locator("form").is_visible()
    page.get_by_role("link", name="Boathouse Sock").click()
    assert page.get_by_text("four-ply sock wool (400 m in 100 g)").is_visible()
    context.close()


def test_nothing_is_wider_than_the_window(mixed, opened):
    for path in [mixed.out / "index.html", *(path for path in (mixed.out / "patterns").glob(
            "*.html") if "leaflet" not in path.name)]:
        page = opened(path, viewport={"width": 1280, "height": 800})
        for width in (1280, 360):
            page.set_viewport_size({"width": width, "height": 800})
            assert page.evaluate("document.documentElement.scrollWidth") <= width, path


def test_an_accessibility_scan_finds_nothing(mixed, opened, axe):
    """axe-core, all its rules (WCAG 2.2 A and AA, and good practice)."""
    for path in [mixed.out / "index.html", *(path for path in (mixed.out / "patterns").glob(
            "*.html") if "leaflet" not in path.name)]:
        page = opened(path)
        page.evaluate(axe)
        found = page.evaluate("axe.run()")
        assert [(one["id"], one["nodes"][0]["html"]) for one in found["violations"]] == [], path


def test_a_thousand_patterns(tmp_path, opened):
    """Each keystroke filters them within a blink (a tenth of a second; the busy machine gets
    ten times that).  Writing the pages of as many is measured in ``tests/bench/club.py``."""
    made = [entry_of(f"p{n}.sockscript", check(Source("a", small_pattern(n)))) for n in range(20)]
    titles = [small_pattern(n).partition("\n")[0][len('pattern "'):-1] for n in range(1000)]
    (tmp_path / "index.html").write_text(first_page("our club", [
        SitePattern(evolve(made[n % 20], path=f"p{n}.sockscript", title=title), f"p{n}")
        for n, title in enumerate(titles)]), "utf-8")
    page = opened(tmp_path / "index.html")
    wanted = sum("Heron" in title for title in titles)

    page.get_by_label("Words").fill("heron")
    fits(page, wanted)
    assert page.locator("#count").inner_text() == f"{wanted} of 1000 patterns fit"
    took = page.evaluate("""() => {
        const form = document.getElementById("wanted");
        form.elements.words.value = "tide";
        const start = performance.now();
        form.dispatchEvent(new Event("submit", {cancelable: true}));
        document.body.offsetHeight;
        return performance.now() - start;
    }""")
    assert took < 1000
    assert os.path.getsize(tmp_path / "index.html") < 2_000_000
