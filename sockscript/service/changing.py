"""Requests that change a script: mends, layout, completion, renaming."""

from __future__ import annotations

import asyncio
from collections.abc import Sequence

from lsprotocol import types as lsp
from pygls.exceptions import JsonRpcInvalidParams

from sockscript.format.formatter import CannotFormatError, format_source
from sockscript.service.completion import Completion, completions
from sockscript.service.diagnostics import diagnostics, edit_for, title_of
from sockscript.service.document import Document
from sockscript.service.lines import size_names
from sockscript.service.rename import Refused, rename, rename_place
from sockscript.service.server import CHOOSE_SIZE, SockscriptServer
from sockscript.service.templates import TabStop, TemplatePart

_KINDS = {"line": lsp.CompletionItemKind.Keyword, "word": lsp.CompletionItemKind.Keyword,
          "needles": lsp.CompletionItemKind.Value, "name": lsp.CompletionItemKind.Variable,
          "technique": lsp.CompletionItemKind.Function,
          "function": lsp.CompletionItemKind.Function, "file": lsp.CompletionItemKind.File}


AFTER_ANSWER = 0.1
"""Seconds after an answer in which an editor has said what it made of it in the same place."""


def answer(server: SockscriptServer) -> None:
    """Teach a server to answer these requests."""
    _mend(server)
    _complete(server)
    _rename(server)


def _mend(server: SockscriptServer) -> None:
    @server.asked(lsp.TEXT_DOCUMENT_CODE_ACTION,
                    lsp.CodeActionOptions([lsp.CodeActionKind.QuickFix]))
    def mends(document: Document, params: lsp.CodeActionParams
              ) -> list[lsp.CodeAction | lsp.Command]:
        uri = params.text_document.uri
        found: list[lsp.CodeAction | lsp.Command] = []
        for diagnostic in diagnostics(document):
            if diagnostic.mend is None or not _same_line(server.range(diagnostic.at), params.range):
                continue
            edit = server.edit(edit_for(diagnostic.mend, document), document)
            found.append(lsp.CodeAction(
                title_of(diagnostic.mend, document), lsp.CodeActionKind.QuickFix,
                [server.diagnostic(diagnostic, document, uri)], is_preferred=True,
                edit=lsp.WorkspaceEdit({uri: [edit]})))
        if _on_sizes(document, params.range):
            # For editors without a command of their own for it.
            found += [lsp.Command(f"Show the counts of {name}", CHOOSE_SIZE, arguments=[name])
                      for name in size_names(document)]
        return found

    @server.asked(lsp.TEXT_DOCUMENT_FORMATTING)
    def formatting(document: Document, params: lsp.DocumentFormattingParams) -> list[lsp.TextEdit]:
        try:
            text = format_source(document.source)
        except CannotFormatError as error:
            # What is wrong is marked already; a script with slips keeps its layout.
            asyncio.get_running_loop().call_later(
                AFTER_ANSWER, server.window_show_message,
                lsp.ShowMessageParams(lsp.MessageType.Warning, _why_not_laid_out(error)))
            return []
        lines = document.source.lines
        if text == "".join(f"{line}\n" for line in lines):
            return []
        whole = lsp.Range(lsp.Position(0, 0), lsp.Position(len(lines), 0))
        return [lsp.TextEdit(whole, text)]


def _on_sizes(document: Document, where: lsp.Range) -> bool:
    """Whether the line that names the sizes is among these lines."""
    lines = document.source.lines[where.start.line:where.end.line + 1]
    return any(line.split()[:1] == ["sizes"] for line in lines)


def _why_not_laid_out(error: CannotFormatError) -> str:
    """Why a script keeps its layout, for whoever wonders that nothing happens."""
    if not error.problems:
        return f"The layout stays as it is: {error}"
    first, *others = error.problems
    more = f" {len(others) + 1} lines have slips." if others else ""
    return (f"The layout stays as it is until line {first.at.line} can be understood: "
            f"{first.message}{more}")


def _same_line(one: lsp.Range, other: lsp.Range) -> bool:
    """Whether two ranges have a line in common; where in it the cursor is does not matter."""
    return one.start.line <= other.end.line and other.start.line <= one.end.line


def _complete(server: SockscriptServer) -> None:
    @server.asked(lsp.TEXT_DOCUMENT_COMPLETION,
                    lsp.CompletionOptions(trigger_characters=["{", " "]))
    def complete(document: Document, params: lsp.CompletionParams) -> list[lsp.CompletionItem]:
        line, column = server.place(document, params.position)
        capabilities = server.client_capabilities.text_document
        item = capabilities.completion.completion_item if (
            capabilities and capabilities.completion) else None
        snippets = bool(item and item.snippet_support)
        return [_item(server, document, line, number, one, snippets)
                for number, one in enumerate(completions(document, line, column))]


def _item(server: SockscriptServer, document: Document, line: int, number: int,
          one: Completion, snippets: bool) -> lsp.CompletionItem:
    raw = document.source.line(line)
    indent = raw[:len(raw) - len(raw.lstrip())]
    text = (_snippet(one.parts) if snippets else one.text).replace("\n", f"\n{indent}")
    where = lsp.Range(server.position(document.source, line, one.start),
                      server.position(document.source, line, one.end))
    return lsp.CompletionItem(
        one.label, kind=_KINDS[one.kind], detail=one.about, sort_text=f"{number:05}",
        filter_text=one.text.split("\n")[0], text_edit=lsp.TextEdit(where, text),
        insert_text_mode=lsp.InsertTextMode.AsIs,
        insert_text_format=(lsp.InsertTextFormat.Snippet if snippets
                            else lsp.InsertTextFormat.PlainText))


def _snippet(parts: Sequence[TemplatePart]) -> str:
    """Parts in the protocol's snippet syntax."""
    text, stops = [], 0
    for part in parts:
        letters = part.text if isinstance(part, TabStop) else part
        for special in "\\$}":
            letters = letters.replace(special, f"\\{special}")
        if isinstance(part, TabStop):
            stops += 1
            text.append(f"${{{stops}:{letters}}}")
        else:
            text.append(letters)
    return "".join(text)


def _rename(server: SockscriptServer) -> None:
    @server.asked(lsp.TEXT_DOCUMENT_PREPARE_RENAME)
    def prepare(document: Document, params: lsp.PrepareRenameParams) -> lsp.Range | None:
        found = rename_place(document, *server.place(document, params.position),
                             server.others(document))
        if isinstance(found, Refused):
            raise JsonRpcInvalidParams(found.sentence)
        return server.range(found)

    @server.asked(lsp.TEXT_DOCUMENT_RENAME,
                    lsp.RenameOptions(prepare_provider=True))
    def renamed(document: Document, params: lsp.RenameParams) -> lsp.WorkspaceEdit | None:
        uri = params.text_document.uri
        found = rename(document, *server.place(document, params.position), params.new_name,
                       server.others(document))
        if isinstance(found, Refused):
            raise JsonRpcInvalidParams(found.sentence)
        changes: dict[str, list[lsp.TextEdit]] = {}
        for edit in found:
            where = server.uri_of_path(edit.path, uri)
            text = server.text_of(where)
            changes.setdefault(where, []).append(lsp.TextEdit(lsp.Range(
                server.position(text, edit.line, edit.start),
                server.position(text, edit.line, edit.end)), edit.text))
        return lsp.WorkspaceEdit(changes)
