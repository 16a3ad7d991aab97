"""Scripts as they are half way: no command trips over what is not there yet."""

from __future__ import annotations

import pytest

from attack.corpus import HEADERS
from sockscript.cli import _dispatch
from sockscript.pictures.kinds import KINDS

HEAD = 'pattern "First"\nyarn main "wool"\ngauge plain 30 stitches, 42 rows per 10 cm\n'
NO_NEEDLES = HEAD + 'section "Leg"\n    knit 20 rows\n'
NO_THREAD = (HEAD + 'section "Leg"\n    bring centre 20 of front into work to cast on\n'
             "    set front to knit\n    knit 20 rows\n")
COUNTED = [line for line in HEADERS if line.startswith("yarn main")]


@pytest.mark.parametrize("text", [NO_NEEDLES, NO_THREAD], ids=["no-needles", "no-thread"])
@pytest.mark.parametrize("what", KINDS)
def test_every_picture_is_drawn_or_refused(text, what, tmp_path, monkeypatch):
    monkeypatch.chdir(tmp_path)
    (tmp_path / "a.sockscript").write_text(text, "utf-8")
    more = ["--step", "1"] if what == "beds" else []
    status = _dispatch(["picture", "a.sockscript", "--what", what, "-o", "a.svg", *more])

    assert status in (0, 2)
    assert (tmp_path / "a.svg").exists() == (status == 0)


@pytest.mark.parametrize("yarn", COUNTED)
def test_a_yarn_told_by_its_count_has_a_table_without_balls(yarn, tmp_path, capsys):
    text = HEAD.replace('yarn main "wool"', yarn) + NO_THREAD[len(HEAD):].replace(
        "    knit", "    thread main\n    knit") + "    cut\n    drop all of front\n"
    (tmp_path / "a.sockscript").write_text(text, "utf-8")

    if _dispatch(["sizes", str(tmp_path / "a.sockscript")]) == 0:
        told = capsys.readouterr().out
        assert "metres" in told and "balls" not in told
    else:
        assert "0" in yarn.split("per")[-1] or " 0 " in yarn
