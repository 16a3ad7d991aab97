"""The language server put together: what it listens to, and who answers."""

from __future__ import annotations

import asyncio
import gc

from lsprotocol import types as lsp

from sockscript.service import changing, showing
from sockscript.service.server import SockscriptServer

PAUSE = 0.02
"""Seconds from a letter to the check, in which the next one may come."""


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
    async def changed(params: lsp.DidChangeTextDocumentParams) -> None:
        # Of letters typed faster than a check takes only the last is looked at.
        uri, version = params.text_document.uri, params.text_document.version
        await asyncio.sleep(PAUSE)
        if uri in server.open and server.waits(uri) \
                and server.workspace.get_text_document(uri).version == version:
            server.check(uri)

    @server.feature(lsp.TEXT_DOCUMENT_DID_SAVE)
    def saved(params: lsp.DidSaveTextDocumentParams) -> None:
        # Another script may use the file that was saved.
        for uri, document in list(server.open.items()):
            if uri != params.text_document.uri and document.examined.library.files:
                document.forget_files()
                server.check(uri)

    @server.feature(lsp.TEXT_DOCUMENT_DID_CLOSE)
    def closed(params: lsp.DidCloseTextDocumentParams) -> None:
        uri = params.text_document.uri
        server.open.pop(uri, None)
        server.checked.pop(uri, None)
        gc.collect()
        server.text_document_publish_diagnostics(lsp.PublishDiagnosticsParams(uri, []))
