"""``sockscript catalogue --site``: the catalogue as pages for a browser."""

from __future__ import annotations

import hashlib
import json
import os
import stat
import sys
from collections.abc import Mapping
from pathlib import Path

from attrs import define, field

from sockscript.catalogue import site
from sockscript.catalogue.index import Index, Kept
from sockscript.catalogue.reading import digest_of
from sockscript.catalogue.search import Query, condition, words_wanted
from sockscript.catalogue.site import PATTERNS, SitePattern, first_page, pattern_page, stem_of
from sockscript.catalogue.update import MANIFEST, in_processes
from sockscript.commands.catalogue import progress, with_index
from sockscript.commands.check import CLEAN, UNUSABLE
from sockscript.commands.chosen import sheet_asked
from sockscript.commands.output import write_out
from sockscript.expand.run import Run
from sockscript.findings.checked import Checked, check
from sockscript.pictures.fold import fold_picture
from sockscript.pictures.schematic import schematic_picture
from sockscript.pictures.short_rows import heel_picture
from sockscript.sharing.pack import make_pack
from sockscript.sheet import html_form
from sockscript.sheet.numbering import plan_for
from sockscript.text.packed import NotAPackError, open_pack
from sockscript.text.source import PACK, Source, read_source
from sockscript.text.visible import json_text

FORM = "sockscript-site-1"
OFTEN = 40
"""Patterns after which is written down what was written."""

Drawn = dict[str, bytes]
"""Files of a pattern by what comes after their stem."""


def run(*, folder: Path, wanted: Query, out: Path) -> int:
    """Write the site; returns 0, or 2 where it cannot be written."""
    why = _refusal(folder, out)
    if why:
        print(why, file=sys.stderr)
        return UNUSABLE
    where, values = condition(wanted)

    def find(index: Index, _files: int) -> list[Kept]:
        return index.everything(where, values, words_wanted(wanted.words))

    written = Written.read(out)
    if written is None:
        print(f"{out} has an {site.FIRST} that this command did not write, or what it wrote down "
              f"there ({MANIFEST}) cannot be read.\nName another folder, or an empty one.",
              file=sys.stderr)
        return UNUSABLE
    return _Site(folder, out, with_index(folder, find), written).write()


def _refusal(folder: Path, out: Path) -> str:
    """Why a site cannot be there, or nothing."""
    if not folder.is_dir():
        return f"{folder} is no folder.\nName the folder in which the scripts are."
    if out.exists() and not out.is_dir():
        return f"{out} is not a folder.\nName a folder for the pages; it is made if need be."
    real, root = Path(os.path.realpath(out)), Path(os.path.realpath(folder))
    if root == real or real in root.parents:
        return (f"The scripts are in {out} themselves, and the pages would lie among them.\n"
                f"Name another folder, for example {out / 'site'}.")
    if (real / PATTERNS).is_symlink():
        return f"{out / PATTERNS} is a link; nothing is written through it."
    return ""


@define
class Written:
    """What the command wrote into a folder before: by name, digest and size of each file, and by
    path of a pattern, what its pages were made from and the files that they are."""

    files: dict[str, tuple[str, int]] = field(factory=dict)
    patterns: dict[str, tuple[str, list[str]]] = field(factory=dict)

    @classmethod
    def read(cls, out: Path) -> Written | None:
        """As it is kept in the folder; None where the folder has another's pages."""
        try:
            data = json.loads((out / MANIFEST).read_text("utf-8"))
            if data["form"] != FORM:
                return None
            return cls({str(name): (str(digest), int(size))
                        for name, (digest, size) in data["files"].items()},
                       {str(path): (str(key), [str(name) for name in names])
                        for path, (key, names) in data["patterns"].items()})
        except FileNotFoundError:
            return None if os.path.lexists(out / site.FIRST) else cls()
        except (OSError, ValueError, TypeError, KeyError, AttributeError, RecursionError):
            return None

    def text(self) -> str:
        """To keep."""
        return json_text({"form": FORM, "files": self.files, "patterns": self.patterns},
                         indent=0, sort_keys=True) + "\n"


class _Site:
    def __init__(self, folder: Path, out: Path, kept: list[Kept], before: Written) -> None:
        self.folder = folder
        self.out = out
        self.kept = kept
        self.before = before
        self.now = Written()
        self.foreign: list[str] = []
        self.count = 0
        self.failed = False

    def write(self) -> int:
        """Write all that is not there as it should be; returns the exit status."""
        try:
            (self.out / PATTERNS).mkdir(parents=True, exist_ok=True)
        except OSError as error:
            print(f"{self.out} cannot be written: {error.strerror}.", file=sys.stderr)
            return UNUSABLE
        try:
            shown = self._patterns()
            title = Path(os.path.realpath(self.folder)).name
            if not self.failed:
                self._put(site.FIRST, first_page(title, shown).encode("utf-8"))
                self._take_away()
        finally:
            self._remember()
        for name in self.foreign:
            print(f"{self.out / name} is left as it is: it was not written by this command, or "
                  "changed since.", file=sys.stderr)
        if self.failed:
            return UNUSABLE
        pages = sum(bool(one.stem) for one in shown)
        print(f"Written: {self.out / site.FIRST} ({pages} pattern{'' if pages == 1 else 's'}; "
              f"{self.count} file{'' if self.count == 1 else 's'} new or changed)")
        return CLEAN

    def _patterns(self) -> list[SitePattern]:
        root = os.fsencode(os.path.realpath(self.folder))
        club = Path(os.path.realpath(self.folder)).name
        keys = {one.path: _key(root, one, club) for one in self.kept
                if one.entry.status in ("clean", "found")}
        todo = [path for path, key in keys.items() if not self._as_before(path, key)]
        entries = {one.path: one.entry for one in self.kept}
        with progress(len(todo), "Drawing") as done:
            for drawn in in_processes(draw_patterns, root, todo):
                for path, files in drawn:
                    self._pattern(path, keys[path], SitePattern(
                        entries[path], stem_of(path), _pictures(files), _ending(files)), files,
                        club)
                done(len(drawn))
                if self.failed:
                    break
        return [self._shown(one) for one in self.kept]

    def _as_before(self, path: bytes, key: str) -> bool:
        """Whether the pages of a pattern are there as they were written, from the same script."""
        was = self.before.patterns.get(_text(path))
        if was is None or was[0] != key:
            return False
        for name in was[1]:
            if name not in self.before.files or \
                    _size(self.out / name) != self.before.files[name][1]:
                return False
        self.now.patterns[_text(path)] = was
        self.now.files.update({name: self.before.files[name] for name in was[1]})
        return True

    def _pattern(self, path: bytes, key: str, shown: SitePattern, files: Mapping[str, bytes],
                 club: str) -> None:
        if not files:
            # It changed while it was looked at: the next time will see.
            return
        names = []
        everything = {**files, ".html": pattern_page(shown, club).encode("utf-8")}
        for ending, content in everything.items():
            name = f"{PATTERNS}/{shown.stem}{ending}"
            self._put(name, content)
            names.append(name)
        self.now.patterns[_text(path)] = (key, names)
        if len(self.now.patterns) % OFTEN == 0:
            self._remember()

    def _shown(self, one: Kept) -> SitePattern:
        names = self.now.patterns.get(_text(one.path), ("", []))[1]
        stem = stem_of(one.path)
        endings = {name.removeprefix(f"{PATTERNS}/{stem}"): b"" for name in names}
        return SitePattern(one.entry, stem if ".html" in endings else "", _pictures(endings),
                           _ending(endings))

    def _put(self, name: str, content: bytes) -> None:
        """Write a file unless it is there with this content; what is another's stays."""
        path = self.out / name
        digest = hashlib.sha256(content).hexdigest()
        if os.path.lexists(path):
            there = digest_of(os.fsencode(path)) if _size(path) >= 0 else ""
            known = self.before.files.get(name) or self.now.files.get(name)
            if there != digest and (known is None or known[0] != there):
                self.foreign.append(name)
                return
            if there == digest:
                self.now.files[name] = (digest, len(content))
                return
        if write_out(content, path):
            self.failed = True
            return
        self.count += 1
        self.now.files[name] = (digest, len(content))

    def _take_away(self) -> None:
        """Pages of patterns that are no longer there, if they are as they were written."""
        for name, (digest, _) in self.before.files.items():
            path = self.out / name
            if name in self.now.files or not site.is_name_of_ours(name) or _size(path) < 0:
                continue
            if digest_of(os.fsencode(path)) == digest:
                path.unlink(missing_ok=True)
            elif name not in self.foreign:
                self.foreign.append(name)

    def _remember(self) -> None:
        """Write down what is ours; while it is not finished, what was ours before too."""
        files = {name: one for name, one in self.before.files.items()
                 if _size(self.out / name) >= 0 and name not in self.foreign}
        text = Written({**files, **self.now.files}, self.now.patterns).text()
        if not os.path.lexists(self.out / MANIFEST) or \
                (self.out / MANIFEST).read_text("utf-8") != text:
            write_out(text, self.out / MANIFEST, as_is=True)


def _text(path: bytes) -> str:
    return path.decode("utf-8", "backslashreplace")


def _size(path: Path) -> int:
    """How large a file is; -1 for a link, a folder, or nothing."""
    try:
        found = os.lstat(path)
    except OSError:
        return -1
    return found.st_size if stat.S_ISREG(found.st_mode) else -1


def _key(root: bytes, one: Kept, club: str) -> str:
    """A mark of all that the pages of a pattern are made from."""
    used = [digest_of(os.path.join(root, name)) for name in one.used]
    text = "\0".join((site.made_from(), one.digest, *used, club, _text(one.path)))
    return hashlib.sha256(text.encode("utf-8")).hexdigest()


def _pictures(files: Mapping[str, bytes]) -> tuple[str, ...]:
    return tuple(name for name in site.PICTURES if f"-{name}.svg" in files)


def _ending(files: Mapping[str, bytes]) -> str:
    return next((ending for ending in (PACK, ".sockscript") if ending in files), "")


def draw_patterns(root: bytes, paths: list[bytes]) -> list[tuple[bytes, Drawn]]:
    """What is made of each pattern: leaflet, pictures, and the pattern itself.  Runs in a process
    of its own; a pattern that changed meanwhile, so that it cannot be knitted, gives nothing."""
    return [(path, _draw(root, path)) for path in paths]


def _draw(root: bytes, path: bytes) -> Drawn:
    whole = Path(os.fsdecode(os.path.join(root, path)))
    source = read_source(whole, path.decode("utf-8", "replace"))
    checked = check(source)
    if not isinstance(source, Source) or checked.proof is None or checked.problems:
        return {}
    leaflet, complete = (html_form.render(sheet_asked(
        checked, sizes=[], choose=[], every_choice=every_choice, named_machine=False,
        my_size=None, bank_book=False)).encode("utf-8") for every_choice in (False, True))
    runs = plan_for(checked.proof, checked.proof.outcomes[0][0]).runs
    files = {"-leaflet.html": leaflet}
    for name, svg in _drawings(runs, checked.script.title or "Untitled pattern").items():
        files[f"-{name}.svg"] = svg.encode("utf-8")
    if whole.suffix.lower() == PACK:
        files[PACK] = whole.read_bytes()
    else:
        files |= _packed(checked, complete, whole)
    return files


def _packed(checked: Checked, leaflet: bytes, script: Path) -> Drawn:
    """A pack of the script, so that no technique is left behind; the script itself where its name
    or that of a file beside it cannot go into a pack."""
    try:
        made = make_pack(checked, {"leaflet.html": leaflet}, None)
        open_pack(made)
    except (NotAPackError, ValueError):
        return {".sockscript": script.read_bytes()}
    return {PACK: made}


def _drawings(runs: tuple[Run, ...], title: str) -> dict[str, str]:
    """The pictures of the middle size."""
    middle = len(runs) // 2
    one = runs[middle]
    made = {"shape": schematic_picture(runs, middle, heading=f"{title}: finished measurements"),
            "heel": heel_picture(one, heading=f"{title}, {one.size_name}: short rows"),
            "fold": fold_picture(one, heading=f"{title}, {one.size_name}: turning to a tube")}
    if made["shape"] is not None:
        made[site.CARD] = schematic_picture(runs, middle, heading="", table=False)
    return {name: picture.svg for name, picture in made.items() if picture is not None}
