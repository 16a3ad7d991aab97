"""Requests that show something of a script and change nothing."""

from __future__ import annotations

from collections.abc import Sequence
from typing import Any

from lsprotocol import types as lsp

from sockscript.service.document import Document
from sockscript.service.hover import Hover, hover
from sockscript.service.hover_form import as_markdown, as_plain
from sockscript.service.lines import line_ends, needles_after, size_names
from sockscript.service.names import Location, definition, references
from sockscript.service.outline import OutlineEntry, foldings, outline
from sockscript.service.server import CHOOSE_SIZE, SockscriptServer
from sockscript.service.tokens import TokenAt, tokens_of

_AWAY = "  "
"""Keeps a count from reading as one more figure of its line; some editors pad by a hair."""

NEEDLES = "sockscript.server.needles"
SIZES = "sockscript.server.sizes"

_TYPES = {"word": "keyword", "technique": "function", "parameter": "parameter",
          "value": "variable", "measurement": "property", "option": "enum",
          "choice": "enumMember", "yarn": "type", "fabric": "type", "size": "class",
          "group": "variable", "finding": "macro", "function": "function", "needle": "variable",
          "number": "number", "unit": "number", "sign": "operator", "text": "string",
          "comment": "comment"}
_LEGEND = lsp.SemanticTokensLegend(sorted(set(_TYPES.values())), ["definition"])
"""The protocol's own types, so that every theme has a colour for them."""

_SYMBOLS = {"section": lsp.SymbolKind.Module, "technique": lsp.SymbolKind.Function,
            "parameter": lsp.SymbolKind.Variable, "yarn": lsp.SymbolKind.Object,
            "fabric": lsp.SymbolKind.Object, "sizes": lsp.SymbolKind.Array,
            "measurement": lsp.SymbolKind.Property, "option": lsp.SymbolKind.Enum,
            "value": lsp.SymbolKind.Constant, "ranges": lsp.SymbolKind.Array,
            "machine": lsp.SymbolKind.Object}


def answer(server: SockscriptServer) -> None:
    """Teach a server to answer these requests."""
    _counts(server)
    _names(server)
    _whole(server)


def _counts(server: SockscriptServer) -> None:
    @server.asked(lsp.TEXT_DOCUMENT_INLAY_HINT)
    def hints(document: Document, params: lsp.InlayHintParams) -> list[lsp.InlayHint]:
        return [lsp.InlayHint(
            server.position(document.source, end.line, len(document.source.line(end.line)) + 1),
            _AWAY + end.short, tooltip=end.words, padding_left=True)
            for end in line_ends(document, server.size, params.range.start.line + 1,
                                 params.range.end.line + 1)]

    @server.command(NEEDLES)
    def needles(uri: str, line: int) -> dict[str, str] | None:
        """The beds after a line (from 0) of a script: title, picture (SVG), plain characters."""
        document = server.current(uri)
        found = needles_after(document, line + 1, server.size) if document is not None else None
        return found._asdict() if found is not None else None

    @server.command(SIZES)
    def sizes(uri: str) -> dict[str, Any]:
        """The sizes of a script, and the one whose counts are shown."""
        document = server.current(uri)
        names = list(size_names(document)) if document is not None else []
        return {"sizes": names, "chosen": server.size}

    @server.command(CHOOSE_SIZE)
    def choose(size: str) -> None:
        """Show the counts of this size from now on."""
        server.size = size
        server.workspace_inlay_hint_refresh(None)


def _names(server: SockscriptServer) -> None:
    @server.asked(lsp.TEXT_DOCUMENT_HOVER)
    def told(document: Document, params: lsp.HoverParams) -> lsp.Hover | None:
        found = hover(document, *server.place(document, params.position),
                      server.others(document))
        if found is None:
            return None
        where = lsp.Range(server.position(document.source, found.line, found.start),
                          server.position(document.source, found.line, found.end))
        return lsp.Hover(_markup(server, found), where)

    @server.asked(lsp.TEXT_DOCUMENT_DEFINITION)
    def defined(document: Document, params: lsp.DefinitionParams) -> list[lsp.Location]:
        uri = params.text_document.uri
        return _locations(server, uri, definition(
            document, *server.place(document, params.position), server.others(document)))

    @server.asked(lsp.TEXT_DOCUMENT_REFERENCES)
    def named(document: Document, params: lsp.ReferenceParams) -> list[lsp.Location]:
        uri = params.text_document.uri
        return _locations(server, uri, references(
            document, *server.place(document, params.position), server.others(document),
            params.context.include_declaration))


def _locations(server: SockscriptServer, uri: str, places: Sequence[Location]
               ) -> list[lsp.Location]:
    return [lsp.Location(server.uri_of_path(place.path, uri), server.range(place.span))
            for place in places]


def _markup(server: SockscriptServer, found: Hover) -> lsp.MarkupContent:
    """What is told, in the form that the editor shows."""
    asked = server.client_capabilities.text_document
    forms = asked.hover.content_format if asked and asked.hover else None
    if forms and lsp.MarkupKind.Markdown not in forms:
        return lsp.MarkupContent(lsp.MarkupKind.PlainText, as_plain(found))
    return lsp.MarkupContent(lsp.MarkupKind.Markdown, as_markdown(found))


def _whole(server: SockscriptServer) -> None:
    @server.asked(lsp.TEXT_DOCUMENT_DOCUMENT_SYMBOL)
    def symbols(document: Document, params: lsp.DocumentSymbolParams) -> list[lsp.DocumentSymbol]:
        return [_symbol(server, document, entry) for entry in outline(document)]

    @server.asked(lsp.TEXT_DOCUMENT_FOLDING_RANGE)
    def folds(document: Document, params: lsp.FoldingRangeParams) -> list[lsp.FoldingRange]:
        return [lsp.FoldingRange(one.first - 1, one.last - 1, kind=(
            lsp.FoldingRangeKind.Comment if one.kind == "comment"
            else lsp.FoldingRangeKind.Region)) for one in foldings(document)]

    @server.asked(lsp.TEXT_DOCUMENT_SEMANTIC_TOKENS_FULL, _LEGEND)
    def colours(document: Document, params: lsp.SemanticTokensParams) -> lsp.SemanticTokens:
        return lsp.SemanticTokens(_packed(server, document, tokens_of(document)))


def _symbol(server: SockscriptServer, document: Document, entry: OutlineEntry
            ) -> lsp.DocumentSymbol:
    source = document.source
    whole = lsp.Range(server.position(source, entry.first, 1), server.position(
        source, entry.last, len(source.line(entry.last)) + 1))
    name = lsp.Range(server.position(source, entry.first, entry.start),
                     server.position(source, entry.first, entry.end))
    return lsp.DocumentSymbol(entry.name or "(no name)", _SYMBOLS[entry.kind], whole, name,
                              detail=entry.detail,
                              children=[_symbol(server, document, one) for one in entry.children])


def _packed(server: SockscriptServer, document: Document, tokens: Sequence[TokenAt]
            ) -> list[int]:
    """Tokens as the protocol packs them: each from where the one before it began."""
    data: list[int] = []
    line = start = 0
    for token in tokens:
        here = server.position(document.source, token.line, token.start)
        end = server.position(document.source, token.line, token.end)
        if here.line != line:
            start = 0
        data += [here.line - line, here.character - start, end.character - here.character,
                 _LEGEND.token_types.index(_TYPES[token.kind]), int(token.defines)]
        line, start = here.line, here.character
    return data
