"""An edit session over the protocol, as an editor would have it."""

from __future__ import annotations

import os
from pathlib import Path

from lsprotocol import types as lsp
from service.client import carried_out, editor

EXAMPLES = Path(__file__).resolve().parents[2] / "examples"
FAMILY = (EXAMPLES / "family-sock.sockscript").read_text("utf-8")


def session(folder, steps, can=None, said=()):
    """Run the steps of a session with an editor; ``can``: what the editor can show."""
    async def whole():
        async with editor(folder, can=can, said=said) as one:
            await steps(one)

    os.environ.setdefault("PYTHONUNBUFFERED", "1")
    carried_out(whole, 90)


def test_a_session_from_opening_to_closing(tmp_path):
    async def steps(one):
        assert await one.open(FAMILY) == []
        found = await one.replace("    thread main\n", "    thread mian\n")
        assert [d.code for d in found] == ["unknown-yarn"]
        assert "Did you mean 'main'?" in found[0].message
        line = one.text[:one.text.index("mian")].count("\n")
        assert found[0].range.start.line == line

        actions = await one.client.text_document_code_action_async(lsp.CodeActionParams(
            one.document, found[0].range, lsp.CodeActionContext(found)))
        assert [action.title for action in actions] == ["Change it to 'thread main'"]
        assert await one.apply(actions[0].edit.changes[one.uri]) == []
        assert one.text == FAMILY

        await one.replace("row counter 0\n", "row   counter   0\n")
        edits = await one.client.text_document_formatting_async(lsp.DocumentFormattingParams(
            one.document, lsp.FormattingOptions(4, True)))
        assert await one.apply(edits) == []
        assert one.text == FAMILY

        one.close()
        one.version = None
        assert await one.diagnostics() == []

    # Clients of several editors add this argument by themselves.
    session(tmp_path, steps, said=["--stdio"])


def test_counts_stand_at_the_ends_of_lines(tmp_path):
    async def hints(one):
        found = await one.client.text_document_inlay_hint_async(
            lsp.InlayHintParams(one.document, one.lines()))
        # Away from the line: `stitch size 6` and `28 + 28` would read as sixty-two and more.
        assert all(hint.label.startswith("  ") for hint in found)
        return {hint.position.line: hint.label.strip() for hint in found}

    async def steps(one):
        await one.open(FAMILY)
        await one.client.workspace_execute_command_async(
            lsp.ExecuteCommandParams("sockscript.server.chooseSize", ["Woman-M"]))
        shown = await hints(one)
        lines = FAMILY.split("\n")
        knit = lines.index("    knit rows(leg-length) to nearest rounds")
        # 22 cm less 10 % at 30 stitches over 10 cm: 59.4, to a multiple of 4: 60, 30 a bed;
        # 10 cm at 42 rows over 10 cm are 42 rows, 84 passes of the carriage.
        assert shown[knit] == "30 + 30 · COR · RC 84"

        # A slip leaves the counts of the lines that have not changed.
        await one.replace('section "Foot" in plain', 'section "Foot" in plan')
        assert (await hints(one))[knit] == shown[knit]

    session(tmp_path, steps)


def test_the_needles_after_a_line_are_drawn(tmp_path):
    async def steps(one):
        await one.open(FAMILY)
        line = FAMILY.split("\n").index("    do turn-to-tube with bed = back")
        found = await one.client.workspace_execute_command_async(
            lsp.ExecuteCommandParams("sockscript.server.needles", [one.uri, line]))
        found = found if isinstance(found, dict) else vars(found)
        assert found["svg"].startswith("<svg")
        assert f"after line {line + 1}" in found["title"]
        assert "Front bed: 28 stitches" in found["text"]

    session(tmp_path, steps)


def test_places_are_told_in_units_of_the_protocol(tmp_path):
    """Characters outside the Basic Multilingual Plane are two units of UTF-16."""
    script = ('pattern "Test"\nyarn main "wool"\nsection "A"\n'
              '    note "🧦🧦🧦 {nothing}"\n    knit 1 row\n')

    async def steps(one):
        found = await one.open(script)
        assert [d.code for d in found] == ["unknown-name"]
        start = one.position(script.index("nothing"))
        assert found[0].range.start == start

    session(tmp_path, steps)


def test_a_slip_in_a_used_file_is_marked_where_it_is_used(tmp_path):
    other = tmp_path / "club.sockscript"
    other.write_text("technique edge\n    knit 2 rowz\n", "utf-8")
    script = ('pattern "Test"\nyarn main "wool"\nuse "club.sockscript"\n'
              'section "A"\n    do edge\n')

    async def steps(one):
        found = await one.open(script)
        at_use = [d for d in found if d.range.start.line == 2]
        assert at_use
        assert "club.sockscript" in at_use[0].message
        assert at_use[0].related_information[0].location.uri == other.as_uri()

    session(tmp_path, steps)


def test_every_finding_of_the_broken_examples_is_told(tmp_path):
    """As many marks as the check has findings, script by script, in one session."""
    from sockscript.commands.check import check_file

    scripts = sorted((EXAMPLES / "broken").glob("*.sockscript"))[::12]

    async def steps(one):
        for path in scripts:
            checked = check_file(path, None)
            wanted = sorted([p.kind for p in checked.problems] + [f.kind for f in checked.findings])
            one.uri = path.as_uri()
            found = await one.open(path.read_text("utf-8"))
            assert sorted(d.code for d in found) == wanted, path.name

    session(tmp_path, steps)


def test_pasted_line_ends_of_a_word_processor_move_no_mark(tmp_path):
    """The protocol ends a line at \\n, \\r\\n and \\r only (LSP 3.17, "Text Documents").

    A word processor has \\x0b for a soft line end and \\x0c for a page break, a web page \\u2028.
    """
    script = 'pattern "Test"\nyarn main "wool"\nsection "A"\n    thread main\n'

    async def steps(one):
        await one.open(script)
        await one.replace('"Test"', '"Test\x0b\x0c\x1c\x85\u2028\u2029"')
        found = await one.replace("thread main", "thread mian")
        assert [(d.code, d.range.start) for d in found if d.code != "control-character"] == [
            ("unknown-yarn", one.position(one.text.index("thread")))]
        assert one.capabilities.text_document_sync.change == lsp.TextDocumentSyncKind.Full

    session(tmp_path, steps)
