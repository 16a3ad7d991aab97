"""Scripts made to be too much: each is answered within 2 seconds and 300 MB."""

from __future__ import annotations

BIG = 4_000_000
"""Bytes of a large file."""

SECTION = 'yarn main "wool"\nsection "Leg"\n'


def fill(line: str, size: int = BIG, head: str = SECTION) -> str:
    """As many of a line as go into a file of ``size``; ``{n}`` is its number."""
    count = size // len(line)
    return head + "".join(line.replace("{n}", str(n)) for n in range(count))


def fitting(line: str, head: str = SECTION) -> str:
    """As many of a line as a script may have."""
    from sockscript.text.source import LARGEST_FILE, MOST_LINES

    count = min((LARGEST_FILE - len(head)) // (len(line) + 5),
                (MOST_LINES - head.count("\n")) // line.count("\n"))
    return head + "".join(line.replace("{n}", str(n)) for n in range(count))


ONE_STATEMENT = {
    "drop": "    drop L5 of front\n", "hold": "    hold left 3 of front\n",
    "expect": "    expect 4 stitches\n", "do": "    do wedge-toe with leave = 8\n",
    "knit": "    knit 2 rows\n", "note": '    note "Rest."\n',
    "let": "    let a{n} = 2\n", "unknown-do": "    do nothing-{n}\n",
    "unknown-name": "    knit missing-{n} rows\n", "bring": "    bring L5 of front into work\n",
    "repeat": "    repeat 2 times\n        half pitch\n", "cut": "    cut\n",
    "when": "    when 1 is 1\n        half pitch\n", "empty": "\n", "comment": "#\n",
    "step": '    step "Lift {{n}}."\n', "transfer": "    transfer front to back\n",
    "rack": "    rack 1 to the left\n", "tube": "    expect tube of 8 stitches a bed\n"}
"""One statement of a section, again and again."""

AT_TOP = {
    "use": 'use "missing{n}.sockscript"\n', "section": 'section "S{n}"\n    half pitch\n',
    "same-section": 'section "S"\n    half pitch\n', "top-let": "let a{n} = b{n}\n",
    "sizes": "sizes S M\n    foot-round 20 22 cm\n", "yarn": 'yarn main{n} "wool"\n',
    "gauge": "gauge g{n} 30 stitches, 42 rows per 10 cm\n", "option": "option o{n} a, b\n",
    "technique": "technique t{n}\n    half pitch\n", "allow": 'allow short-row-hole "so"\n',
    "top-note": 'note "Rest."\n', "swatch": "swatch plain in main 10 cm by 10 cm weighs 5 g\n",
    "works": "works for\n    foot-round 18 to 27 cm by 1 cm\n", "knit": "knit 2 rows\n",
    "technique-call": "technique t{n}\n    do t{n}\n"}
"""One line of the header, again and again."""

SCRIPTS = {
    **{f"many-{name}": fill(line) for name, line in ONE_STATEMENT.items()},
    **{f"most-{name}": fitting(line) for name, line in ONE_STATEMENT.items()},
    **{f"many-top-{name}": fill(line, head="") for name, line in AT_TOP.items()},
    **{f"most-top-{name}": fitting(line, head="") for name, line in AT_TOP.items()},
    "values-in-a-note": SECTION + '    note "' + "{1} " * 300_000 + '"\n',
    "values-in-notes": fitting('    note "' + "{1} " * 400 + '"\n'),
    "digits-before-quotes": SECTION + "    step " + "1" * 60 + "”" * 40 + "\n",
    "digits-and-quotes": SECTION + "    step " + "1”" * 50 + "\n",
    "long-run-of-digits": SECTION + "    step “" + "1" * 1900 + "\n",
    "longer-run-of-digits": SECTION + "    step “" + "1" * 100_000 + "\n",
    "lines-of-digits": fitting("    step “" + "1" * 1800 + "\n"),
    "misspelt": "".join(f"let value-number-{n} = {n}\n" for n in range(9_000)) + SECTION
                + "".join(f"    knit valeu-nunber-{n} rows\n" for n in range(9_000)),
    "long-names": "".join(f"let {'ab' * 500}{n} = {n}\n" for n in range(300)) + SECTION
                  + "".join(f"    knit {'ba' * 500}{n} rows\n" for n in range(300)),
    "names-of-names": "let a0 = 1\n" + "".join(f"let a{n} = a0 + 1\n" for n in range(1, 12_000))
                      + SECTION + "".join(f"    let b{n} = a{n}\n" for n in range(1, 12_000)),
    "sizes-and-options": "sizes " + " ".join(f"S{n}" for n in range(40)) + "\n"
                         + "    foot-round " + " ".join("20" for n in range(40)) + " cm\n"
                         + "".join(f"option o{n} a, b\n" for n in range(12)) + SECTION
                         + "".join(f"    when o{n} is a\n        half pitch\n"
                                   for n in range(12)),
    "options-alone": "".join(f"option o{n} a, b\n" for n in range(12)) + SECTION
                     + "".join(f"    when o{n} is a\n        half pitch\n" for n in range(12)),
    "options-in-sections": "".join(f"option o{n} a, b\n" for n in range(10))
                           + "".join(f'section "S{n}"\n    when o{n} is a\n        half pitch\n'
                                     for n in range(10)),
    "many-sizes": "sizes " + " ".join(f"S{n}" for n in range(250)) + "\n" + SECTION
                  + "    half pitch\n" * 2_000,
    "wide-table": "sizes " + " ".join(f"S{n}" for n in range(200_000)) + "\n" + SECTION,
    "repeat": SECTION + "    repeat 90000 times\n" + "        half pitch\n" * 12,
    "repeat-knitting": SECTION + "    bring centre 30 of both into work to cast on\n"
                       "    set both to knit\n    thread main\n    repeat 90000 times\n"
                       "        knit 1 row\n        hold left 1 of front\n"
                       "        return left 1 of front to work\n",
    "repeat-notes": SECTION + '    repeat 90000 times\n        note "Rest."\n',
    "repeat-faults": SECTION + "    repeat 90000 times\n        expect 4 stitches\n",
    "brackets": SECTION + "    knit " + "(" * 900 + "1" + ")" * 900 + " rows\n",
    "nots": SECTION + "    when " + "not " * 480 + "1 is 1\n        half pitch\n",
    "ands": SECTION + "    when " + " and ".join(["1 is 1"] * 170) + "\n        half pitch\n",
    "minuses": SECTION + "    knit " + "- " * 900 + "1 rows\n",
    "sum": SECTION + "    knit " + " + ".join(["1"] * 490) + " rows\n",
    "rounding": SECTION + "    knit 1 " + "to nearest even " * 110 + "rows\n",
    "every": SECTION + "    hold " + "every other of " * 120 + "left 4 of front\n",
    "chain-of-lets": "let a0 = 1\n" + "".join(
        f"let a{n} = a{n - 1} + 1\n" for n in range(1, 5_000)) + SECTION
        + "    knit a4999 rows\n",
    "ring-of-lets": "".join(f"let a{n} = a{(n + 1) % 5_000} + 1\n" for n in range(5_000))
                    + SECTION + "    knit a4 rows\n",
    "doubling-lets": "let a0 = 1\n" + "".join(
        f"let a{n} = a{n - 1} + a{n - 1}\n" for n in range(1, 5_000)) + SECTION
        + "    knit a4999 rows\n",
    "doubling-techniques": "technique t0\n    half pitch\n" + "".join(
        f"technique t{n}\n    do t{n - 1}\n    do t{n - 1}\n" for n in range(1, 28)) + SECTION
        + "    do t27\n",
    "doubling-values": "technique t0 with a = 1\n    half pitch\n" + "".join(
        f"technique t{n} with a = 1\n    do t{n - 1} with a = a * a\n" for n in range(1, 28))
        + SECTION + "    do t27 with a = 99999999999\n",
    "handed-on": "technique t0 with a, b = k0\n    half pitch\n" + "".join(
        f"technique t{n} with a, b = k{n}\n" + f"    do t{n - 1} with a = a, b = b\n" * 2
        for n in range(1, 5_000)) + SECTION + "    do t4999 with a = 1, b = k\n",
    "one-line": "a" * BIG, "one-quote": '"' * BIG, "quotes": '"“”#' * (BIG // 10),
    "spaces": " " * BIG, "tabs": "\t" * BIG, "space-lines": fitting(" " * 1_900 + "\n"),
    "hashes": "#" * BIG, "braces": SECTION + '    note "' + "{" * 1_900 + '"\n',
    "vulgar": SECTION + "    knit " + "½" * 1_900 + " rows\n",
    "letters": "\n".join("aA" * 900 for _ in range(700)),
}
