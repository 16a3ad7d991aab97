"""The machine that a command is to use: the one that was asked for, or the member's usual one."""

from __future__ import annotations

import sys
from typing import NamedTuple

from sockscript.machine.places import ANY, usual_machine
from sockscript.text.width import set_in


class MachineAsked(NamedTuple):
    """A profile's name or file (None: any machine that is as the script says), and whether it is
    the usual one, which nobody has named this time."""

    name: str | None
    usual: bool = False

    @property
    def remark(self) -> str:
        """What is said where the usual machine is used; empty where it is not."""
        return (f"On your usual machine, {self.name} (--machine {ANY}: on any that is as the "
                "script says)." if self.usual else "")

    def tell(self) -> None:
        """Say it beside what the command prints."""
        if self.usual:
            print(set_in(self.remark), file=sys.stderr)


def machine_asked(given: str | None) -> MachineAsked:
    """What ``--machine`` means; without it the usual machine."""
    if given is None:
        usual = usual_machine()
        return MachineAsked(usual, usual is not None)
    return MachineAsked(None if given.lower() == ANY else given)
