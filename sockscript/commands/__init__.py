"""What each command does, apart from the words on the command line (those are in ``cli``).

Every command module has ``run(**options) -> int``, which prints and returns the exit status:
0 clean, 1 something was found, 2 unusable input.
"""

from __future__ import annotations

import sys

SAMPLES = {
    "check": "sockscript check my-sock.sockscript",
    "explain": "sockscript explain short-row-hole",
    "steps": "sockscript steps my-sock.sockscript --size Medium",
    "needles": "sockscript needles my-sock.sockscript --size Medium --step 12",
    "sheet": "sockscript sheet my-sock.sockscript -o my-sock.pdf",
    "picture": "sockscript picture my-sock.sockscript --what heel --size Medium -o heel.svg",
    "follow": "sockscript follow my-sock.sockscript --size Medium -o my-sock.html",
    "logs": "sockscript logs my-sock.sockscript ada.log.json ben.log.json",
    "sizes": "sockscript sizes my-sock.sockscript --format csv -o sizes.csv",
    "fit": "sockscript fit my-sock.sockscript --foot-length 24.5cm --gauge 29x41/10cm",
    "swatch": "sockscript swatch 60x84/20x20cm --washed 60x84/19x18.5cm",
    "numbers": "sockscript numbers my-sock.sockscript --size Medium",
    "pack": "sockscript pack my-sock.sockscript -o my-sock.sockpack",
    "open": "sockscript open my-sock.sockpack",
    "catalogue": "sockscript catalogue our-patterns --foot 24cm --gauge 30 --one-bed",
    "compare": "sockscript compare old-sock.sockscript my-sock.sockscript",
    "range": "sockscript range my-sock.sockscript",
    "format": "sockscript format my-sock.sockscript",
    "language-server": "sockscript language-server",
    "machine": "sockscript machine harbour-45",
    "new": "sockscript new --title \"Harbour Sock\" -o harbour.sockscript",
}
"""A sample line for each command, for messages."""


def wants(command: str, what: str) -> int:
    """Say what a command needs, with an example; returns the exit status."""
    print(f"sockscript {command} wants {what}.\nFor example:  {SAMPLES[command]}\n"
          f"'sockscript {command} --help' tells the rest.", file=sys.stderr)
    return 2
