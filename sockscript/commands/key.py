"""``sockscript key``: the member's own key, by which others know her packs."""

from __future__ import annotations

import os
import sys

from sockscript.commands.check import CLEAN, UNUSABLE
from sockscript.commands.signer import unusable_key
from sockscript.sharing.signing import keys_folder, known_keys, mark_of, own_key
from sockscript.text.width import set_in


def run() -> int:
    """Tell the mark of the own key and of those that are known; returns 0, or 2 without one."""
    folder = keys_folder(os.environ)
    try:
        mine = own_key(folder)
    except (ImportError, OSError, ValueError) as error:
        print(unusable_key(error), file=sys.stderr)
        return UNUSABLE
    print(set_in(f"The mark of your key is {mark_of(mine)}.\nRead it to members who get your "
                 f"packs. The key is kept in {folder}; show that to nobody."))
    for name, one in sorted(known_keys(folder).items()):
        print(f"  You know {mark_of(one)} as {name}.")
    return CLEAN
