"""The command: what it writes, what it refuses and in which words."""

from __future__ import annotations

import json
import re

import pytest
from support.command import sockscript

from follow.pages import write
from sockscript.machine.load import load_profile
from sockscript.machine.profile import Profile

FAULTY = '''pattern "Faulty"
yarn main "wool"
gauge plain 30 stitches, 42 rows per 10 cm
section "Test"
    bring centre 20 of front into work to cast on
    set front to knit
    knit 2 rows
'''


@pytest.fixture
def follow(examples, tmp_path):
    def run(*arguments, script="family-sock"):
        return sockscript("follow", examples / f"{script}.sockscript", *arguments, cwd=tmp_path)
    return run


def data_of(page) -> dict:
    return json.loads(re.search(r'id="data">(.*?)</script>', page.read_text("utf-8"), re.S)[1])


def test_a_page_is_written(follow, tmp_path):
    done = follow("--size", "man-l", "--choose", "finish=gather", "-o", "out.html")

    assert (done.returncode, done.stderr) == (0, "")
    assert done.stdout.startswith("Written: out.html\n")
    data = data_of(tmp_path / "out.html")
    assert (data["size"], data["choices"]) == ("Man-L", "heel-point third, finish gather")
    assert not any("Graft" in text for text in data["texts"])


@pytest.mark.parametrize("arguments, words", [
    (["-o", "x.html"], "Which size? Add --size and one of Toddler, "),
    (["--size", "Man-XL", "-o", "x.html"], "There is no size 'Man-XL'."),
    (["--size", "Man-L"], "wants a script and, after -o, the name of the page to write"),
    (["--size", "Man-L", "--choose", "finish=sew", "-o", "x.html"], "not a choice for finish"),
    (["--size", "Man-L", "--pace", "0", "-o", "x.html"], "from 0.1 to 600"),
    (["--size", "Man-L", "--pace", "nan", "-o", "x.html"], "from 0.1 to 600"),
    (["--size", "Man-L", "-o", "x.pdf"], "ends in .html, not in .pdf"),
    (["--size", "Man-L", "-o", "missing/x.html"], "missing/x.html cannot be written"),
])
def test_what_cannot_be_done_is_said_plainly(follow, tmp_path, arguments, words):
    done = follow(*arguments)

    assert done.returncode == 2
    assert words in done.stderr
    assert "Traceback" not in done.stderr
    assert list(tmp_path.iterdir()) == []


def test_the_pace_goes_to_the_page(follow, tmp_path):
    follow("--size", "Man-L", "--pace", "3.5", "-o", "out.html")

    assert data_of(tmp_path / "out.html")["pace"][0] == 3.5


def test_a_machine_is_named_in_its_own_words(follow, tmp_path):
    follow("--size", "Toddler", "--machine", "fell-90", "-o", "out.html")
    data = data_of(tmp_path / "out.html")

    profile = load_profile("fell-90")
    assert isinstance(profile, Profile)
    assert (data["needles"], data["machine"]) == (profile.needles, profile.name)
    assert any(f"({profile.words['circular']})" in text for text in data["texts"])


@pytest.mark.parametrize("script", [
    "afterthought-sock", "family-sock", "flat-sock", "leg-warmer", "toe-up-sock"])
def test_the_smallest_and_largest_size_of_every_example_run(context, examples, tmp_path, script):
    file = examples / f"{script}.sockscript"
    row = re.search(r"^sizes +(.*)$", file.read_text("utf-8"), re.M)
    page = context.new_page()
    mistakes: list[str] = []
    page.on("pageerror", lambda error: mistakes.append(str(error)))
    sizes = row[1].split() if row else [None]
    for size in {sizes[0], sizes[-1]}:
        out = write(file, tmp_path / f"{size}.html", size)
        assert out.stat().st_size < 300_000
        page.goto(out.as_uri())
        assert page.locator("#text").inner_text()
        assert page.locator("#picture svg").count() >= 1
    assert not mistakes


def test_a_pattern_with_faults_says_so_on_the_page(context, tmp_path, capsys):
    script = tmp_path / "faulty.sockscript"
    script.write_text(FAULTY, "utf-8")
    page = context.new_page()
    page.goto(write(script, tmp_path / "faulty.html").as_uri())

    assert "Do not knit it before it is mended." in page.locator("#message").inner_text()
    assert "WARNING" in capsys.readouterr().err


def test_a_pattern_without_steps_has_no_page(tmp_path):
    script = tmp_path / "empty.sockscript"
    script.write_text(FAULTY.partition("section")[0] + 'section "Test"\n    let n = 2\n', "utf-8")
    done = sockscript("follow", script, "-o", tmp_path / "x.html", cwd=tmp_path)

    assert done.returncode == 2
    assert "Traceback" not in done.stderr
    assert not (tmp_path / "x.html").exists()
