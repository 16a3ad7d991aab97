"""Packs: a script with all that belongs to it in one file, an ordinary archive (ZIP).

There is one way to write the same pack: nothing is compressed, members stand in order, dates and
attributes say nothing.  So a pack is the same byte for byte wherever it is made, unpacks to what
it is and no more, and whatever was put into it in another way is found by writing it again.
What is told of its members (sizes, digests) stands in ``pack.json``.
"""

from __future__ import annotations

import hashlib
import io
import json
import re
import unicodedata
import zipfile
from collections.abc import Mapping
from typing import Any, NamedTuple

FORM = "sockscript-pack-1"
RECORD, SIGNATURE, FOLDER = "pack.json", "signature.json", "script/"
LEAFLETS = ("leaflet.html", "leaflet.pdf")
LARGEST_PACK = 8_000_000
LARGEST_SCRIPT = 600_000
"""Bytes, as for a script by itself."""
MOST_MEMBERS = 60
LONGEST_NAME = 120
MOST_FOLDERS = 6
_DATE = (1980, 1, 1, 0, 0, 0)
"""The first that the format knows."""
_PLAIN_FILE = 0x20
"""A file, and nothing about whose it is or who may read it (0 would be filled in)."""
_RESERVED = re.compile(r"(con|prn|aux|nul|com[0-9]|lpt[0-9])(\..*)?", re.I)
"""Names that are devices on Windows."""
_TEXTS = ("title", "author", "version", "licence", "fingerprint", "sockscript", "script",
          "machine")


class NotAPackError(Exception):
    """Why a file is not used as a pack, and what to do."""

    def __init__(self, why: str, hint: str = "Ask for it again, as sockscript pack wrote it."
                 ) -> None:
        super().__init__(why)
        self.hint = hint


class Pack(NamedTuple):
    """What is in a pack: ``record`` is what ``pack.json`` tells, ``members`` all by name."""

    record: Mapping[str, Any]
    members: Mapping[str, bytes]

    @property
    def script(self) -> str:
        """The name of the script, without the folder."""
        return str(self.record["script"])

    def texts(self) -> dict[str, str]:
        """The script and the files beside it, by their names from its folder."""
        return {name.removeprefix(FOLDER): data.decode("utf-8-sig")
                for name, data in self.members.items() if name.startswith(FOLDER)}


def pack_bytes(record: Mapping[str, Any], members: Mapping[str, bytes]) -> bytes:
    """A pack of these members.  ``record`` is told with the sizes and digests of them all."""
    files = {name: {"bytes": len(data), "sha256": hashlib.sha256(data).hexdigest()}
             for name, data in sorted(members.items()) if name != SIGNATURE}
    told = {**record, "form": FORM, "files": files}
    text = json.dumps(told, ensure_ascii=False, indent=1, sort_keys=True) + "\n"
    return _archive({**members, RECORD: text.encode("utf-8")})


def signed_bytes(pack: Pack, signature: bytes) -> bytes:
    """The same pack with a signature of its ``pack.json``."""
    return _archive({**pack.members, SIGNATURE: signature})


def _order(name: str) -> tuple[int, str]:
    return (0 if name == RECORD else 1 if name.startswith(FOLDER) else 2, name)


def _archive(members: Mapping[str, bytes]) -> bytes:
    stream = io.BytesIO()
    with zipfile.ZipFile(stream, "w", zipfile.ZIP_STORED) as archive:
        for name in sorted(members, key=_order):
            one = zipfile.ZipInfo(name, _DATE)
            one.create_system, one.external_attr = 0, _PLAIN_FILE
            archive.writestr(one, members[name])
    return stream.getvalue()


def open_pack(data: bytes) -> Pack:
    """Read a pack that may come from anybody.  Raises NotAPackError; writes nothing."""
    if len(data) > LARGEST_PACK:
        raise NotAPackError(f"This file is larger than {LARGEST_PACK // 1_000_000} MB: no pack is.")
    if not data.startswith(b"PK\3\4"):
        raise NotAPackError("This is not a pack: it does not begin as one.")
    try:
        with zipfile.ZipFile(io.BytesIO(data)) as archive:
            members = _members(archive)
    except (zipfile.BadZipFile, NotImplementedError, EOFError, ValueError, OSError,
            OverflowError, MemoryError, RuntimeError):
        raise NotAPackError("This pack is damaged, or broken off.") from None
    if _archive(members) != data:
        raise NotAPackError("There is more in this file than its members, or they were put in by "
                            "another program: something before, between or after them.")
    record = _record(members)
    _as_told(record, members)
    return Pack(record, members)


def _members(archive: zipfile.ZipFile) -> dict[str, bytes]:
    infos = archive.infolist()
    if len(infos) > MOST_MEMBERS:
        raise NotAPackError(f"This pack has more than {MOST_MEMBERS} members.")
    seen: dict[str, str] = {}
    for one in infos:
        name = one.filename
        if one.orig_filename != name:
            raise NotAPackError("A member has a name with an end inside it.")
        if one.flag_bits & 1:
            raise NotAPackError(f"'{name}' is locked with a password.")
        if one.compress_type != zipfile.ZIP_STORED or one.compress_size != one.file_size:
            raise NotAPackError(f"'{name}' is compressed; what comes out of it cannot be known.")
        if (one.external_attr >> 16) & 0o170000 not in (0, 0o100000):
            raise NotAPackError(f"'{name}' is a link or a device, not a file.")
        _look_at_name(name, bool(one.flag_bits & 0x800))
        twin = seen.setdefault(unicodedata.normalize("NFC", name).casefold(), name)
        if twin is not name:
            raise NotAPackError(f"'{name}' is in the pack twice." if twin == name else
                                f"'{name}' and '{twin}' would be one file on some computers.")
    return {one.filename: archive.read(one) for one in infos}


def _look_at_name(name: str, utf_8: bool) -> None:
    """Raise NotAPackError for a name that leads out of the folder or no computer should write."""
    if not utf_8 and not name.isascii():
        raise NotAPackError("A member has a name in a coding that is not UTF-8.")
    if name.startswith("/") or re.match(r"[a-zA-Z]:", name):
        raise NotAPackError(f"'{name}' would be written outside the folder of the pack.")
    parts = name.split("/")
    if ".." in parts or "\\" in name:
        raise NotAPackError(f"'{name}' leads out of the folder of the pack.")
    if (len(name) > LONGEST_NAME or len(parts) > MOST_FOLDERS or not name.isprintable()
            or re.search(r'[:*?"<>|]', name) or any(
                not part or part in (".",) or part[-1] in ". " or part[0] == " "
                or _RESERVED.fullmatch(part) for part in parts)):
        raise NotAPackError(f"'{name[:LONGEST_NAME]}' cannot be the name of a file on every "
                            "computer.")
    if name in (RECORD, SIGNATURE, *LEAFLETS):
        return
    if name.lower().endswith((".sockpack", ".zip")):
        raise NotAPackError(f"'{name}' is a pack within the pack.")
    if not (name.startswith(FOLDER) and name.endswith((".sockscript", ".machine"))):
        raise NotAPackError(f"'{name}' does not belong into a pack.")


def _record(members: Mapping[str, bytes]) -> dict[str, Any]:
    try:
        record = json.loads(members[RECORD].decode("utf-8"))
    except KeyError:
        raise NotAPackError(f"There is no {RECORD} in it, which tells what the pack is.") from None
    except (ValueError, RecursionError):
        raise NotAPackError(f"Its {RECORD} cannot be read.") from None
    if not isinstance(record, dict) or record.get("form") != FORM:
        raise NotAPackError(f"It does not say that it is a pack of the form {FORM}.",
                            "It may be of a newer version of Sockscript.")
    if not all(isinstance(record.get(key), str) and len(record[key]) <= 2_000 for key in _TEXTS) \
            or not isinstance(record.get("files"), dict) \
            or not isinstance(record.get("check"), dict):
        raise NotAPackError(f"Its {RECORD} does not tell all that a pack tells.")
    return record


def _as_told(record: Mapping[str, Any], members: Mapping[str, bytes]) -> None:
    """Every member is as the record tells it, and none is there that it does not tell of."""
    told = record["files"]
    there = set(members) - {RECORD, SIGNATURE}
    for name in sorted(there | set(told)):
        if name not in told or name not in there:
            raise NotAPackError(f"'{name}' is {'not told of' if name in there else 'missing'}: "
                                "the pack was changed after it was made.")
        data = members[name]
        if told[name] != {"bytes": len(data), "sha256": hashlib.sha256(data).hexdigest()}:
            raise NotAPackError(f"'{name}' was changed after the pack was made.")
        if name.startswith(FOLDER):
            if len(data) > LARGEST_SCRIPT:
                raise NotAPackError(f"'{name}' is larger than any script.")
            try:
                data.decode("utf-8")
            except UnicodeDecodeError:
                raise NotAPackError(f"'{name}' is in a coding that is not UTF-8.") from None
            if b"\0" in data:
                raise NotAPackError(f"'{name}' is not a text.")
    if FOLDER + record["script"] not in members or not record["script"].endswith(".sockscript"):
        raise NotAPackError("The script that it tells of is not in it.")
    if record["machine"] and FOLDER + record["machine"] not in members:
        raise NotAPackError("The machine that it tells of is not in it.")
