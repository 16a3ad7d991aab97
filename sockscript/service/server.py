"""A session with an editor (Language Server Protocol 3.17): open scripts, places, what is told.

Imported only by the command that serves, since pygls is an optional library; ``protocol`` puts
the server together.
"""

from __future__ import annotations

import gc
from collections.abc import Callable
from pathlib import Path
from typing import Any, TypeVar

from lsprotocol import types as lsp
from pygls.lsp.server import LanguageServer
from pygls.uris import from_fs_path, to_fs_path

from sockscript import __version__
from sockscript.machine.places import usual_machine
from sockscript.service.diagnostics import Diagnostic, TextEdit, diagnostics
from sockscript.service.document import Document
from sockscript.service.files import file_at, path_of
from sockscript.text.source import Source, Span

CHOOSE_SIZE = "sockscript.server.chooseSize"
"""The command that chooses the size whose counts are shown."""
MOST_CHANGES = 300
"""Versions after which memory is tidied, which takes a moment."""

_SEVERITY = {"fault": lsp.DiagnosticSeverity.Error, "warning": lsp.DiagnosticSeverity.Warning,
             "advice": lsp.DiagnosticSeverity.Information}


Answering = TypeVar("Answering", bound=Callable[..., Any])


def _path_in(uri: str) -> str | None:
    """The path in an editor's address, if it is one that a file can have."""
    path: str | None = to_fs_path(uri)
    return path if path and "\0" not in path else None


class SockscriptServer(LanguageServer):
    """A server with the scripts that are open in the editor."""

    def __init__(self) -> None:
        # Whole texts: changes of parts would go wrong behind characters that pygls takes for line
        # ends and the protocol does not, such as a word processor's soft line ends.
        super().__init__("sockscript", __version__,
                         text_document_sync_kind=lsp.TextDocumentSyncKind.Full)
        self.open: dict[str, Document] = {}
        self.size: str | None = None
        """The size whose counts are shown; None: the middle one."""
        self.checked: dict[str, int | None] = {}
        """The version of each script that was checked last."""
        self._changes = 0

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
        """A place in a script; a diagnostic has at least one character if the line has."""
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

    def others(self, document: Document) -> list[Document]:
        """The open scripts beside one."""
        return [other for other in self.open.values() if other is not document]

    def uri_of_path(self, path: Path | None, uri: str) -> str:
        """Where a file lies: that of the open script, or ``uri`` for one that was never saved."""
        if path is None:
            return uri
        for known, document in self.open.items():
            if path_of(document) == path:
                return known
        return str(from_fs_path(str(path)))

    def uri_of(self, source: Source, document: Document, uri: str) -> str | None:
        """Where a source lies; None for one that is in no file."""
        if source is document.source:
            return uri
        folder = source.folder
        if folder is None:
            return None
        found: str | None = from_fs_path(str(folder / Path(source.name).name))
        return found

    def text_of(self, uri: str) -> Source:
        """The lines of a script that is open, or of a file that is not."""
        document = self.open.get(uri)
        if document is not None:
            return document.source
        path = _path_in(uri)
        file = file_at(Path(path)) if path else None
        return file.source if file is not None else Source(uri, "")

    # ---- requests

    def current(self, uri: str) -> Document | None:
        """A script that is open, as it stands now: a version that waits is checked first."""
        if uri in self.open and self.waits(uri):
            self.check(uri)
        return self.open.get(uri)

    def waits(self, uri: str) -> bool:
        """Whether the newest version of a script is not checked yet."""
        return self.checked.get(uri) != self.workspace.get_text_document(uri).version

    def asked(self, feature: str, options: Any = None) -> Callable[[Answering], Answering]:
        """Register who answers a request about a script that is open.

        The answer is a function of the document and the parameters of the protocol.
        """
        def register(answer: Answering) -> Answering:
            def given(params: Any) -> Any:
                document = self.current(params.text_document.uri)
                return answer(document, params) if document is not None else None

            self.feature(feature, options)(given)
            return answer

        return register

    # ---- checking

    def check(self, uri: str) -> None:
        """Examine the newest text of a script and tell what is wrong with it."""
        text = self.workspace.get_text_document(uri)
        document = self.open.get(uri)
        if document is None:
            path = _path_in(uri)
            name, folder = (Path(path).name, Path(path).parent) if path else (uri, None)
            document = self.open[uri] = Document(name, folder, usual_machine())
        document.examine(text.source)
        self.checked[uri] = text.version
        self._changes += 1
        if self._changes % MOST_CHANGES == 0:
            gc.collect()
        self.text_document_publish_diagnostics(lsp.PublishDiagnosticsParams(
            uri, [self.diagnostic(one, document, uri) for one in diagnostics(document)],
            text.version))

    def diagnostic(self, one: Diagnostic, document: Document, uri: str) -> lsp.Diagnostic:
        """A diagnostic as the protocol has it."""
        related = []
        for at, label in one.others:
            where = self.uri_of(at.source, document, uri)
            if where is not None:
                related.append(lsp.DiagnosticRelatedInformation(
                    lsp.Location(where, self.range(at)), label))
        return lsp.Diagnostic(self.range(one.at), one.words, _SEVERITY[one.severity],
                              one.kind, source="sockscript", related_information=related or None)

    def edit(self, change: TextEdit, document: Document) -> lsp.TextEdit:
        """A change as the protocol has it."""
        return lsp.TextEdit(lsp.Range(self.position(document.source, *change.first),
                                      self.position(document.source, *change.last)), change.text)
