"""Pages of a catalogue for a browser: one for all patterns, and one for each.

They ask for nothing from outside, open from a file, and are read without a script; the script on
the first page only hides what does not fit.  All words of patterns go in escaped.
"""

from __future__ import annotations

import base64
import hashlib
import os
import re
import unicodedata
from collections.abc import Iterator, Sequence
from html import escape
from importlib.resources import files
from typing import NamedTuple

from sockscript import __version__
from sockscript.catalogue.entry import Entry
from sockscript.catalogue.report import (
    gauges_in_words,
    needs_in_words,
    sizes_in_words,
    status_in_words,
    yarns_in_words,
)
from sockscript.text.visible import visible

PATTERNS = "patterns"
"""The folder for the pages of single patterns."""
FIRST = "index.html"
PICTURES = {"shape": "Finished measurements", "heel": "The short rows",
            "fold": "The turning to a tube"}
"""Endings of the files of pictures, and what is drawn."""
CARD = "outline"
"""The ending of the small picture on the first page."""
SHORT = 40
"""Letters of a title in the name of a file."""


class SitePattern(NamedTuple):
    """A pattern on the site: its entry, the stem of its files (empty: it has no page), its
    pictures, and the ending of what is to be downloaded."""

    entry: Entry
    stem: str
    pictures: tuple[str, ...] = ()
    ending: str = ""


def stem_of(path: bytes) -> str:
    """The beginning of the names of a pattern's files: readable, and another for every path."""
    name = os.path.basename(path).rsplit(b".", 1)[0].decode("utf-8", "ignore")
    letters = unicodedata.normalize("NFKD", name).encode("ascii", "ignore").decode().lower()
    words = re.sub(r"[^a-z0-9]+", "-", letters).strip("-")[:SHORT].strip("-")
    return f"{words or 'pattern'}-{hashlib.sha256(path).hexdigest()[:10]}"


def is_name_of_ours(name: str) -> bool:
    """Whether a file of a site can have that name, from the folder of the site."""
    return name == FIRST or re.fullmatch(
        PATTERNS + r"/[a-z0-9-]+(?:\.html|\.svg|\.sockscript|\.sockpack)", name) is not None


def first_page(title: str, shown: Sequence[SitePattern]) -> str:
    """The page of all patterns; files that have no page are listed at its end."""
    script = _part("site.js")
    good = [one for one in shown if one.stem]
    bad = [one.entry for one in shown if not one.stem]
    body = [
        f"<header><h1>{escape(title)}</h1>",
        '<p id="count" role="status">' + _count(len(good)) + "</p></header>", "<main>",
        _FORM, '<ul class="patterns">', *(line for one in good for line in _card(one)), "</ul>"]
    if bad:
        body += ["<section><h2>Files that have no page</h2>", "<ul>",
                 *(f"<li>{escape(one.path)}: {escape(status_in_words(one))}</li>" for one in bad),
                 "</ul></section>"]
    return _page(title, [*body, "</main>"], script)


def _count(number: int) -> str:
    return f"{number} pattern{'' if number == 1 else 's'}"


def _card(one: SitePattern) -> Iterator[str]:
    """A pattern on the first page, with what it can be found by."""
    entry = one.entry
    data = {"feet": " ".join(f"{size.foot:g}" for size in entry.sizes if size.foot is not None),
            "works": " ".join(f"{end:g}" for end in entry.feet or ()),
            "stitches": " ".join(f"{gauge.stitches:g}" for gauge in entry.gauges),
            "yarn": " ".join(f"{yarn.metres:g}" for yarn in entry.yarns
                             if yarn.metres is not None),
            "beds": str(entry.beds or ""), "status": entry.status}
    yield "<li " + " ".join(f'data-{name}="{value}"' for name, value in data.items()) + ">"
    if "shape" in one.pictures:
        yield (f'<img src="{PATTERNS}/{one.stem}-{CARD}.svg" alt="" loading="lazy" '
               'width="88" height="104">')
    yield f'<div><h2><a href="{PATTERNS}/{one.stem}.html">{escape(entry.name)}</a></h2>'
    if entry.author:
        yield f"<p>by {escape(entry.author)}</p>"
    gauge = gauges_in_words(entry)
    yield from (f"<p>{escape(words)}</p>" for words in (
        sizes_in_words(entry), f"gauge {gauge}" if gauge else "", yarns_in_words(entry),
        needs_in_words(entry)) if words)
    if entry.techniques:
        yield f'<p class="techniques">{escape(", ".join(entry.techniques))}</p>'
    yield (f'<p class="{"quiet" if entry.status == "clean" else "warning"}">'
           f"{escape(status_in_words(entry))}</p></div></li>")


def pattern_page(shown: SitePattern, club: str) -> str:
    """The page of one pattern."""
    entry, stem = shown.entry, shown.stem
    body = [f'<nav><a href="../{FIRST}">{escape(club)}: all patterns</a></nav>', "<main>",
            f"<h1>{escape(entry.name)}</h1>"]
    if entry.status != "clean":
        body.append('<p class="warning">Do not knit this pattern before it is mended: '
                    f"{escape(status_in_words(entry))}.</p>")
    body += ['<p class="actions">',
             f'<a href="{stem}-leaflet.html">Read the leaflet</a>',
             f'<a href="{stem}{shown.ending}" download>Download the '
             f"{'pack' if shown.ending == '.sockpack' else 'script'}</a>", "</p>", "<dl>"]
    for name, words in (
            ("Author", entry.author), ("Version", entry.version), ("Licence", entry.licence),
            ("Sizes", sizes_in_words(entry)), ("Gauge in 10 cm", gauges_in_words(entry)),
            ("Yarn", yarns_in_words(entry)),
            ("Machine", needs_in_words(entry)), ("Techniques", ", ".join(entry.techniques)),
            ("Check", f"{status_in_words(entry)}, sockscript {__version__}"),
            ("Fingerprint", entry.mark), ("File", entry.path)):
        if words:
            body.append(f"<dt>{name}</dt><dd>{escape(words)}</dd>")
    body += ["</dl>", '<div class="pictures">']
    for picture in shown.pictures:
        body.append(f'<figure><img src="{stem}-{picture}.svg" alt="{PICTURES[picture]} of '
                    f'{escape(entry.name)}"><figcaption>{PICTURES[picture]}</figcaption></figure>')
    body += ["</div>", "<p>Read the cautions in the leaflet before you knit; the manual of your "
             "machine comes first.</p>", "</main>"]
    return _page(entry.name, body, "")


def _page(title: str, body: Sequence[str], script: str) -> str:
    style = _part("site.css")
    policy = (f"default-src 'none'; img-src 'self' file:; style-src '{_digest(style)}'; "
              f"script-src {_quoted(script)}; base-uri 'none'; form-action 'none'")
    return visible("\n".join([
        "<!DOCTYPE html>", '<html lang="en">', "<head>", '<meta charset="utf-8">',
        f'<meta http-equiv="Content-Security-Policy" content="{policy}">',
        '<meta name="viewport" content="width=device-width, initial-scale=1">',
        f"<title>{escape(title)}</title>", f"<style>{style}</style>", "</head>", "<body>", *body,
        f'<footer class="quiet"><p>Made by sockscript {__version__} from the scripts '
        "themselves.</p></footer>",
        f"<script>{script}</script>" if script else "", "</body>", "</html>"])) + "\n"


def _quoted(script: str) -> str:
    return f"'{_digest(script)}'" if script else "'none'"


def _digest(text: str) -> str:
    return "sha256-" + base64.b64encode(hashlib.sha256(text.encode("utf-8")).digest()).decode()


def _part(name: str) -> str:
    return files("sockscript.catalogue").joinpath(name).read_text("utf-8")


def made_from() -> str:
    """What the pages are made with: another version writes all anew."""
    parts = (__version__, _part("site.css"), _part("site.js"))
    return hashlib.sha256("\0".join(parts).encode("utf-8")).hexdigest()


_FORM = """<form id="wanted" hidden aria-label="Find a pattern">
<div class="wide"><label for="words">Words</label>
<input id="words" name="words" type="search" autocomplete="off"></div>
<div><label for="foot">Foot length in cm, or 9½ in</label>
<input id="foot" name="foot" inputmode="decimal" autocomplete="off"></div>
<div><label for="stitches">Stitches in 10 cm, or 7½/in</label>
<input id="stitches" name="stitches" inputmode="decimal" autocomplete="off"></div>
<div><label for="yarn">Metres of yarn in 100 g, or 437 yards</label>
<input id="yarn" name="yarn" inputmode="decimal" autocomplete="off"></div>
<div><label for="beds">Needle beds</label>
<select id="beds" name="beds"><option value="">one or two</option>
<option value="1">one</option></select></div>
<div><label for="clean">Check</label>
<select id="clean" name="clean"><option value="">all patterns</option>
<option value="clean">no stitch is lost</option></select></div>
<div><button type="reset">Show all</button></div>
</form>"""
