"""Speed as ratios against a baseline measured in the same run: ``python tests/bench/ratios.py``.

Each line gives the ratio, the bound that is aimed at, and the two times.  Times on their own
depend on the machine; the ratios do so much less.  They are times of the processor, so that other
programs disturb them little.  Not a test: nothing fails here.
"""

from __future__ import annotations

import gc
import os
import re
import resource
import statistics
import subprocess
import sys
import tempfile
import time
from pathlib import Path

ROOT = Path(__file__).resolve().parents[2]
sys.path.append(str(ROOT / "tests"))

from oracle.plain_machine import PlainMachine  # noqa: E402

from sockscript.commands.check import check_file  # noqa: E402
from sockscript.findings.checked import check  # noqa: E402
from sockscript.findings.prove import Prepared, judge_proof, prepare, prove  # noqa: E402
from sockscript.findings.ranges import (  # noqa: E402
    RangeProof,
    combination,
    combinations,
    settled_script,
)
from sockscript.machine.load import script_profile  # noqa: E402
from sockscript.text.source import Source, read_source  # noqa: E402
from sockscript.trace.engine import Engine  # noqa: E402

SOCK = ROOT / "examples" / "family-sock.sockscript"


def whole(*arguments: str, runs: int = 15) -> float:
    """Median time of a whole process, seconds."""
    times = []
    for _ in range(runs):
        start = _children()
        subprocess.run([sys.executable, *arguments], capture_output=True, check=False,
                       cwd=ROOT / "tests")
        times.append(_children() - start)
    return statistics.median(times)


def _children() -> float:
    used = resource.getrusage(resource.RUSAGE_CHILDREN)
    return used.ru_utime + used.ru_stime


def inside(work, runs: int = 7) -> float:
    """Median time of a call, seconds."""
    times = []
    for _ in range(runs):
        start = time.process_time()
        work()
        times.append(time.process_time() - start)
    return statistics.median(times)


def line(what: str, ours: float, baseline: float, bound: str) -> None:
    print(f"{what:<62} {ours / baseline:8.2f}   aim {bound:<10} "
          f"({ours * 1000:.1f} ms / {baseline * 1000:.1f} ms)")


def startup() -> None:
    imports = whole("-c", "import lark, attrs, typer")
    line("check family sock, cold / import lark, attrs, typer",
         whole("-m", "sockscript", "check", str(SOCK)), imports, "<= 4")
    with tempfile.TemporaryDirectory() as folder:
        hello = Path(folder) / "hello.py"
        hello.write_text("import typer\napp = typer.Typer()\n@app.command()\ndef a():\n    pass\n"
                         "@app.command()\ndef b():\n    pass\napp()\n")
        line("sockscript --help / a typer hello-world --help",
             whole("-m", "sockscript", "--help"), whole(str(hello), "--help"), "<= 1.5")


def leaflet() -> None:
    """The nine sizes of the family sock as HTML, in the process and as a whole command."""
    from sockscript.commands.chosen import plans_asked
    from sockscript.sheet.html_form import render
    from sockscript.sheet.sheet import make_sheet

    def sheet() -> None:
        proof = check_file(SOCK, None).proof
        assert proof is not None
        plans = plans_asked(proof, list(range(len(proof.outcomes))), [], False)
        render(make_sheet(proof.prepared.script, plans, proof.profile, False))

    line("sheet as HTML / check, family sock, nine sizes, warm", inside(sheet),
         inside(lambda: check_file(SOCK, None)), "<= 3")
    with tempfile.TemporaryDirectory() as folder:
        line("sheet as HTML / check, the same as whole commands",
             whole("-m", "sockscript", "sheet", str(SOCK), "-o", str(Path(folder) / "a.html")),
             whole("-m", "sockscript", "check", str(SOCK)), "<= 3")


def fingerprints() -> None:
    """The mark beside the check of the script that it is of, in the process."""
    from sockscript.sharing.stamp import fingerprint_of

    checked = check_file(SOCK, None)
    line("fingerprint / check, family sock", inside(lambda: fingerprint_of(checked), 31),
         inside(lambda: check_file(SOCK, None)), "<= 0.03")


def packs() -> None:
    """A pack with a leaflet in it beside the script that it holds, as whole commands."""
    with tempfile.TemporaryDirectory() as folder:
        pack = Path(folder) / "sock.sockpack"
        subprocess.run([sys.executable, "-m", "sockscript", "pack", str(SOCK), "-o", str(pack)],
                       capture_output=True, check=True, cwd=ROOT / "tests")
        line("check of a pack / check of its script, family sock",
             whole("-m", "sockscript", "check", str(pack)),
             whole("-m", "sockscript", "check", str(SOCK)), "<= 1.2")
        keys = Path(folder) / "keys"
        signed = Path(folder) / "signed.sockpack"
        subprocess.run([sys.executable, "-m", "sockscript", "pack", str(SOCK), "--sign", "-o",
                        str(signed)], capture_output=True, check=True, cwd=ROOT / "tests",
                       env={**os.environ, "SOCKSCRIPT_KEYS": str(keys)})
        line("check of a signed pack / check of its script",
             whole("-m", "sockscript", "check", str(signed)),
             whole("-m", "sockscript", "check", str(SOCK)), "<= 1.2")


def keystrokes() -> None:
    """A script of 1,000 lines in three sizes, checked again after single edits of its lines."""
    from sockscript.service.document import Document

    header = ('pattern "Long"\nyarn main "wool"\ngauge plain 30 stitches, 42 rows per 10 cm\n'
              "sizes  Small Medium Large\n    girth 18 20 22 cm\n    leg 6 8 10 cm\n"
              "let around = stitches(girth) to nearest multiple of 4\nlet half = around / 2\n"
              'section "Begin"\n    do tube-cast-on with half = half, yarn = main\n')
    part = "".join(f"    stitch size {n % 6 + 3}\n    knit rows(leg / {n % 5 + 2}) to nearest "
                   f'rounds\n    note "Go on {n}."\n    row counter {n}\n    repeat 2 times\n'
                   "        knit 2 rounds\n" for n in range(8))
    text = header + "".join(f'section "Part {n}"\n    row counter 0\n{part}' for n in range(20)) \
        + 'section "End"\n    cut\n    gather both\n'
    lines = text.split("\n")
    document = Document("long.sockscript")
    document.examine(text)
    times, knitted = [], []
    for n in range(60):
        at = 11 + n * 97 % (len(lines) - 16)
        now = lines[at]
        typed = (now + " # so", now + "x", re.sub(r"\d+$", "3", now),
                 re.sub(r"\d", "2", now, count=1))[n % 4]
        version = "\n".join([*lines[:at], typed, *lines[at + 1:]])
        start = time.process_time()
        document.examine(version)
        times.append(time.process_time() - start)
        # Without the comments, and the slips that keep it from being knitted.
        if n % 4 > 1 and version != text:
            knitted.append(times[-1])
    with tempfile.TemporaryDirectory() as folder:
        path = Path(folder) / "long.sockscript"
        path.write_text(text)
        cold = whole("-m", "sockscript", "check", str(path))
        line(f"keystroke in {len(lines)} lines / check of it, cold", statistics.median(times), cold,
             "<= 0.2")
        line("the same, only numbers changed", statistics.median(knitted), cold, "<= 0.2")
        line("the same / check in the process", statistics.median(knitted),
             inside(lambda: check_file(path, None)), "(0.2 if cold)")


def edit_with_choices(times: str, over: str) -> None:
    """A script of 970 lines in nine sizes with two options: one number of rows changed.

    ``times``: how often or which part of the leg each line knits; ``over``: the new number.
    """
    from sockscript.service.document import Document

    header = ('pattern "Long"\nyarn main "wool"\ngauge plain 30 stitches, 42 rows per 10 cm\n'
              "sizes  A B C D E F G H I\n    girth 18 19 20 21 22 23 24 25 26 cm\n"
              "    leg 6 7 8 9 10 11 12 13 14 cm\n"
              "option edge plain, doubled\noption end short, long\n"
              "let around = stitches(girth) to nearest multiple of 4\nlet half = around / 2\n"
              'section "Begin"\n    do tube-cast-on with half = half, yarn = main\n'
              "    when edge is doubled\n        knit 4 rounds\n")
    part = "".join(f"    stitch size {n % 6 + 3}\n    knit rows(leg {times} {n % 5 + 2}) to "
                   f'nearest rounds\n    note "Go on {n}."\n    row counter {n}\n'
                   "    repeat 2 times\n"
                   "        knit 2 rounds\n" for n in range(8))
    text = header + "".join(f'section "Part {n}"\n    row counter 0\n{part}' for n in range(19)) \
        + 'section "End"\n    when end is long\n        knit 6 rounds\n    cut\n    gather both\n'
    first, *others = text.split("knit rows(")
    document = Document("long.sockscript")
    document.examine(text)
    took = []
    # As in the service, which looks for garbage after its answer.
    gc.disable()
    for n in range(5, len(others), 20):
        changed = [*others[:n], f"leg {times} 8" + others[n][len("leg * 8"):], *others[n + 1:]]
        start = time.process_time()
        document.examine("knit rows(".join([first, *changed]))
        took.append(time.process_time() - start)
        gc.collect()
    gc.enable()
    source = Source("long.sockscript", text)
    line(f"{over}, 970 lines in 36 combinations / check, warm", statistics.median(took),
         inside(lambda: check(source), 3), "<= 0.2")


def engine_against_oracle() -> None:
    source = read_source(SOCK)
    assert isinstance(source, Source)
    prepared = prepare(source)
    profile = script_profile(prepared.script)
    proof = prove(prepared, profile)
    programs = [[m.op for m in outcomes[0].run.moments] for outcomes in proof.outcomes]

    def drive(machine) -> None:
        for program in programs:
            one = machine(profile)
            for op in program:
                one.apply(op)

    line("plain oracle / engine, family sock, nine sizes", inside(lambda: drive(PlainMachine), 3),
         inside(lambda: drive(Engine)), ">= 20")


def long_tube() -> None:
    def tube(rows: int):
        text = ('pattern "x"\nyarn main "x"\nsection "x"\n    bring centre 32 of both into work '
                "to cast on\n    set both to knit\n    thread main\n    knit 1 row\n"
                f"    set both to circular\n    knit {rows} rows\n    cut\n    gather both\n")
        prepared = prepare(Source("x", text))
        return lambda: prove(prepared, script_profile(prepared.script))

    line("tube of 1,000,000 rows / tube of 1,000 rows", inside(tube(1_000_000), 31),
         inside(tube(1_000), 31), "<= 2")


def long_script() -> None:
    with tempfile.TemporaryDirectory() as folder:
        def script(lines: int) -> Path:
            path = Path(folder) / f"{lines}.sockscript"
            body = "".join(f"    knit {n % 7 + 2} rows # {n}\n    stitch size {n % 9}\n"
                           for n in range(lines // 2))
            path.write_text('pattern "x"\nyarn main "x"\nsection "x"\n    bring centre 20 of '
                            "front into work to cast on\n    set front to knit\n    thread main\n"
                            + body + "    cut\n    gather front\n")
            return path

        small, large = script(2_000), script(20_000)
        line("parse and check 20,000 lines / 2,000 lines",
             inside(lambda: check_file(large, None), 3),
             inside(lambda: check_file(small, None), 5), "<= 12")


RANGES = """works for
    foot-round   13 to 27 cm by 1 cm
    foot-length  19 to 29 cm by 1 cm
    leg-length   4 to 12 cm by 2 cm
    cuff-length  4 to 8 cm by 1 cm
    gauge plain  28 to 32 stitches by 2
"""


def ranges() -> None:
    """10,000 combinations spread over all that the ranges hold; one process, parsing excluded."""
    text = SOCK.read_text("utf-8")
    before, rest = text.split("works for\n")
    prepared = prepare(Source("sock", before + RANGES + rest[rest.index("\n\n"):]))
    profile = script_profile(prepared.script)
    shared = RangeProof(prepared, profile)
    middle = combination(shared.dims, combinations(shared.dims) // 2)
    alone = settled_script(prepared.script, shared.dims, middle)
    one = Prepared(alone, prepared.library, ())
    baseline = inside(lambda: judge_proof(prove(one, profile), None), 21)
    start = time.process_time()
    stride = combinations(shared.dims) // 10_000
    for number in range(10_000):
        shared.verdict(combination(shared.dims, number * stride))
    line("range: 10,000 combinations / one", time.process_time() - start, baseline, "<= 2500")


if __name__ == "__main__":
    startup()
    leaflet()
    fingerprints()
    packs()
    keystrokes()
    edit_with_choices("*", "an edit of rows in a long plain stretch")
    edit_with_choices("/", "an edit of a few rows")
    engine_against_oracle()
    long_tube()
    ranges()
    long_script()
