"""An editor that speaks to the real server over standard input and output."""

from __future__ import annotations

import asyncio
import sys
from concurrent.futures import ThreadPoolExecutor
from contextlib import asynccontextmanager

from lsprotocol import types as lsp
from pygls.lsp.client import LanguageClient


def carried_out(session, seconds):
    """Run a session to its end, in a thread of its own: a browser that was opened by other tests
    keeps a loop of its own running in this one."""
    with ThreadPoolExecutor(1) as thread:
        thread.submit(lambda: asyncio.run(asyncio.wait_for(session(), seconds))).result()


class Editor:
    """One file in an editor, kept in step with the server."""

    def __init__(self, client, uri):
        self.client = client
        self.uri = uri
        self.text = ""
        self.version = 0
        self.told = {}
        self.news = asyncio.Event()

    def published(self, params):
        self.told.setdefault(params.uri, []).append(params)
        self.news.set()

    async def diagnostics(self, uri=None):
        """The diagnostics of the newest version; waits for them."""
        uri = uri or self.uri
        while not any(p.version == self.version or not p.version
                      for p in self.told.get(uri, [])[-1:]):
            self.news.clear()
            await asyncio.wait_for(self.news.wait(), 30)
        return list(self.told[uri][-1].diagnostics)

    async def open(self, text):
        self.text, self.version = text, self.version + 1
        self.client.text_document_did_open(lsp.DidOpenTextDocumentParams(
            lsp.TextDocumentItem(self.uri, "sockscript", self.version, text)))
        return await self.diagnostics()

    async def replace(self, old, new):
        """Type over the first place where ``old`` stands."""
        start = self.text.index(old)
        return await self.change(start, start + len(old), new)

    async def change(self, start, end, new):
        self.type(start, end, new)
        return await self.diagnostics()

    def type(self, start, end, new):
        """Change the text without waiting for anything."""
        self.text = self.text[:start] + new + self.text[end:]
        edit = lsp.TextDocumentContentChangeWholeDocument(self.text)
        self.version += 1
        self.client.text_document_did_change(lsp.DidChangeTextDocumentParams(
            lsp.VersionedTextDocumentIdentifier(version=self.version, uri=self.uri), [edit]))

    async def apply(self, edits):
        """Make the changes that the server proposes, from the last to the first."""
        for edit in sorted(edits, key=lambda e: (e.range.start.line, e.range.start.character),
                           reverse=True):
            await self.change(self.offset(edit.range.start), self.offset(edit.range.end),
                              edit.new_text)
        return await self.diagnostics()

    def close(self):
        self.version += 1
        self.client.text_document_did_close(lsp.DidCloseTextDocumentParams(self.document))

    @property
    def document(self):
        return lsp.TextDocumentIdentifier(self.uri)

    def position(self, offset):
        """Line and UTF-16 units, which is what the protocol counts unless agreed otherwise."""
        before = self.text[:offset]
        line = before.count("\n")
        return lsp.Position(line, len(before[before.rfind("\n") + 1:].encode("utf-16-le")) // 2)

    def offset(self, position):
        lines = self.text.split("\n")
        before = sum(len(line) + 1 for line in lines[:position.line])
        if position.line >= len(lines):
            return len(self.text)
        line = lines[position.line].encode("utf-16-le")
        return before + len(line[:2 * position.character].decode("utf-16-le"))

    def lines(self, first=0, last=10_000):
        return lsp.Range(lsp.Position(first, 0), lsp.Position(last, 0))


@asynccontextmanager
async def editor(folder, name="sock.sockscript", can=None, said=()):
    """An editor with the server started; the server must end by itself at the end."""
    client = LanguageClient("test-editor", "1")
    one = Editor(client, (folder / name).as_uri())
    client.feature(lsp.TEXT_DOCUMENT_PUBLISH_DIAGNOSTICS)(lambda params: one.published(params))
    client.feature(lsp.WORKSPACE_INLAY_HINT_REFRESH)(lambda *_: None)
    await client.start_io(sys.executable, "-m", "sockscript", "language-server", *said,
                          cwd=folder)
    answer = await client.initialize_async(lsp.InitializeParams(
        capabilities=can or lsp.ClientCapabilities(), root_uri=folder.as_uri(), process_id=None))
    one.capabilities = answer.capabilities
    client.initialized(lsp.InitializedParams())
    try:
        yield one
    finally:
        await client.shutdown_async(None)
        client.exit(None)
        await asyncio.wait_for(client._server.wait(), 20)
        assert client._server.returncode == 0, client._server.returncode
        await client.stop()
