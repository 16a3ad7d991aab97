"""What an editor asks over the protocol, answered with places in its own units."""

from __future__ import annotations

import asyncio
import re

import pytest
from lsprotocol import types as lsp
from pygls.exceptions import JsonRpcException
from service.test_server import FAMILY, session


def at(one, words, inside=0):
    """The document and the place where some words first stand."""
    return {"text_document": one.document,
            "position": one.position(one.text.index(words) + inside)}


def test_a_name_is_renamed_everywhere(tmp_path):
    async def steps(one):
        await one.open(FAMILY)
        place = at(one, "let narrow", 5)
        where = await one.client.text_document_prepare_rename_async(
            lsp.PrepareRenameParams(**place))
        assert one.text[one.offset(where.start):one.offset(where.end)] == "narrow"
        edit = await one.client.text_document_rename_async(
            lsp.RenameParams(new_name="waist", **place))
        count = len(re.findall(r"(?<![\w-])narrow(?![\w-])", FAMILY))
        assert len(edit.changes[one.uri]) == count
        assert await one.apply(edit.changes[one.uri]) == []
        assert one.text == re.sub(r"(?<![\w-])narrow(?![\w-])", "waist", FAMILY)

    session(tmp_path, steps)


def test_a_name_that_cannot_be_is_refused_in_words(tmp_path):
    async def steps(one):
        await one.open(FAMILY)
        with pytest.raises(JsonRpcException, match="word of the language"):
            await one.client.text_document_rename_async(
                lsp.RenameParams(new_name="stitches", **at(one, "let narrow", 5)))

    session(tmp_path, steps)


def test_names_lead_to_where_they_are_given_and_used(tmp_path):
    async def steps(one):
        await one.open(FAMILY)
        use = FAMILY.index("leave = toe")
        found = await one.client.text_document_definition_async(
            lsp.DefinitionParams(one.document, one.position(use + 8)))
        assert [(p.uri, one.offset(p.range.start)) for p in found] == [
            (one.uri, FAMILY.index("let toe ") + 4)]
        found = await one.client.text_document_references_async(lsp.ReferenceParams(
            lsp.ReferenceContext(True), one.document, one.position(use + 8)))
        assert use + 8 in [one.offset(p.range.start) for p in found]

        # A technique that is shipped leads to its file.
        found = await one.client.text_document_definition_async(
            lsp.DefinitionParams(**at(one, "do wedge-toe", 4)))
        assert found[0].uri.endswith(".sockscript")
        assert found[0].uri != one.uri

    session(tmp_path, steps)


@pytest.mark.parametrize("forms, mark", [(None, "**"), (["markdown", "plaintext"], "**"),
                                         (["plaintext"], "")])
def test_a_value_is_told_for_every_size(forms, mark, tmp_path):
    """In columns, since many editors draw no table of Markdown; plain for those that draw none."""
    async def steps(one):
        await one.open(FAMILY)
        found = (await one.client.text_document_hover_async(
            lsp.HoverParams(**at(one, "let around", 5)))).contents
        # 22 cm less 10 % at 30 stitches over 10 cm: 59.4, to a multiple of 4.
        assert re.search(r"\n    Woman-M  +60 stitches\n", found.value)
        assert found.value.startswith(f"{mark}around: ") and "|" not in found.value
        assert found.kind == ("markdown" if mark else "plaintext")

    session(tmp_path, steps, forms and lsp.ClientCapabilities(
        text_document=lsp.TextDocumentClientCapabilities(
            hover=lsp.HoverClientCapabilities(content_format=forms))))


def test_what_can_stand_here_is_offered(tmp_path):
    async def steps(one):
        await one.open(FAMILY)
        await one.replace("    thread main\n", "    thread \n")
        place = one.position(one.text.index("    thread \n") + 11)
        found = await one.client.text_document_completion_async(
            lsp.CompletionParams(one.document, place))
        items = found.items if hasattr(found, "items") else found
        main = next(item for item in items if item.label == "main")
        assert await one.apply([main.text_edit]) == []
        assert one.text == FAMILY

    session(tmp_path, steps)


def test_the_outline_has_the_sections_and_they_fold(tmp_path):
    async def steps(one):
        await one.open(FAMILY)
        lines = FAMILY.split("\n")
        found = await one.client.text_document_document_symbol_async(
            lsp.DocumentSymbolParams(one.document))
        sections = [s for s in found if s.kind == lsp.SymbolKind.Module]
        assert [s.name for s in sections] == re.findall(r'^section "(.*?)"', FAMILY, re.M)
        for entry in sections:
            assert lines[entry.range.start.line].startswith("section")
        folds = await one.client.text_document_folding_range_async(
            lsp.FoldingRangeParams(one.document))
        assert {entry.range.start.line for entry in sections} <= {f.start_line for f in folds}

    session(tmp_path, steps)


def test_every_piece_has_a_kind_in_the_units_of_the_protocol(tmp_path):
    script = 'pattern "🧦🧦 socks"  # 🧦 a comment\nyarn main "wool"\n'

    async def steps(one):
        await one.open(script)
        legend = one.capabilities.semantic_tokens_provider.legend.token_types
        data = (await one.client.text_document_semantic_tokens_full_async(
            lsp.SemanticTokensParams(one.document))).data
        line = start = 0
        found = []
        for n in range(0, len(data), 5):
            start = data[n + 1] + (start if not data[n] else 0)
            line += data[n]
            first = one.offset(lsp.Position(line, start))
            last = one.offset(lsp.Position(line, start + data[n + 2]))
            found.append((script[first:last], legend[data[n + 3]]))
        assert found == [("pattern", "keyword"), ('"🧦🧦 socks"', "string"),
                         ("# 🧦 a comment", "comment"), ("yarn", "keyword"), ("main", "type"),
                         ('"wool"', "string")]

    session(tmp_path, steps)


def test_of_letters_typed_fast_only_the_last_is_checked(tmp_path):
    async def steps(one):
        await one.open(FAMILY)
        told = len(one.told[one.uri])
        start = FAMILY.index("    thread main")
        for n, letter in enumerate("    knit 2 rows\n"):
            one.type(start + n, start + n, letter)
        # An answer is for the newest text, also while its check still waits.
        found = await one.client.text_document_hover_async(lsp.HoverParams(
            one.document, one.position(start + 5)))
        assert "knit" in found.contents.value.lower()
        await one.diagnostics()
        assert one.told[one.uri][-1].version == one.version
        assert len(one.told[one.uri]) - told < 8

    session(tmp_path, steps)


SLIP = '''pattern "Strip"
section "Cuff"
    bring centre 20 of front into work
     set front to knit
'''


def test_a_layout_that_stays_as_it_is_says_why(tmp_path):
    async def steps(one):
        said, told = [], asyncio.Event()

        @one.client.feature(lsp.WINDOW_SHOW_MESSAGE)
        def shown(params):
            said.append(params)
            told.set()

        options = lsp.FormattingOptions(tab_size=4, insert_spaces=True)
        await one.open(SLIP)
        ask = lsp.DocumentFormattingParams(one.document, options)
        assert not await one.client.text_document_formatting_async(ask)
        await asyncio.wait_for(told.wait(), 20)
        assert [(m.type, m.message) for m in said] == [(
            lsp.MessageType.Warning, "The layout stays as it is until line 4 can be understood: "
            "This line is indented under 'bring centre 20 of front into work', which takes "
            "nothing under it.")]

        # The line that is a column off has its mend, wherever in it the cursor stands.
        (action,) = await one.client.text_document_code_action_async(lsp.CodeActionParams(
            one.document, lsp.Range(lsp.Position(3, 9), lsp.Position(3, 9)),
            lsp.CodeActionContext([])))
        assert action.title == "Begin this line in column 5"
        await one.apply(action.edit.changes[one.uri])
        assert one.text == SLIP.replace("     set", "    set")
        assert not await one.client.text_document_formatting_async(ask) and len(said) == 1

    session(tmp_path, steps)


def test_the_size_is_chosen_at_the_line_of_the_sizes(tmp_path):
    async def steps(one):
        await one.open(FAMILY)
        line = FAMILY[:FAMILY.index("sizes  ")].count("\n")

        async def actions(number):
            at = lsp.Position(number, 0)
            return await one.client.text_document_code_action_async(lsp.CodeActionParams(
                one.document, lsp.Range(at, at), lsp.CodeActionContext([]))) or []

        found = {one.title: one for one in await actions(line)}
        assert len(found) == 9 and await actions(line + 1) == []
        chosen = found["Show the counts of Man-L"]
        await one.client.workspace_execute_command_async(
            lsp.ExecuteCommandParams(chosen.command, chosen.arguments))
        hints = await one.client.text_document_inlay_hint_async(lsp.InlayHintParams(
            one.document, lsp.Range(lsp.Position(0, 0), lsp.Position(200, 0))))
        # 27 cm less 10 % at 3 stitches a cm are 72.9: 72 stitches, 36 a bed.
        assert any("36" in hint.label for hint in hints)

    session(tmp_path, steps)
