"""``import sockscript``: what it offers, that it costs nothing, that the README's part is true."""

from __future__ import annotations

import re
import subprocess
import sys
from importlib import resources
from pathlib import Path

import pytest

import sockscript

ROOT = Path(__file__).resolve().parents[2]
README = (ROOT / "README.md").read_text("utf-8")
SOCK = ROOT / "examples" / "family-sock.sockscript"


def test_importing_it_loads_nothing_else():
    code = ("import sys, sockscript\n"
            "print([name for name in sys.modules if name.startswith(('sockscript.', 'lark', "
            "'attr', 'typer'))])")
    done = subprocess.run([sys.executable, "-c", code], capture_output=True, text=True, check=True)

    assert done.stdout.strip() == "[]"


def test_every_name_is_there_and_documented():
    for name in sockscript.__all__:
        assert name in dir(sockscript)
        assert name == "__version__" or getattr(sockscript, name).__doc__
    with pytest.raises(AttributeError, match="no attribute 'knit'"):
        sockscript.knit  # noqa: B018


def test_types_come_with_it():
    assert resources.files("sockscript").joinpath("py.typed").is_file()


def test_the_part_of_the_readme_does_what_it_says(tmp_path, capsys, monkeypatch):
    part = README[README.index("From Python"):]
    code, shown = re.search(r"```python\n(.*?)```\n.*?```\n(.*?)```", part, re.S).groups()
    monkeypatch.chdir(ROOT)
    exec(compile(code, "README.md", "exec"), {})

    assert capsys.readouterr().out == shown


def test_a_size_or_choice_that_is_not_there_is_told():
    checked = sockscript.check(SOCK)

    with pytest.raises(sockscript.AskedForError, match="Did you mean 'Woman-M'"):
        sockscript.steps(checked, sizes=["Womn-M"])
    with pytest.raises(sockscript.AskedForError, match="not a choice for finish"):
        sockscript.sizes(checked, choices={"finish": "glue"})
    names, rows = sockscript.sizes(checked, sizes=["Woman-M"], choices={"finish": "gather"})
    assert names == ("Woman-M",) and all(len(row.values) == 1 for row in rows)


def test_a_script_with_problems_is_told_and_not_raised(tmp_path):
    checked = sockscript.check_text('pattern "x"\nyarn main "y"\nsection "A"\n    kint 4 rows\n')

    assert [p.kind for p in checked.problems] == ["unknown-word"] and not checked.knits
    with pytest.raises(sockscript.AskedForError, match="has problems"):
        sockscript.steps(checked)
    assert sockscript.check(tmp_path / "none.sockscript").problems[0].kind == "unreadable-file"
    assert sockscript.check(SOCK, "no-such-machine").problems[0].kind == "unknown-machine"
