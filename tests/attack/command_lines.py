"""A command line for a spoiled script, with whatever other files it reads."""

from __future__ import annotations

import shutil
from pathlib import Path
from random import Random

from attack import foreign
from attack.corpus import NASTY, any_script, nearly_whole, of_a_range, spoiled
from sockscript.pictures.kinds import KINDS

OTHERS = ("steps", "needles", "html", "pdf", "picture", "sock", "png", "follow", "sizes", "fit",
          "swatch", "numbers", "range", "format", "mend", "new", "editor", "pack", "open",
          "unpack", "of-pack", "compare", "catalogue", "site", "logs", "with", "profile",
          "built")
"""Commands, and forms of a command that are attacked by themselves."""
OF_PACK = (["check"], ["steps"], ["sizes"], ["check", "--format", "json"], ["numbers"])
ANY = (["check", "--format", "json"], ["steps"], ["sizes"], ["fit", "--shoe", "eu 39"],
       ["needles", "--step", "3"])
"""Commands that take a script in one way or another."""


def written_for(command: str, random: Random, path: Path) -> str:
    """Write the script that a command is tried on; returns its text."""
    if command in ("check", "format") or (command == "editor" and random.random() < 0.5):
        text = any_script(random)
    elif command in ("open", "unpack", "of-pack", "catalogue", "site", "swatch"):
        text = ""
    elif command in ("logs", "with", "profile", "built"):
        # What comes with the script is spoiled.
        text = nearly_whole(random, (0, 0, 0, 1))
    else:
        text = of_a_range(random) if command == "range" else nearly_whole(random)
    path.write_bytes(text.encode("utf-8", "surrogatepass"))
    return text


def arguments(command: str, random: Random, path: Path, text: str) -> list[str]:
    """A command line for a script; what else it reads is written beside it."""
    sizes = next((line.split()[1:] for line in text.split("\n") if line.startswith("sizes ")), [])
    size = ["--size", random.choice(sizes)] if sizes and random.random() < 0.9 else []
    odd = random.choice(NASTY)
    named = random.choice(["harbour-45", "any", odd])
    extra = ["--machine", named] if random.random() < 0.1 else []
    out = str(path.with_name("out"))
    file = str(path)
    match command:
        case "check":
            return [command, file, *extra, *random.choice(
                [[], [], ["--format", "json"], ["--format", "sarif"], ["--format", "lines"]])]
        case "steps":
            return [command, file, *extra, *random.choice(
                [size, [], ["--every-row"], ["--all-choices"], ["-o", out + ".md"],
                 ["-o", out + ".json"], ["-o", out + ".txt"], ["--size", odd],
                 ["--choose", odd + "=" + odd]])]
        case "needles":
            return [command, file, *size, *random.choice(
                [["--step", str(random.randrange(40))], ["--row", str(random.randrange(90))]])]
        case "html" | "pdf":
            return ["sheet", file, *random.choice([size, []]), *random.choice(
                [[], ["--large-print"], ["--with-script"], ["--paper", "letter"],
                 ["--all-choices"]]), "-o", f"{out}.{command}"]
        case "picture" | "sock" | "png":
            kind = "sock" if command == "sock" else random.choice(list(KINDS))
            step = ["--step", str(random.randrange(30))] if kind == "beds" else []
            return ["picture", file, "--what", kind, *size, *step,
                    "-o", out + (".png" if command == "png" else ".svg")]
        case "follow":
            return [command, file, *size, "-o", out + ".html"]
        case "sizes":
            return [command, file, "-o", out + random.choice([".txt", ".md", ".csv", ".json"])]
        case "fit":
            return [command, file, *random.choice(
                [["--foot-length", "24.5cm"], ["--gauge", "29x41/10cm"], ["--shoe", "eu 39"],
                 ["--foot-round", "22cm", "--foot-length", "24cm"], ["--gauge", "10x14/10cm"],
                 ["--gauge", "8x11/10cm", "--foot-round", f"{random.randrange(10, 30)}cm"],
                 ["--foot-round", odd], ["--gauge", odd], ["--shoe", odd], ["--" + odd, "1"],
                 ["--gauge", "9" * random.randrange(1, 5000) + "x40"],
                 ["--foot-length", "1" * random.randrange(1, 5000) + "cm"]])]
        case "swatch":
            return [command, random.choice(["60x84/20x20cm", odd, "0x0/0x0cm", "60x84/" + odd,
                                            "9" * 5000 + "x84/20x20cm", "60x84/20x20in"]),
                    *random.choice([[], ["--washed", "60x84/19x18.5cm"], ["--washed", odd],
                                    ["--fabric", odd]])]
        case "numbers" | "range":
            return [command, file, *(random.choice(
                [[], ["--format", "csv"], ["--format", "json"]]) if command == "range" else [])]
        case "format":
            return [command, file, *random.choice([[], ["--check"], ["--diff"]])]
        case "mend":
            return ["check", "--mend", "--yes", file]
        case "new":
            return ["new", "--title", odd * 3, "--author", odd, "--kind",
                    random.choice(["sock", "leg-warmer", odd]), "--gauge",
                    random.choice(["30x42", odd, "10x10", "90x90", "9" * 5000 + "x40"])]
        case _:
            return _of_strangers(command, random, path, text, odd)


def _of_strangers(command: str, random: Random, path: Path, text: str, odd: str) -> list[str]:
    """A command line that reads more than one script: packs, logs, profiles, whole folders."""
    file, out = str(path), str(path.with_name("out"))
    match command:
        case "pack":
            signed = ["--sign"] if random.random() < 0.1 else []
            machine = ["--machine", "harbour-45"] if random.random() < 0.3 else []
            return [command, file, *signed, *machine, "-o", out + ".sockpack"]
        case "open" | "unpack" | "of-pack":
            packed = path.with_suffix(".sockpack")
            packed.write_bytes(foreign.pack(random))
            shutil.rmtree(out, ignore_errors=True)
            if command == "of-pack":
                first, *more = random.choice([*OF_PACK, ["sheet", "-o", out + ".html"]])
                return [first, str(packed), *more]
            return ["open", str(packed), *(
                ["-o", out] if command == "unpack" else
                ["--know", odd] if random.random() < 0.1 else [])]
        case "compare":
            other = path.with_name("attacked-now.sockscript")
            new = spoiled(random, text, random.choice([0, 1, 2])) if random.random() < 0.8 \
                else nearly_whole(random)
            other.write_bytes(new.encode("utf-8", "surrogatepass"))
            return [command, file, str(other), *random.choice(
                [[], ["--every-step"], ["--format", "markdown"], ["--format", "json"],
                 ["--machine", "harbour-45"]])]
        case "catalogue" | "site":
            club = path.with_name("attacked-club")
            shutil.rmtree(club, ignore_errors=True)
            shutil.rmtree(path.with_name("cache"), ignore_errors=True)
            club.mkdir()
            foreign.folder_of(random, club)
            if command == "site":
                shutil.rmtree(out, ignore_errors=True)
                return ["catalogue", str(club), "--site", out]
            return [command, str(club), *random.choice(
                [[], [odd], ["--foot", "24cm"], ["--gauge", "30"], ["--clean"], ["--trouble"],
                 ["--technique", odd], ["--size", odd], ["--author", odd], ["--foot", odd],
                 ["--machine", "harbour-45"], ["sock", odd], ["--fingerprint", odd],
                 ["--yarn", odd]]), *random.choice(
                [[], ["--format", "json"], ["--format", "csv"], ["--format", "markdown"]])]
        case "logs":
            logs = [path.with_name(f"attacked-{n}.log.json")
                    for n in range(random.choice([1, 1, 2]))]
            for one in logs:
                one.write_bytes(foreign.log(random, text))
            return [command, file, *map(str, logs), *random.choice(
                [[], ["--format", "csv"], ["--format", "json"]])]
        case "with":
            other = path.with_name("odd-one.sockscript")
            other.write_bytes(foreign.technique_file(random).encode("utf-8", "surrogatepass"))
            called = [word for line in text.split("\n") for word in line.split()[1:2]
                      if line.strip().startswith("do ")]
            name = random.choice([*called, *called, odd, "heel"])
            return [*random.choice([["check"], ["check"], *ANY]), file, "--with",
                    f"{name}={random.choice(['odd-one', str(other), *called, odd])}"]
        case "built":
            path.with_name("base.sockscript").write_bytes(path.read_bytes())
            path.write_text(foreign.built_on(random, text), "utf-8", "replace")
            return [*random.choice([["check"], ["check"], *ANY, ["format", "--diff"],
                                    ["compare", str(path.with_name("base.sockscript"))],
                                    ["pack", "-o", out + ".sockpack"]]), file]
        case _:
            machine = path.with_name("attacked.machine")
            machine.write_bytes(foreign.profile(random).encode("utf-8", "surrogatepass"))
            return [random.choice(["check", "check", "steps"]), file, "--machine", str(machine)]
