"""Scripts that are spoiled at random never bring the program down."""

from __future__ import annotations

from pathlib import Path

import pytest
from hypothesis import HealthCheck, given, settings
from hypothesis import strategies as st

from sockscript.commands import needles, steps
from sockscript.commands.check import check_file, report

ROOT = Path(__file__).resolve().parents[2]
SCRIPTS = [path.read_text("utf-8") for path in sorted((ROOT / "examples").glob("*.sockscript"))]
WORDS = sorted({word for text in SCRIPTS for word in text.split()} | {
    "0", "-", "to", "of", "L999", "R0", "1/0", "½", "“", '"', "{", "}", "(", ")", "both", "other",
    "until", "10000000", "cm", "%", "=", "held", "\t", "#"})
EVERYTHING = {"sizes": [], "choose": [], "all_choices": True, "machine": None, "every_row": False,
              "my_size": None, "bank_book": False, "out": None}


@st.composite
def spoiled(draw):
    """An example with a few lines or words lost, doubled, swapped or replaced."""
    lines = draw(st.sampled_from(SCRIPTS)).splitlines()
    for _ in range(draw(st.integers(1, 4))):
        n = draw(st.integers(0, len(lines) - 1))
        m = draw(st.integers(0, len(lines) - 1))
        words = lines[n].split(" ")
        w = draw(st.integers(0, len(words) - 1))
        match draw(st.sampled_from(["lose", "double", "swap", "word", "cut", "indent", "less"])):
            case "lose":
                del lines[n]
            case "double":
                lines.insert(m, lines[n])
            case "swap":
                lines[n], lines[m] = lines[m], lines[n]
            case "word":
                words[w] = draw(st.sampled_from(WORDS))
                lines[n] = " ".join(words)
            case "cut":
                lines[n] = lines[n][:draw(st.integers(0, len(lines[n])))]
            case "indent":
                lines[n] = "    " + lines[n]
            case _:
                lines[n] = lines[n].lstrip()
        if not lines:
            lines = ["#"]
    return "\n".join(lines)


@settings(max_examples=40, derandomize=True, deadline=None,
          suppress_health_check=list(HealthCheck))
@given(spoiled())
def test_a_spoiled_script_is_told_not_tripped_over(tmp_path_factory, text):
    path = tmp_path_factory.mktemp("spoiled") / "a.sockscript"
    path.write_text(text, "utf-8")
    checked = check_file(path, None)

    assert report(checked)
    for found in (*checked.problems, *checked.findings):
        assert 1 <= found.at.line <= max(1, len(text.splitlines())) or (
            found.at.source.name != str(path))
    if not checked.problems:
        assert steps.run(file=path, format="text", **EVERYTHING) in (0, 2)


# Every third, and none of 25,000 lines: `tests/attack/fuzz.py` prints thousands of spoiled ones.
@pytest.mark.parametrize("path", [
    path for path in sorted((ROOT / "examples" / "broken").glob("*.sockscript"))[::3]
    if path.stem != "too-long"], ids=lambda path: path.stem)
def test_every_broken_example_can_be_printed_or_is_refused(path, capsys):
    for form in ("text", "markdown", "json"):
        status = steps.run(file=path, format=form, **EVERYTHING)
        out, err = capsys.readouterr()

        assert (status == 0 and out) or (status == 2 and err)
    assert steps.run(file=path, format="text", **{**EVERYTHING, "every_row": True}) in (0, 2)
    for step in (1, 3, 99):
        assert needles.run(file=path, size=None, step=step, row=None, choose=[],
                           machine=None) in (0, 2)
    assert needles.run(file=path, size=None, step=None, row=4, choose=[], machine=None) in (0, 2)
