"""The language server put together: what it listens to, and who answers."""

from __future__ import annotations

import gc

from lsprotocol import types as lsp

from sockscript.service import changing, showing
from sockscript.service.server import SockscriptServer


def make_server() -> SockscriptServer:
    """A server that answers all that ``sockscript`` can."""
    server = SockscriptServer()
    # Every version makes much that stays: looking for garbage in the middle of a request would
    # make the editor wait.  It is done when a script is closed, and now and then.
    gc.disable()
    _watch(server)
    changing.answer(server)
    showing.answer(server)
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
        gc.collect()
        server.text_document_publish_diagnostics(lsp.PublishDiagnosticsParams(uri, []))
