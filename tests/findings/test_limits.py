"""The limits of the trade: each stands in one place with its source, and ``explain`` prints it."""

from __future__ import annotations

import ast
import importlib
import re
from fractions import Fraction
from pathlib import Path

import sockscript
from sockscript.commands import explain
from sockscript.findings.page import load_page, page_names

PACKAGE = Path(sockscript.__file__).parent
FOLDERS = ("trace", "fabric", "findings/rules", "fit/feet.py", "fit/yarn.py")

# The module and the name of a limit; the finding whose page tells it; its words there.  A share
# is told in percent.
TOLD = [
    ("trace.one_bed", "MOST_STRANDS", "too-many-strands", "takes {} strands"),
    ("trace.yarn", "LONGEST_FLOAT", "yarn-jump", "up to {} needles"),
    ("trace.yarn", "LONGEST_FLOAT", "float-too-long", "most {} needles"),
    ("trace.yarn", "LONGEST_FLOAT", "circular-on-one-bed", "most {} apart"),
    ("fabric.finished", "RIB_STRETCH", "cuff-too-tight", "{} of its width and plain"),
    ("fabric.finished", "PLAIN_STRETCH", "cuff-too-tight", "plain knit to {}."),
    ("fabric.pieces", "SEAM", "not-measured", "up to {} rows over both beds"),
    ("fabric.sock", "NARROW", "not-measured", "over at most {} of the stitches"),
    ("fabric.sock", "NARROW", "narrow-end-open", "at most {} of the stitches"),
    ("fabric.sock", "NARROW", "narrow-start-open", "at most {} of the stitches"),
    ("fabric.sock", "NARROW", "no-way-in", "at most {} of the stitches"),
    ("fabric.sock", "INSET", "not-measured", "has at least {} of the stitches"),
    ("fabric.sock", "TOE_PACE", "not-measured", "once in {} rounds"),
    ("fabric.tubes", "CAST_ON_PASSES", "odd-pass-in-tube", "Up to {} circular passes"),
    ("fabric.tubes", "ROUNDS_BEFORE_SHUT", "tube-knitted-shut", "than {} rounds"),
    ("fabric.tubes", "CAST_ON_PASSES", "tube-not-facing", "Up to {} circular passes"),
    ("fabric.wales.follow", "POCKET", "tube-closed-below", "Up to {} circular passes"),
    ("fabric.wales.meetings", "FEW", "stitches-crossed", "Up to {} stitches"),
    ("fabric.wales.meetings", "CABLE", "stitches-crossed", "most {} stitches"),
    ("fabric.wales.told", "OFF_CENTRE", "seam-off-centre", "from {} stitches"),
    ("fabric.shaping", "MOST_AT_ONCE", "decreases-not-mirrored", "Up to {} decreases"),
    ("findings.rules.decreases", "ENOUGH", "uneven-pace", "from {} intervals"),
    ("findings.rules.dial", "ENOUGH_ROWS", "size-unchanged-after-rib", "than {} rows of rib"),
    ("findings.rules.dial", "ENOUGH_ROWS", "size-unchanged-after-rib", "than {} plain rows"),
    ("findings.rules.dial", "ENOUGH_ROWS", "sizes-reversed", "more than {} rows"),
    ("findings.rules.dial", "EDGE_PASSES", "sizes-reversed", "first {} passes"),
    ("findings.rules.dial", "SEVERAL", "size-set-late", "least {} different sizes"),
    ("findings.rules.ease", "TIGHTEST", "ease-too-large", "less than {} of the foot"),
    ("findings.rules.ease", "AS_WIDE", "no-ease", "to {} of the foot"),
    ("findings.rules.edges", "WASTE_ROWS", "ravel-cord-missing", "from {} rows"),
    ("findings.rules.edges", "WASTE_ROWS", "wrong-mark", "From {} rows"),
    ("findings.rules.fabrics", "FEW_ROWS", "fabric-not-as-said", "more than {} rows"),
    ("findings.rules.feet", "ROUNDEST", "measurements-contradict", "to {} of the length"),
    ("findings.rules.feet", "SLIMMEST", "measurements-contradict", "is {} to"),
    ("fit.feet", "SMALLEST", "unlikely-foot", "foot is {} mm"),
    ("fit.feet", "LARGEST", "unlikely-foot", "to {} mm long"),
    ("findings.rules.grading", "NEAR", "grading-uneven", "{+} of its neighbours"),
    ("findings.rules.grading", "STEP", "grading-uneven", "more than {+}"),
    ("findings.rules.grading", "OUT_OF_ROW", "grading-uneven", "it is {+} more"),
    ("findings.rules.grading", "ENOUGH", "grading-uneven", "at least {}."),
    ("findings.rules.grading", "ROUNDER", "grading-uneven", "all {+} rounder"),
    ("findings.rules.grading", "GROWN", "grading-uneven", "Feet of {} mm"),
    ("findings.rules.grading", "USUAL", "grading-uneven", "{} mm to {} mm long, legs {} mm to {}"),
    ("findings.rules.gussets", "PLAIN_ROUNDS", "gusset-miscounted", "than {} rounds"),
    ("findings.rules.gussets", "ONE_OVER", "gusset-miscounted", "than {} stitch "),
    ("findings.rules.heel_and_toe", "HEEL_SHARE", "heel-point-unusual", "A third of"),
    ("findings.rules.heel_and_toe", "HEEL_WITHIN", "heel-point-unusual", "take {} of them"),
    ("findings.rules.heel_and_toe", "INSTEP", "heel-point-unusual", "at least {} of the bed"),
    ("findings.rules.heel_and_toe", "BLUNTEST", "toe-too-blunt", "most {} of"),
    ("findings.rules.heel_and_toe", "MOST_POINTED", "toe-too-pointed", "least {} of"),
    ("findings.rules.heel_and_toe", "TOE_SHARE", "toe-depth-unusual", "{} to {} of the length"),
    ("findings.rules.cups", "LOPSIDED", "cup-lopsided", "{} of the rows"),
    ("findings.rules.cups", "FEWEST_IN_A_HALF", "cup-lopsided", "at least {} needles"),
    ("findings.rules.heels", "ASKEW", "short-rows-askew", "by {} of"),
    ("findings.rules.heels", "FEWEST_TURNS", "short-rows-askew", "than {} turns"),
    ("findings.rules.heels", "MOST_ROWS_BETWEEN", "heel-twice",
     "more than {} whole rows between"),
    ("findings.rules.heels", "MOST_ROWS_BETWEEN", "heel-halves-apart", "most {} rows"),
    ("findings.rules.holding", "LONGEST_HOLD", "held-too-long", "past {} rows"),
    ("findings.rules.ladders", "ROWS_OF_A_LADDER", "ladder", "up to {} rows"),
    ("findings.rules.needle_patterns", "MOST_SLIPPED", "slipped-too-long", "for {} rows"),
    ("findings.rules.needle_patterns", "MOST_TUCKS_BESIDE", "tucks-side-by-side", "{} needles"),
    ("findings.rules.picking_up", "CORNERS", "picked-up-close", "and {} more"),
    ("findings.rules.picking_up", "FEWEST", "picked-up-sparse", "every {} rows"),
    ("findings.rules.racking", "MOST_AT_ONCE", "racked-at-once", "to {} needles"),
    ("findings.rules.short_rows", "LARGEST_SHORT_ROW_STEP", "unequal-short-rows", "to {} needles"),
    ("findings.rules.short_rows", "FEWEST_AT_ONE_END", "short-rows-at-one-end", "from {} needles"),
    ("findings.rules.why_missed", "SHOE_SIZE", "size-missed", "{} mm (the Paris point)"),
    ("findings.rules.size_table", "LENGTH_WITHIN", "size-missed", "off by {} mm"),
    ("findings.rules.size_table", "STITCHES_WITHIN", "size-missed", "by {} stitches"),
    ("findings.rules.size_table", "NO_EASE", "size-missed", "{} to {} of the foot's"),
    ("findings.rules.size_table", "EASED", "size-missed", "{} and {} of it"),
    ("findings.rules.size_table", "LESS_LONG", "size-missed", "up to {} mm"),
    ("findings.rules.sewn", "PICOT", "fold-off-centre", "least for {} stitches"),
    ("findings.rules.sewn", "MOST_OFF_FOLD", "fold-off-centre", "up to {} rows"),
    ("findings.rules.stripes", "MOST_ROWS_UP", "long-edge-float", "{} rows at most"),
    ("findings.rules.split_tubes", "ROWS_ALONE", "tube-split", "knit {} rows more"),
    ("findings.rules.split_tubes", "ROWS_ALONE", "tube-open-at-side", "along {} rows"),
    ("findings.rules.split_tubes", "ROWS_LONGER", "one-bed-longer", "{} rows"),
    ("findings.rules.waste", "FEWEST_WASTE_ROWS", "waste-too-short", "least {} rows"),
    ("findings.rules.weights", "RIB_ROWS_UNWEIGHTED", "rib-without-comb", "more than {} rows the"),
    ("findings.rules.weights", "RIB_ROWS_UNWEIGHTED", "rib-without-weights", "to {} rows"),
    ("findings.rules.weights", "TUBE_ROWS_UNWEIGHTED", "tube-without-weights", "to {} passes"),
    ("findings.rules.weights", "ROWS_BEFORE_WEIGHTS_MOVE", "weights-not-moved", "than {} short"),
    ("findings.rules.yarn", "FINEST", "gauge-too-fine", "Up to {} stitches"),
    ("fit.yarn", "LOOSEST", "yarn-and-gauge-apart", "between {} and"),
    ("fit.yarn", "TIGHTEST", "yarn-and-gauge-apart", "and {} ("),
]

# Numbers that decide of no finding: what is shown, worked out or tried, and how long.
NO_LIMITS = {
    ("fabric.courses", "MOST_COURSES"), ("fabric.tape", "SHORTEST"), ("fabric.worn", "SEAM"),
    ("fabric.wales.meetings", "MOST_STRETCHES"),
    ("fit.feet", "PARIS_POINT"), ("fit.feet", "BARLEYCORN"), ("fit.feet", "LAST_ALLOWANCE"),
    ("fit.yarn", "END_MM"), ("fit.yarn", "METRES_PER_UNIT"), ("fit.yarn", "GRAMS_PER_UNIT"),
}
SOURCE = re.compile(r"no\ssource|\b(19|20)\d\d\b|handbook|from memory|Paris point", re.I)


def numbers():
    """Every number with a name of its own in capitals: its module, its name, what is said of it."""
    for folder in FOLDERS:
        whole = PACKAGE / folder
        for path in [whole] if whole.suffix else sorted(whole.rglob("*.py")):
            module = ".".join(path.relative_to(PACKAGE).with_suffix("").parts)
            body = ast.parse(path.read_text("utf-8")).body
            for line, after in zip(body, [*body[1:], None], strict=True):
                if not isinstance(line, ast.Assign) or not any(
                        isinstance(part, ast.Constant) and type(part.value) in (int, float)
                        for part in ast.walk(line.value)):
                    continue
                said = after.value.value if isinstance(after, ast.Expr) and isinstance(
                    after.value, ast.Constant) else ""
                for name in ast.walk(line.targets[0]):
                    if isinstance(name, ast.Name) and re.fullmatch(r"[A-Z][A-Z_]+", name.id):
                        value = getattr(importlib.import_module(f"sockscript.{module}"), name.id)
                        if isinstance(value, (int, float, Fraction, tuple, dict)) \
                                and not hasattr(value, "_fields"):
                            yield module, name.id, said


def in_words(limit, more: bool = False) -> str:
    """A number as it is told: a share in percent (``more``: by how much it is over the whole)."""
    if isinstance(limit, Fraction) and (limit < 3 or more):
        return f"{round((limit - more) * 100)} %"
    return f"{float(limit):.2g}" if limit < 10 else f"{float(limit):g}"


def every_number(value):
    if isinstance(value, dict):
        return [part for one in value.values() for part in every_number(one)]
    return list(value) if isinstance(value, tuple) else [value]


def test_every_number_of_the_trade_is_told_by_a_page_and_has_its_source():
    found = {(module, name): said for module, name, said in numbers()}
    told = {(module, name) for module, name, *_ in TOLD}

    assert set(found) == told | NO_LIMITS
    assert [where for where in told if not SOURCE.search(found[where])] == []


def test_the_page_tells_the_number_that_the_rule_has():
    for module, name, finding, words in TOLD:
        value = getattr(importlib.import_module(f"sockscript.{module}"), name)
        for number in every_number(value):
            words = words.replace("{+}", in_words(number, True)).replace("{}", in_words(number), 1)
        assert "{" not in words, name
        assert words in load_page(finding).limit, name


def test_every_limit_says_where_it_comes_from_and_explain_prints_it(capsys):
    pages = [page for page in map(load_page, page_names()) if page.limit]
    assert {page.name for page in pages} == {finding for _, _, finding, _ in TOLD} | {
        "cast-on-size-unchanged"}
    assert [page.name for page in pages if not SOURCE.search(page.limit)] == []

    assert explain.run("long-edge-float") == 0
    printed = " ".join(capsys.readouterr().out.split())
    assert "The limit: A yarn is carried up an edge over 6 rows at most; four to six are common " \
        "practice, no source." in printed
    assert explain.run("fold-with-comb") == 0
    assert "The limit" not in capsys.readouterr().out
