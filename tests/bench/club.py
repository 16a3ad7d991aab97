"""Speed of what members of a club do with each other's patterns: ``python tests/bench/club.py``.

Ratios against a baseline of the same run, as in ``ratios.py``.  Not a test: nothing fails here.
"""

from __future__ import annotations

import os
import tempfile
import time
from pathlib import Path

from ratios import SOCK, inside, line, whole
from support.made_patterns import make_patterns

from sockscript.catalogue.index import Index
from sockscript.catalogue.reading import read_record
from sockscript.catalogue.search import Query, condition, words_wanted
from sockscript.catalogue.update import changes, update
from sockscript.compare.comparison import compare
from sockscript.compare.report import as_text
from sockscript.findings.checked import Checked, check
from sockscript.text.source import Source

LONG = """pattern "Long"
yarn main "any yarn"
section "Piece"
    bring centre 60 of front into work
    set front to knit
    respect hold on front
    thread main
    cast on front
{lines}    bind off front
    cut
"""


def comparison() -> None:
    """The family sock and the same with other ease: every number differs."""
    text = SOCK.read_text("utf-8")
    other = text.replace("less 10%", "less 5%")

    def checked(words: str) -> Checked:
        return check(Source("sock.sockscript", words, SOCK.parent))

    line("compare two versions / check, family sock, nine sizes, warm",
         inside(lambda: as_text(compare(checked(text), checked(other)))),
         inside(lambda: checked(text)), "<= 2.5")
    long = LONG.format(lines="    knit 2 rows on front\n    hold left 1 working of front\n"
                       "    knit 2 rows on front\n    return left 1 held of front to work\n" * 300)
    shorter = long.replace("centre 60", "centre 58")

    line("compare two versions of one section of 1,200 lines / check",
         inside(lambda: as_text(compare(checked(long), checked(shorter)))),
         inside(lambda: checked(long)), "<= 2.5")
    with tempfile.TemporaryDirectory() as folder:
        path = Path(folder) / "other.sockscript"
        path.write_text(other, "utf-8")
        line("compare two versions / check, as whole commands",
             whole("-m", "sockscript", "compare", str(SOCK), str(path)),
             whole("-m", "sockscript", "check", str(SOCK)), "<= 2.5")


def catalogue(count: int = 200) -> None:
    """A folder of patterns read first, then looked at again, in one process; and a search in an
    index of 10,000 entries."""
    with tempfile.TemporaryDirectory() as base:
        folder = Path(base) / "club"
        make_patterns(folder, count)
        long_ago = time.time() - 100
        for path in folder.rglob("*.sockscript"):
            os.utime(path, (long_ago, long_ago))
        root = os.fsencode(os.path.realpath(folder))
        index = Index(Path(base) / "index.sqlite")
        start = time.process_time()
        update(index, root, changes(root, index.known()), jobs=1)
        first = time.process_time() - start
        again = inside(lambda: update(index, root, changes(root, index.known()), jobs=1))
        assert not changes(root, index.known()).read
        line(f"index of {count} patterns unchanged / the first time", again, first, "<= 0.02")
        records = [read_record(root, path) for path in list(index.known())[:20]]
        for start_at in range(0, 10_000, 500):
            index.put([record._replace(path=b"%d" % number) for number in
                       range(start_at, start_at + 500) for record in [records[number % 20]]])
        where, values = condition(Query(foot=250, stitches=30, beds=2))
        line("search in 10,000 entries / 100 ms",
             inside(lambda: index.find(where, values, words_wanted("sock heel"), 100)), 0.1,
             "<= 1")
        index.close()


if __name__ == "__main__":
    comparison()
    catalogue()
