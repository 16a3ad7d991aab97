"""The cautions of the trade stand where someone can be hurt.  Common practice, no source."""

from __future__ import annotations

import pytest
from support.command import sockscript
from support.scripts import FLAT, run

from sockscript.sheet.cautions import usual_cautions

SOCK = "../examples/family-sock.sockscript"
ALWAYS = ("never force a carriage that jams", "The manual of your machine comes first",
          "keep children away from weights", "ask a clinician", "no medical compression garment",
          "children and old people need non-slip soles", "Wool, nylon and dyes can irritate skin")


def plain(text: str) -> str:
    return " ".join(text.replace("Mind:", "").replace("&#x27;", "'").split())


@pytest.mark.parametrize("options", [
    ("steps", SOCK), ("steps", SOCK, "--format", "markdown"), ("steps", SOCK, "--format", "json"),
    ("steps", SOCK, "--every-row", "--size", "Toddler"), ("steps", SOCK, "--all-choices"),
    ("fit", SOCK, "--foot-length", "24cm"), ("sheet", SOCK, "-o", "cautions.html"),
    ("follow", SOCK, "--size", "Toddler", "-o", "cautions.html")])
def test_they_are_printed_with_every_pattern(options, tmp_path):
    where = [str(tmp_path / one) if one.endswith(".html") else one for one in options]
    done = sockscript(*where)
    text = (tmp_path / "cautions.html").read_text("utf-8") if where != list(options) \
        else done.stdout

    assert done.returncode == 0
    assert [words for words in ALWAYS if words not in plain(text)] == []


def test_after_a_mishap_a_jam_is_not_forced_and_children_stay_away(tmp_path):
    said = ["never force a carriage that jams", "keep children away", "manual of your machine"]
    page = tmp_path / "page.html"
    sockscript("follow", SOCK, "--size", "Toddler", "-o", str(page))
    beds = sockscript("needles", SOCK, "--size", "Toddler", "--step", "18").stdout

    assert [words for words in said if words not in plain(beds)] == []
    assert [words for words in said if words not in plain(page.read_text("utf-8"))] == []


def test_carriages_stay_clear_while_a_bed_is_racked():
    still, racked = (run(f"half pitch\n{FLAT}\n{lines}knit 4 rows\ncut\ngather front")
                     for lines in ("", "rack to 1 right\nrack to 0\n"))

    assert any("clear of the working needles" in one for one in usual_cautions([still, racked]))
    assert not any("rack" in one for one in usual_cautions([still]))
