"""Who signed a pack, as far as the member can know, told by every command that reads one."""

from __future__ import annotations

import os
import sys

from sockscript.commands.output import write_out
from sockscript.sharing.signing import (
    LONGEST_NAME,
    Signed,
    keys_folder,
    known_file,
    known_keys,
    known_with,
    verified,
)
from sockscript.text.packed import NotAPackError, Pack
from sockscript.text.source import Problem, Source, Span

NOBODY = "not signed: anybody may have made it"
UNSEEN = "signed by a key that you have not seen"


def signer(pack: Pack) -> str:
    """``signed by the key that you know as Ada``, in few words.  Raises NotAPackError for a
    signature that is not right."""
    try:
        signed = verified(pack)
    except ImportError:
        return "signed, but without the library cryptography nobody can tell by whom"
    if signed is None:
        return NOBODY
    name = _name_of(signed)
    return f"signed by the key that you know as {name}" if name is not None else UNSEEN


def refused(source: Source) -> Problem | None:
    """Why the script of a pack is not used: its signature is not right."""
    try:
        if source.pack is not None:
            signer(source.pack)
    except NotAPackError as error:
        return Problem("not-a-pack", Span(Source(source.name, ""), 1, 1, 1), str(error),
                       error.hint)
    return None


def tell_signer(source: Source) -> None:
    """Say on standard error who signed the pack that a script is from."""
    if source.pack is not None:
        pack = source.name.rpartition("/")[0]
        print(f"{pack} is {signer(source.pack)}"
              + (f" (sockscript open {pack} tells more)." if signer(source.pack) == UNSEEN
                 else "."), file=sys.stderr)


def signer_at_length(pack: Pack, know: str | None) -> str:
    """The same with all that can be done; ``know``: the name to keep the key under.  Raises
    NotAPackError, OSError."""
    said = signer(pack)
    if said == NOBODY:
        return said + (f", so no key is kept as {know}" if know else "")
    if said != UNSEEN:
        return said
    signed = verified(pack)
    assert signed is not None
    words = f"{said}: {signed.mark}"
    if know is None:
        return (f"{words}\n    Ask her to read you the mark that 'sockscript key' shows her. If it "
                "is the\n    same, keep it:\n      sockscript open … --know NAME")
    folder = keys_folder(os.environ)
    if know in known_keys(folder):
        return f"{words}; the one that you know as {know} is another, and stays"
    folder.mkdir(parents=True, exist_ok=True, mode=0o700)
    if write_out(known_with(folder, know[:LONGEST_NAME], signed.key), known_file(folder)):
        return words
    return f"{words}; from now on you know it as {know}"


def _name_of(signed: Signed) -> str | None:
    known = known_keys(keys_folder(os.environ))
    return next((name for name, key in known.items() if key == signed.key), None)


def unusable_key(error: Exception) -> str:
    """What to say of a key of one's own that cannot be used."""
    from sockscript.commands.output import missing_extra

    return missing_extra(error, "A signature") if isinstance(error, ImportError) else \
        f"Your key cannot be used: {error}."
