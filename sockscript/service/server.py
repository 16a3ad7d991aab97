"""The language server (Language Server Protocol 3.17): maps requests to the modules beside it.

Imported only by its command, since pygls is an optional library.
"""

from __future__ import annotations

from pathlib import Path
from typing import Any

from lsprotocol import types as lsp
from pygls.lsp.server import LanguageServer
from pygls.uris import from_fs_path, to_fs_path

from sockscript import __version__
from sockscript.format.formatter import CannotFormatError, format_source
from sockscript.service.document import Document
from sockscript.service.lines import line_ends, needles_after, size_names
from sockscript.service.marks import Change, Mark, change_for, marks
from sockscript.text.source import Source, Span

SHOW_NEEDLES = "sockscript.server.needles"
SIZES = "sockscript.server.sizes"
CHOOSE_SIZE = "sockscript.server.chooseSize"

_SEVERITY = {"fault": lsp.DiagnosticSeverity.Error, "warning": lsp.DiagnosticSeverity.Warning,
             "advice": lsp.DiagnosticSeverity.Information}


class SockscriptServer(LanguageServer):
    """A server with the scripts that are open in the editor."""

    def __init__(self) -> None:
        super().__init__("sockscript", __version__)
        self.open: dict[str, Document] = {}
        self.size: str | None = None
        """The size whose counts are shown; None: the middle one."""

    # ---- places

    def position(self, source: Source, line: int, column: int) -> lsp.Position:
        """A place counted from 1 as the editor counts it."""
        lines = source.lines
        at = lsp.Position(max(0, line - 1), max(0, column - 1))
        if at.line >= len(lines):
            return lsp.Position(at.line, 0)
        units = self.workspace.position_codec.client_num_units(lines[at.line][:at.character])
        return lsp.Position(at.line, units)

    def range(self, at: Span) -> lsp.Range:
        """A place in a script; a mark has at least one character if the line has."""
        return lsp.Range(self.position(at.source, at.line, at.start),
                         self.position(at.source, at.line, max(at.end, at.start + 1)))

    def place(self, document: Document, position: lsp.Position) -> tuple[int, int]:
        """Line and column from 1."""
        lines = document.source.lines
        if position.line >= len(lines):
            return position.line + 1, 1
        codec = self.workspace.position_codec
        text, units, column = lines[position.line], 0, 0
        while column < len(text) and units < position.character:
            units += codec.client_num_units(text[column])
            column += 1
        return position.line + 1, column + 1

    def uri_of(self, source: Source, document: Document, uri: str) -> str | None:
        """Where a source lies; None for one that is in no file."""
        if source is document.source:
            return uri
        folder = source.folder
        if folder is None:
            return None
        found: str | None = from_fs_path(str(folder / Path(source.name).name))
        return found

    # ---- checking

    def check(self, uri: str) -> None:
        """Examine the newest text of a script and tell what is wrong with it."""
        text = self.workspace.get_text_document(uri)
        document = self.open.get(uri)
        if document is None:
            path = to_fs_path(uri)
            name, folder = (Path(path).name, Path(path).parent) if path else (uri, None)
            document = self.open[uri] = Document(name, folder)
        document.examine(text.source)
        self.text_document_publish_diagnostics(lsp.PublishDiagnosticsParams(
            uri, [self.diagnostic(mark, document, uri) for mark in marks(document)],
            text.version))

    def diagnostic(self, mark: Mark, document: Document, uri: str) -> lsp.Diagnostic:
        """A mark as the protocol has it."""
        related = []
        for at, label in mark.others:
            where = self.uri_of(at.source, document, uri)
            if where is not None:
                related.append(lsp.DiagnosticRelatedInformation(
                    lsp.Location(where, self.range(at)), label))
        return lsp.Diagnostic(self.range(mark.at), mark.words, _SEVERITY[mark.severity],
                              mark.kind, source="sockscript", related_information=related or None)

    def edit(self, change: Change, document: Document) -> lsp.TextEdit:
        """A change as the protocol has it."""
        return lsp.TextEdit(lsp.Range(self.position(document.source, *change.first),
                                      self.position(document.source, *change.last)), change.text)


def make_server() -> SockscriptServer:
    """A server that answers all that ``sockscript`` can."""
    server = SockscriptServer()
    _watch(server)
    _mend(server)
    _show(server)
    return server


def _watch(server: SockscriptServer) -> None:
    @server.feature(lsp.TEXT_DOCUMENT_DID_OPEN)
    def opened(params: lsp.DidOpenTextDocumentParams) -> None:
        server.check(params.text_document.uri)

    @server.feature(lsp.TEXT_DOCUMENT_DID_CHANGE)
    def changed(params: lsp.DidChangeTextDocumentParams) -> None:
        server.check(params.text_document.uri)

    @server.feature(lsp.TEXT_DOCUMENT_DID_SAVE)
    def saved(params: lsp.DidSaveTextDocumentParams) -> None:
        # Another script may use the file that was saved.
        for uri, document in list(server.open.items()):
            if uri != params.text_document.uri and document.examined.script.uses:
                document.forget_files()
                server.check(uri)

    @server.feature(lsp.TEXT_DOCUMENT_DID_CLOSE)
    def closed(params: lsp.DidCloseTextDocumentParams) -> None:
        uri = params.text_document.uri
        server.open.pop(uri, None)
        server.text_document_publish_diagnostics(lsp.PublishDiagnosticsParams(uri, []))


def _mend(server: SockscriptServer) -> None:
    @server.feature(lsp.TEXT_DOCUMENT_CODE_ACTION,
                    lsp.CodeActionOptions([lsp.CodeActionKind.QuickFix]))
    def mends(params: lsp.CodeActionParams) -> list[lsp.CodeAction]:
        uri = params.text_document.uri
        document = server.open.get(uri)
        if document is None:
            return []
        found = []
        for mark in marks(document):
            here = server.range(mark.at)
            if mark.mend is None or not _touch(here, params.range):
                continue
            edit = server.edit(change_for(mark.mend, document), document)
            found.append(lsp.CodeAction(
                _mend_title(edit, document), lsp.CodeActionKind.QuickFix,
                [server.diagnostic(mark, document, uri)], is_preferred=True,
                edit=lsp.WorkspaceEdit({uri: [edit]})))
        return found

    @server.feature(lsp.TEXT_DOCUMENT_FORMATTING)
    def formatting(params: lsp.DocumentFormattingParams) -> list[lsp.TextEdit]:
        document = server.open.get(params.text_document.uri)
        if document is None:
            return []
        try:
            text = format_source(document.source)
        except CannotFormatError:
            # What is wrong is marked already; a script with slips keeps its layout.
            return []
        lines = document.source.lines
        if text == "\n".join(lines) + "\n":
            return []
        end = lsp.Position(len(lines), 0)
        return [lsp.TextEdit(lsp.Range(lsp.Position(0, 0), end), text)]


def _touch(one: lsp.Range, other: lsp.Range) -> bool:
    """Whether two ranges have a line in common: the place of the cursor in it does not matter."""
    return one.start.line <= other.end.line and other.start.line <= one.end.line


def _mend_title(edit: lsp.TextEdit, document: Document) -> str:
    old = document.source.line(edit.range.start.line + 1).strip()
    new = edit.new_text.strip()
    if not new:
        return f"Take out the line '{old}'"
    if edit.range.start == edit.range.end:
        return f"Add the line '{new}'"
    return f"Change it to '{new}'"


def _show(server: SockscriptServer) -> None:
    @server.feature(lsp.TEXT_DOCUMENT_INLAY_HINT)
    def hints(params: lsp.InlayHintParams) -> list[lsp.InlayHint]:
        document = server.open.get(params.text_document.uri)
        if document is None:
            return []
        return [lsp.InlayHint(
            server.position(document.source, end.line, len(document.source.line(end.line)) + 1),
            end.short, tooltip=end.words, padding_left=True)
            for end in line_ends(document, server.size, params.range.start.line + 1,
                                 params.range.end.line + 1)]

    @server.command(SHOW_NEEDLES)
    def needles(uri: str, line: int) -> dict[str, str] | None:
        """The beds after a line (from 0) of a script: title, picture (SVG), plain characters."""
        document = server.open.get(uri)
        found = needles_after(document, line + 1, server.size) if document is not None else None
        return found._asdict() if found is not None else None

    @server.command(SIZES)
    def sizes(uri: str) -> dict[str, Any]:
        """The sizes of a script, and the one whose counts are shown."""
        document = server.open.get(uri)
        names = list(size_names(document)) if document is not None else []
        return {"sizes": names, "chosen": server.size}

    @server.command(CHOOSE_SIZE)
    def choose(size: str) -> None:
        """Show the counts of this size from now on."""
        server.size = size
        server.workspace_inlay_hint_refresh(None)

