"""A session with an editor in this process: every request that the language server answers, after
edits of a script, without the pipe between the two."""

from __future__ import annotations

import asyncio
import gc
import json
from contextlib import suppress
from functools import cache
from pathlib import Path
from random import Random

from lsprotocol import types as lsp
from pygls.exceptions import JsonRpcInvalidParams
from pygls.workspace import Workspace

from attack.corpus import NASTY, spoiled
from sockscript.service.protocol import make_server
from sockscript.service.server import SockscriptServer

EDITS = 3
"""Versions of a script in one session."""
_HERE = (lsp.TEXT_DOCUMENT_HOVER, lsp.TEXT_DOCUMENT_DEFINITION, lsp.TEXT_DOCUMENT_COMPLETION,
         lsp.TEXT_DOCUMENT_PREPARE_RENAME)
_WHOLE = {lsp.TEXT_DOCUMENT_DOCUMENT_SYMBOL: lsp.DocumentSymbolParams,
          lsp.TEXT_DOCUMENT_FOLDING_RANGE: lsp.FoldingRangeParams,
          lsp.TEXT_DOCUMENT_SEMANTIC_TOKENS_FULL: lsp.SemanticTokensParams}


@cache
def _server() -> SockscriptServer:
    server = make_server()
    # A server looks for garbage when a script is closed; here many sessions share a process.
    gc.enable()
    server.text_document_publish_diagnostics = lambda told: _as_sent(server, told)
    server.workspace_inlay_hint_refresh = lambda _: None
    server.window_show_message = lambda told: _as_sent(server, told)
    server.protocol.client_capabilities = lsp.ClientCapabilities()
    return server


def _as_sent(server: SockscriptServer, answer: object) -> None:
    """What is answered goes through the pipe, whatever letters it has."""
    json.dumps(answer, default=server.protocol._serialize_message).encode("utf-8")


def session(random: Random, folder: Path, text: str) -> None:
    """Open a script, spoil it a few times, and ask all that an editor asks after each edit."""
    asyncio.run(_session(random, folder, text))


async def _session(random: Random, folder: Path, text: str) -> None:
    server = _server()
    server.protocol._workspace = Workspace(
        folder.as_uri(), lsp.TextDocumentSyncKind.Full, [], lsp.PositionEncodingKind.Utf16)
    features = server.protocol.fm.features
    uri = (folder / "attacked.sockscript").as_uri()
    which = lsp.TextDocumentIdentifier(uri)
    server.workspace.put_text_document(lsp.TextDocumentItem(uri, "sockscript", 1, text))
    features[lsp.TEXT_DOCUMENT_DID_OPEN](lsp.DidOpenTextDocumentParams(which))
    for version in range(2, EDITS + 2):
        _ask_all(random, server, which, text)
        text = spoiled(random, text, 1)
        server.workspace.update_text_document(
            lsp.VersionedTextDocumentIdentifier(version, uri),
            lsp.TextDocumentContentChangeWholeDocument(text))
    _ask_all(random, server, which, text)
    features[lsp.TEXT_DOCUMENT_DID_SAVE](lsp.DidSaveTextDocumentParams(which))
    server.open.pop(uri, None)
    server.checked.pop(uri, None)


def _ask_all(random: Random, server: SockscriptServer, which: lsp.TextDocumentIdentifier,
             text: str) -> None:
    features, commands = server.protocol.fm.features, server.protocol.fm.commands
    lines = text.split("\n")
    for feature, params in _WHOLE.items():
        _as_sent(server, features[feature](params(which)))
    everything = lsp.Range(lsp.Position(0, 0), lsp.Position(len(lines), 0))
    _as_sent(server, features[lsp.TEXT_DOCUMENT_CODE_ACTION](lsp.CodeActionParams(
        which, everything, lsp.CodeActionContext([]))))
    _as_sent(server, features[lsp.TEXT_DOCUMENT_INLAY_HINT](
        lsp.InlayHintParams(which, everything)))
    _as_sent(server, features[lsp.TEXT_DOCUMENT_FORMATTING](lsp.DocumentFormattingParams(
        which, lsp.FormattingOptions(4, True))))
    for _ in range(2):
        line = random.randrange(len(lines) + 2)
        at = lsp.Position(line, random.randrange(len(lines[line]) + 3) if line < len(lines) else 0)
        for feature in _HERE:
            _asked(server, feature, lsp.TextDocumentPositionParams(which, at))
        _asked(server, lsp.TEXT_DOCUMENT_REFERENCES, lsp.ReferenceParams(
            lsp.ReferenceContext(True), which, at))
        new = random.choice(["another-name", *NASTY])
        _asked(server, lsp.TEXT_DOCUMENT_RENAME, lsp.RenameParams(which, at, new))
        _as_sent(server, commands["sockscript.server.needles"](which.uri, line))
    sizes = commands["sockscript.server.sizes"](which.uri)["sizes"]
    commands["sockscript.server.chooseSize"](random.choice([*sizes, "none", NASTY[0]]))


def _asked(server: SockscriptServer, feature: str, params: object) -> None:
    # A name that cannot be renamed is refused with a sentence.
    with suppress(JsonRpcInvalidParams):
        _as_sent(server, server.protocol.fm.features[feature](params))
