"""The page as one HTML file: data, styles and scripts put into one text."""

from __future__ import annotations

import base64
import hashlib
import html
from collections.abc import Mapping
from importlib.resources import files

from sockscript.sheet.cautions import AFTER_A_MISHAP
from sockscript.text.visible import json_text

SCRIPTS = ("walk.js", "beds.js", "store.js", "place.js", "device.js", "show.js", "log.js",
           "tabs.js", "mishap.js", "socks.js", "go.js", "windows.js", "main.js")


def whole_page(title: str, data: Mapping[str, object]) -> str:
    """One HTML text that asks for nothing from outside.

    ``data`` is what ``follow.data`` gives.  The policy in the page lets run and apply only the
    script and the styles that it was written with, and forbids every request.
    """
    folder = files("sockscript.follow")
    script = "(() => {\n\"use strict\";\n" + "\n".join(
        folder.joinpath(name).read_text("utf-8") for name in SCRIPTS) + "})();\n"
    style = folder.joinpath("page.css").read_text("utf-8")
    policy = (f"default-src 'none'; script-src '{_digest(script)}'; "
              f"style-src '{_digest(style)}'; img-src data:; base-uri 'none'; form-action 'none'")
    parts = {"title": html.escape(title), "policy": html.escape(policy), "style": style,
             "data": json_in_html(data), "script": script,
             "mishap": html.escape(AFTER_A_MISHAP)}
    page = folder.joinpath("page.html").read_text("utf-8")
    # Split once, so that nothing in the parts is taken for a place to fill in.
    pieces = page.split("%%")
    return "".join(parts[piece] if n % 2 else piece for n, piece in enumerate(pieces))


def json_in_html(data: object) -> str:
    """JSON that cannot end its script element, open a comment or hold a line separator."""
    text = json_text(data, separators=(",", ":"))
    for character in "<>&\u2028\u2029":
        text = text.replace(character, f"\\u{ord(character):04x}")
    return text


def _digest(text: str) -> str:
    return "sha256-" + base64.b64encode(hashlib.sha256(text.encode("utf-8")).digest()).decode()
