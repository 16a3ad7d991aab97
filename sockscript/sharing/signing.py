"""Signatures of packs (Ed25519, RFC 8032) and the keys that a member knows.

A signature says that somebody who has a certain key made this pack and that nothing in it was
changed since; whose key that is, members tell each other, by its mark read aloud.  Keys are kept in
the member's own folder and nowhere else.
"""

from __future__ import annotations

import base64
import hashlib
import json
import os
import sys
from collections.abc import Mapping
from pathlib import Path
from typing import TYPE_CHECKING, NamedTuple

from sockscript.sharing.fingerprint import letters_of
from sockscript.text.packed import RECORD, SIGNATURE, NotAPackError, Pack

if TYPE_CHECKING:
    from cryptography.hazmat.primitives.asymmetric.ed25519 import Ed25519PrivateKey

FORM = "sockscript-signature-1"
_KEY, _KNOWN = "my-key.pem", "known-keys.json"
LONGEST_NAME = 80


class Signed(NamedTuple):
    """A signature that is right: the mark of its key, and the key itself."""

    mark: str
    key: str


def keys_folder(environment: Mapping[str, str], platform: str = sys.platform) -> Path:
    """Where a member's keys are kept: ``$SOCKSCRIPT_KEYS`` if set, else the usual place for
    settings (on Linux that of the XDG Base Directory Specification)."""
    named = environment.get("SOCKSCRIPT_KEYS")
    if named:
        return Path(named)
    if platform == "win32":
        roaming = environment.get("APPDATA") or Path.home() / "AppData" / "Roaming"
        return Path(roaming) / "sockscript"
    if platform == "darwin":
        return Path.home() / "Library" / "Application Support" / "sockscript"
    base = environment.get("XDG_CONFIG_HOME", "")
    return (Path(base) if os.path.isabs(base) else Path.home() / ".config") / "sockscript"


def mark_of(key: str) -> str:
    """The mark of a key, to be read aloud."""
    return letters_of(hashlib.sha256(base64.b64decode(key)).hexdigest(), 16)


def signature_of(pack: Pack, folder: Path) -> bytes:
    """The signature of a pack by the member's own key, which is made if there is none.

    Raises ImportError without the library, OSError or ValueError for a key that cannot be used.
    """
    private = _own(folder)
    told = {"form": FORM, "key": _public(private),
            "signature": base64.b64encode(private.sign(_message(pack))).decode("ascii")}
    return (json.dumps(told, indent=1, sort_keys=True) + "\n").encode("ascii")


def own_key(folder: Path) -> str:
    """The member's own public key; it is made if there is none.  Raises as ``signature_of``."""
    return _public(_own(folder))


def verified(pack: Pack) -> Signed | None:
    """The signature of a pack; None if it has none.

    Raises NotAPackError for one that is not right, ImportError without the library.
    """
    data = pack.members.get(SIGNATURE)
    if data is None:
        return None
    wrong = NotAPackError("Its signature is not of this pack: it was changed after it was signed.")
    try:
        told = json.loads(data)
        key = base64.b64decode(told["key"], validate=True)
        signature = base64.b64decode(told["signature"], validate=True)
        if told["form"] != FORM or len(key) != 32 or len(signature) != 64:
            raise wrong
    except (ValueError, KeyError, TypeError, RecursionError):
        raise wrong from None
    from cryptography.exceptions import InvalidSignature
    from cryptography.hazmat.primitives.asymmetric.ed25519 import Ed25519PublicKey

    try:
        Ed25519PublicKey.from_public_bytes(key).verify(signature, _message(pack))
    except (InvalidSignature, ValueError):
        raise wrong from None
    text = base64.b64encode(key).decode("ascii")
    return Signed(mark_of(text), text)


def known_keys(folder: Path) -> dict[str, str]:
    """The keys that a member knows, by the name that she gave each."""
    try:
        told = json.loads((folder / _KNOWN).read_text("utf-8"))
    except (OSError, ValueError, RecursionError):
        return {}
    return {name: key for name, key in told.items()
            if isinstance(key, str)} if isinstance(told, dict) else {}


def known_with(folder: Path, name: str, key: str) -> str:
    """The list of known keys with one more, as the text of its file."""
    return json.dumps({**known_keys(folder), name: key}, ensure_ascii=False, indent=1) + "\n"


def known_file(folder: Path) -> Path:
    """Where the known keys are kept."""
    return folder / _KNOWN


def _message(pack: Pack) -> bytes:
    # Sizes and digests of all members stand in the record.
    return FORM.encode("ascii") + b"\n" + pack.members[RECORD]


def _own(folder: Path) -> Ed25519PrivateKey:
    from cryptography.hazmat.primitives import serialization as form
    from cryptography.hazmat.primitives.asymmetric import ed25519

    path = folder / _KEY
    if path.exists():
        private = form.load_pem_private_key(path.read_bytes(), password=None)
        if not isinstance(private, ed25519.Ed25519PrivateKey):
            raise ValueError(f"{path} is no key for packs")
        return private
    folder.mkdir(parents=True, exist_ok=True, mode=0o700)
    private = ed25519.Ed25519PrivateKey.generate()
    data = private.private_bytes(form.Encoding.PEM, form.PrivateFormat.PKCS8, form.NoEncryption())
    # Never over a key that is there, and for nobody else to read.
    handle = os.open(path, os.O_WRONLY | os.O_CREAT | os.O_EXCL, 0o600)
    with os.fdopen(handle, "wb") as stream:
        stream.write(data)
    return private


def _public(private: Ed25519PrivateKey) -> str:
    return base64.b64encode(private.public_key().public_bytes_raw()).decode("ascii")
