"""What else comes from strangers, spoiled: packs, knitting logs, machine profiles."""

from __future__ import annotations

import io
import json
import re
import warnings
import zipfile
from collections.abc import Callable
from functools import cache
from pathlib import Path
from random import Random
from typing import Any

from attack.corpus import (
    HEADERS,
    NASTY,
    ROOT,
    any_script,
    in_thick_yarn,
    nearly_whole,
    of_few_sizes,
    scripts,
    spoiled,
    whole_socks,
)
from sockscript.findings.checked import check
from sockscript.sharing.pack import make_pack
from sockscript.text.packed import FOLDER, RECORD, SIGNATURE, Pack, open_pack, pack_bytes
from sockscript.text.source import Source

PATHS = ["../up.sockscript", "/etc/up.sockscript", "C:/up.sockscript", "script\\up.sockscript",
         "script/../../up.sockscript", "script/con.sockscript", "script/a\0b.sockscript",
         "script/", "", ".", "script/a.sockpack", "leaflet.pdf", "leaflet.html", "signature.json",
         "pack.json", "script/checked-on.machine", "script/" + "a" * 400 + ".sockscript",
         "script/" + "a/" * 40 + "b.sockscript", "script/e\u0301.sockscript", "Script/a.sockscript",
         "script/\u202ea.sockscript", "script/\ud800.sockscript"]
"""Names for members that lead astray."""
ODD_VALUES: list[Any] = [None, True, 0, -1, 1.5, 10 ** 400, "", [], {}, [[]], {"a": {}}, "x" * 5000]


@cache
def _good(number: int) -> Pack:
    random = Random(number)
    text = in_thick_yarn(random, of_few_sizes(random, whole_socks()[number]))
    profile = (ROOT / "sockscript" / "machines" / "harbour-45.machine").read_bytes()
    return open_pack(make_pack(check(Source("a-sock.sockscript", text)),
                               {"leaflet.html": b"<p>so"}, profile if number % 2 else None))


def pack(random: Random) -> bytes:
    """A pack with a spoiled script in it, or whose archive or record somebody changed."""
    good = _good(random.randrange(len(whole_socks())))
    members = {name: data for name, data in good.members.items() if name != RECORD}
    record = dict(good.record)
    main = FOLDER + record["script"]
    if random.random() < 0.9:
        # Large scripts take long and are no more hostile.
        members[main] = _bytes(nearly_whole(random, (0, 0, 1)))
    for _ in range(random.choice([0, 0, 1, 1, 2])):
        _change(random, record, members, main)
    data = pack_bytes(record, members) if random.random() < 0.85 else _by_another(
        random, {**members, RECORD: good.members[RECORD]})
    for _ in range(random.choice([0, 0, 0, 0, 1, 2])):
        data = _damaged(random, data)
    return data


def _bytes(text: str) -> bytes:
    return text.encode("utf-8", "replace")


def _change(random: Random, record: dict[str, Any], members: dict[str, bytes], main: str) -> None:
    """Change one thing as somebody may who writes packs with a program of her own."""
    keys = [*record, "files", "form"]
    match random.randrange(10):
        case 0:
            record.pop(random.choice(list(record)), None)
        case 1:
            record[random.choice(keys)] = random.choice(
                [*ODD_VALUES, *(one for one in NASTY if one != "\ud800")])
        case 2:
            check = record["check"] if isinstance(record.get("check"), dict) else {}
            record["check"] = {**check, random.choice([*check, "x"]): random.choice(ODD_VALUES)}
        case 3:
            record["script"] = random.choice([*members, "a.sockscript", "../a.sockscript"])
        case 4:
            members.pop(random.choice(list(members)), None)
        case 5:
            name = random.choice([*(one for one in PATHS if "\ud800" not in one),
                                  f"script/a{random.choice(NASTY[:4])}.sockscript"])
            members[name] = _bytes(any_script(random))
        case 6:
            members["script/checked-on.machine"] = _bytes(profile(random))
            record["machine"] = "checked-on.machine"
        case 7:
            takes = random.choice([b"use", b"builds on"])
            members["script/other.sockscript"] = _bytes(any_script(random))
            members[main] = takes + b' "other.sockscript"\n' + members.get(main, b"")
        case 8:
            members[SIGNATURE] = random.choice([b"", b"{}", b"[" * 9999, json.dumps(
                {"key": random.choice(["", "A" * 44, 7]), "signature": "A" * 88}).encode()])
        case _:
            name = random.choice(list(members) or [main])
            members[name] = random.choice([b"", b"\0", b"\xff\xfe", b"\x1b]0;x\x07",
                                           members.get(name, b"")[:random.randrange(99)]])


def _by_another(random: Random, members: dict[str, bytes]) -> bytes:
    """An archive of the members as another program may write it, with path tricks and twins."""
    pairs = list(members.items())
    for _ in range(random.choice([0, 1, 2])):
        at = random.randrange(len(pairs))
        match random.randrange(4):
            case 0:
                pairs.append(pairs[at])
            case 1:
                pairs[at] = (random.choice(PATHS), pairs[at][1])
            case 2:
                pairs.append((random.choice(PATHS), pairs[at][1]))
            case _:
                random.shuffle(pairs)
    stream = io.BytesIO()
    with warnings.catch_warnings(), zipfile.ZipFile(stream, "w") as made:
        warnings.simplefilter("ignore")
        for name, data in pairs:
            one = zipfile.ZipInfo(name.encode("utf-8", "replace").decode(), (1980, 1, 1, 0, 0, 0))
            one.create_system, one.external_attr = 0, random.choice(
                [0x20, 0x20, 0x20, 0o120777 << 16, 0o040755 << 16])
            one.compress_type = random.choice([zipfile.ZIP_STORED] * 4 + [zipfile.ZIP_DEFLATED])
            made.writestr(one, data)
    return stream.getvalue()


def _damaged(random: Random, data: bytes) -> bytes:
    """Bytes turned over, cut off, doubled or put in; often in the directory of the archive."""
    out = bytearray(data)
    if not out:
        return b"PK\3\4"
    directory = data.find(b"PK\1\2")
    first = directory if directory >= 0 and random.random() < 0.5 else 0
    at = random.randrange(first, len(out))
    match random.randrange(5):
        case 0:
            out[at] ^= 1 << random.randrange(8)
        case 1:
            del out[at:]
        case 2:
            out[at:at] = random.choice([b"\0" * 9, b"PK\5\6", b"PK\1\2", b"PK\6\7", out[:60]])
        case 3:
            del out[at:at + random.randrange(1, 40)]
        case _:
            out[at:at + 4] = random.choice([b"\xff" * 4, b"\0" * 4, b"\xff\xff\xff\x7f"])
    return bytes(out)


LOG: dict[str, Any] = {
    "form": "sockscript-log-1", "title": "", "version": "1", "size": "", "choices": {},
    "machine": "", "mark": "", "fingerprint": "", "knitter": "Ada", "sock": "First sock",
    "began": "", "ended": "", "measured": {"foot": 240, "around": 210, "weight": 31},
    "notes": [{"section": "Leg", "step": 2, "counter": 12, "words": "Dropped one."}],
    "times": [{"section": "Leg", "step": 2, "seconds": 600, "pauses": 1, "rows": 60,
               "row-seconds": 300}]}


def log(random: Random, text: str) -> bytes:
    """A log of the script ``text`` with values changed, or damaged as a file."""
    found = json.loads(json.dumps(LOG))
    for key, pattern in (("title", r'^pattern "(.*)"'), ("size", r"^sizes (\S+)"),
                         ("version", r"^version (\S+)")):
        match = re.search(pattern, text, re.M)
        found[key] = match[1].strip('"') if match else ""
    found["choices"] = {one[1]: one[2] for one in re.finditer(
        r"^option (\S+) ([^\s,]+)", text, re.M)}
    for word in re.findall(r'^section "(.*)"', text, re.M):
        for kind in ("notes", "times"):
            found[kind].append({**found[kind][0], "section": word,
                                "step": random.randrange(-1, 40)})
    for _ in range(random.choice([0, 1, 1, 2, 3])):
        _spoil_value(random, found)
    data = json.dumps(found).encode("utf-8", "surrogatepass")
    return _damaged(random, data) if random.random() < 0.15 else data


def _spoil_value(random: Random, tree: Any) -> None:
    """Change one value anywhere in a tree of plain data."""
    places: list[tuple[Any, Any]] = []
    waiting = [tree]
    while waiting:
        one = waiting.pop()
        keys = list(one) if isinstance(one, dict) else range(len(one))
        places += [(one, key) for key in keys]
        waiting += [one[key] for key in keys if isinstance(one[key], dict | list)]
    where, key = random.choice(places)
    if random.random() < 0.1:
        del where[key]
        return
    where[key] = random.choice([*ODD_VALUES, *NASTY, "Leg", 3, 1e7, 1e308, float("nan")])


@cache
def _profiles() -> tuple[str, ...]:
    return tuple(path.read_text("utf-8") for path in sorted(
        (ROOT / "sockscript" / "machines").glob("*.machine")))


def profile(random: Random) -> str:
    """A machine profile after some slips."""
    return spoiled(random, random.choice(_profiles()), random.choice([0, 1, 2, 4]))


def technique_file(random: Random) -> str:
    """A file that may have a technique ``odd-one``, calling what it stands for or not."""
    if random.random() < 0.2:
        return any_script(random)
    body = [line for line in random.choice(scripts()).split("\n") if line.startswith("    ")]
    kept = body[:random.randrange(1, 9)] or ["    half pitch"]
    return spoiled(random, "technique odd-one with leave = 8\n" + "\n".join(kept) + "\n",
                   random.choice([0, 1]))


def folder_of(random: Random, folder: Path) -> None:
    """Some patterns of a club, each in its way spoiled."""
    makers: list[Callable[[Random], bytes]] = [
        lambda r: _bytes(nearly_whole(r)), lambda r: _bytes(any_script(r)), pack]
    for number in range(random.choice([1, 2, 3])):
        make = random.choice(makers)
        ending = "sockpack" if make is pack else "sockscript"
        (folder / f"{number}{random.choice(['', ' x', 'é', chr(0x202e)])}.{ending}").write_bytes(
            make(random))


def built_on(random: Random, base: str) -> str:
    """A script that builds on another, with a few lines of its own and of anybody's."""
    called = [line.split()[1] for line in base.split("\n") if line.strip().startswith("do ")]
    names = [*called, "round-toe", "odd-one", random.choice(NASTY)]
    lines = [f"exchange {random.choice(names)} for {random.choice(names)}"
             for _ in range(random.choice([0, 0, 0, 1, 2]))]
    lines += random.choice([[], [random.choice(HEADERS)],
                            ["gauge plain 9 stitches, 12 rows per 10 cm"]])
    blocks = re.split(r"\n(?=\S)", base)
    lines += [spoiled(random, one, random.choice([0, 0, 1]))
              for one in random.sample(blocks, min(len(blocks), random.choice([0, 1, 2])))]
    named = random.choice(["base.sockscript"] * 8 + ["attacked.sockscript", "../base.sockscript"])
    return f'builds on "{named}"\n' + "\n".join(lines) + "\n"
