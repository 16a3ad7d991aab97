"""Random operations, legal and illegal, and sock-like beginnings to start them from."""

from __future__ import annotations

from fractions import Fraction

from hypothesis import strategies as st

from sockscript.machine.profile import Profile
from sockscript.operations import ops
from sockscript.operations.beds import BACK, FRONT

NEEDLES = 14
DOUBLE = Profile(needles=NEEDLES, racking=3, pitches=("half",), dial_step=Fraction(1, 3))
RIGHTWARD = Profile(needles=NEEDLES, front_circular="right", settings=frozenset({"circular"}))
SINGLE = Profile(beds=1, needles=NEEDLES, settings=frozenset({"tuck", "hold"}),
                 dial_low=Fraction(1), dial_high=Fraction(11), dial_step=Fraction(1, 2))

FULL = (1 << NEEDLES) - 1
masks = st.one_of(
    st.integers(0, FULL), st.just(FULL), st.just(0),
    st.builds(lambda a, b: ((1 << abs(a - b) + 1) - 1) << min(a, b),
              st.integers(0, NEEDLES - 1), st.integers(0, NEEDLES - 1)))
beds = st.sampled_from([FRONT, BACK])
needles = st.integers(0, NEEDLES - 1)
sides = st.sampled_from(["left", "right"])
yarns = st.sampled_from(["main", "waste"])
names = st.sampled_from(["toe", "heel"])
passes = st.one_of(st.integers(1, 9), st.sampled_from([1, 1, 2, 50, 301, 640]))
intents = st.builds(ops.Intent, st.sampled_from([(), (), (), (FRONT,), (BACK,), (FRONT, BACK)]),
                    st.booleans(), st.sampled_from([None, None, "left", "right"]))
moves = st.lists(st.tuples(beds, needles, beds, needles), min_size=1, max_size=4).map(tuple)
targets = st.lists(st.tuples(beds, needles), max_size=6, unique=True).map(tuple)

operations = st.one_of(
    st.builds(ops.Knit, passes, intents),
    st.builds(ops.Knit, passes),
    st.builds(ops.Knit, st.just(1)),
    st.builds(ops.Place, st.sampled_from(["out", "work", "work", "upper", "hold", "hold"]), masks,
              masks, st.sampled_from(["none", "none", "increase", "cast-on"])),
    st.builds(ops.SetBed, beds, st.sampled_from(["knit", "rest", "tuck", "circular"])),
    st.builds(ops.SetHold, beds, st.booleans()),
    st.builds(ops.SetPitch, st.sampled_from(["half", "full"])),
    st.builds(ops.Rack, st.integers(-4, 4)),
    st.builds(ops.SetSize, st.sampled_from([(FRONT,), (FRONT, BACK)]),
              st.sampled_from([Fraction(5), Fraction(16, 3), Fraction(11), Fraction(1, 7),
                               Fraction(0), Fraction(10), Fraction(31, 3), Fraction(1),
                               Fraction(3, 2)])),
    st.builds(ops.Thread, yarns), st.builds(ops.Thread, yarns), st.builds(ops.Cut),
    st.builds(ops.Add, st.one_of(yarns, st.just("thread"))),
    st.builds(ops.Cut, st.one_of(yarns, st.just("thread"))),
    st.builds(ops.Change, yarns), st.builds(ops.Change, st.sampled_from(["main", "second"])),
    st.builds(ops.MoveCarriage, sides), st.builds(ops.ResetCounter, st.integers(0, 99)),
    st.builds(ops.Transfer, moves, st.booleans()), st.builds(ops.Fold, moves),
    st.builds(ops.Fashion, beds,
              st.lists(st.tuples(needles, needles), max_size=3).map(tuple), masks),
    st.builds(lambda bed, a: ops.Fashion(bed, ((a + 2, a + 3), (a + 1, a + 2), (a, a + 1)),
                                         1 << a), beds, st.integers(0, NEEDLES - 4)),
    st.builds(ops.Wrap, beds, needles), st.builds(ops.Wrap, beds, st.sampled_from([4, 9])),
    st.builds(ops.CastOn, masks, masks), st.builds(ops.BindOff, masks, masks),
    st.builds(ops.ScrapOff, beds, masks, names), st.builds(ops.Graft, masks, masks),
    st.builds(ops.Rehang, names, targets, st.booleans(), st.booleans()),
    st.builds(ops.GraftGroups, names, names), st.builds(ops.Gather, masks, masks),
    st.builds(ops.Tackle, st.sampled_from(["comb", "weights"]),
              st.sampled_from(["hang", "move", "remove"])),
    st.builds(ops.Drop, masks, masks), st.builds(ops.LatchUp, masks, masks),
    st.builds(ops.LatchUp, st.integers(0, 7).map(lambda few: few << 7), masks),
    st.builds(lambda bed, n, by: ops.Fill(bed, n, n + by), beds, st.integers(1, NEEDLES - 2),
              st.sampled_from([-1, 1])),
    st.builds(ops.Rehang, names, st.sampled_from([
        ((FRONT, 4), (FRONT, 5), (FRONT, 6)), ((BACK, 5), (BACK, 6), (BACK, 7)),
        ((FRONT, 4), (BACK, 5))]), st.booleans(), st.booleans()),
    st.just(ops.GraftGroups("toe", "heel")),
    st.builds(ops.Mark, names, st.sampled_from(["edge", "slit"]), beds, yarns),
    st.builds(ops.Fill, beds, needles, needles),
    st.builds(ops.SewDown, st.sampled_from(["first", "last"]), st.integers(0, 9),
              st.one_of(st.just(""), names)),
    st.just(ops.SewSides()),
    st.builds(ops.SetNeedles, st.sampled_from(["knit", "tuck", "slip"]), masks, masks),
    st.builds(ops.SetNeedles, st.sampled_from(["tuck", "slip"]),
              st.sampled_from([0b01010101010101, 0b11 << 4, 1 << 9]), masks),
    st.builds(ops.PickUp, beds, sides, st.integers(0, 9), targets, yarns, st.booleans()),
    st.builds(ops.KnitIn, beds, masks, st.just("waste"), names, st.just("main")),
)

HALF = ((1 << 6) - 1) << 4
BEGINNINGS = {
    "bare": (),
    "flat": (ops.Place("work", HALF, 0, "cast-on"), ops.SetBed(FRONT, "knit"),
             ops.Thread("main"), ops.Knit(6)),
    "tube": (ops.Place("work", HALF, HALF, "cast-on"), ops.SetBed(FRONT, "knit"),
             ops.SetBed(BACK, "knit"), ops.Thread("main"), ops.Knit(1),
             ops.SetBed(FRONT, "circular"), ops.SetBed(BACK, "circular"), ops.Knit(8)),
    "busy": (ops.Place("work", HALF, HALF, "cast-on"), ops.SetBed(FRONT, "knit"),
             ops.SetBed(BACK, "knit"), ops.Thread("main"), ops.Knit(1),
             ops.Tackle("comb", "hang"), ops.Mark("heel", "slit", FRONT, "main"),
             ops.ScrapOff(BACK, 0b11 << 4, "toe"), ops.SetPitch("full")),
    "heel": (ops.Place("work", HALF, HALF, "cast-on"), ops.SetBed(FRONT, "knit"),
             ops.SetBed(BACK, "knit"), ops.Thread("main"), ops.Knit(2),
             ops.SetBed(BACK, "rest"), ops.SetHold(FRONT, True),
             ops.Place("hold", 0b11 << 8, 0), ops.Knit(1), ops.Wrap(FRONT, 4)),
    # Something in every position, much yarn laid over some of it, and the back bed racked.
    "racked": (ops.Place("work", HALF, HALF, "cast-on"), ops.SetBed(FRONT, "knit"),
               ops.SetBed(BACK, "knit"), ops.Thread("main"), ops.Knit(2), ops.Rack(2),
               ops.Place("hold", 0b11 << 7, 0b1 << 4), ops.Place("upper", 0b11 << 4, 0b1 << 9),
               ops.SetHold(FRONT, True)),
    "laid": (ops.Place("work", HALF, HALF, "cast-on"), ops.SetBed(FRONT, "knit"),
             ops.SetBed(BACK, "knit"), ops.Thread("main"), ops.Knit(1), ops.SetBed(FRONT, "tuck"),
             ops.SetBed(BACK, "rest"), ops.Knit(3), ops.Wrap(FRONT, 4), ops.Wrap(BACK, 4)),
    # A few stitches on one bed in circular: a cord of six, or a strip of seven.
    "cord": (ops.Place("work", 0b111111 << 4, 0), ops.Thread("main"),
             ops.CastOn(0b111111 << 4, 0), ops.SetBed(FRONT, "circular"), ops.Knit(2)),
    "strip": (ops.Place("work", 0b1111111 << 4, 0), ops.Thread("main"),
              ops.CastOn(0b1111111 << 4, 0), ops.SetBed(FRONT, "circular"), ops.Knit(2)),
    # Two yarns on both beds, at the very ends too.
    "striped": (ops.Place("work", 0b1111, 0b1111, "cast-on"), ops.SetBed(FRONT, "knit"),
                ops.Thread("main"), ops.Knit(2), ops.SetBed(FRONT, "rest"),
                ops.SetBed(BACK, "knit"), ops.Cut(), ops.Thread("waste"), ops.Knit(1),
                ops.Place("work", 0b11 << 4, 0b11 << 4), ops.CastOn(0b11 << 4, 0b11 << 4),
                ops.Transfer(((FRONT, 1, BACK, 1), (BACK, 4, FRONT, 2)), True)),
    # Two groups off the needles, with doubles; dropped stitches and empty needles beside others.
    "waiting": (ops.Place("work", HALF, HALF, "cast-on"), ops.SetBed(FRONT, "knit"),
                ops.SetBed(BACK, "knit"), ops.Thread("main"), ops.Knit(2),
                ops.Transfer(((FRONT, 5, FRONT, 6), (BACK, 5, BACK, 6)), True),
                ops.ScrapOff(FRONT, 0b111 << 4, "toe"), ops.ScrapOff(BACK, 0b1111 << 5, "heel"),
                ops.Drop(0b11 << 8, 0b1 << 4)),
    # Two yarns in turn: one waits at the right.
    "in turn": (ops.Place("work", HALF, HALF, "cast-on"), ops.SetBed(FRONT, "knit"),
                ops.SetBed(BACK, "knit"), ops.Thread("main"), ops.Knit(2), ops.Change("second"),
                ops.Knit(1)),
    # Two yarns together.
    "double": (ops.Place("work", HALF, HALF, "cast-on"), ops.SetBed(FRONT, "knit"),
               ops.SetBed(BACK, "knit"), ops.Thread("main"), ops.Knit(2), ops.Add("thread"),
               ops.SetBed(BACK, "tuck"), ops.Knit(1)),
    # Every other needle of one bed tucks, and a few of the other slip.
    "by needles": (ops.Place("work", HALF, HALF, "cast-on"), ops.SetBed(FRONT, "knit"),
                   ops.SetBed(BACK, "knit"), ops.Thread("main"), ops.Knit(2),
                   ops.SetBed(FRONT, "circular"), ops.SetBed(BACK, "circular"),
                   ops.SetNeedles("tuck", 0b01010101010101, 0),
                   ops.SetNeedles("slip", 0b11 << 4, 0b111 << 6), ops.Knit(3)),
    # Cast on by hand, with room beside it.
    "by hand": (ops.Place("work", 0b111 << 5, 0b111 << 5), ops.SetBed(FRONT, "knit"),
                ops.Thread("main"), ops.CastOn(0b111 << 5, 0b111 << 5), ops.Knit(1)),
}
beginnings = st.sampled_from(sorted(BEGINNINGS))
profiles = st.sampled_from([DOUBLE, RIGHTWARD, SINGLE])
sequences = st.one_of(st.lists(operations, min_size=1, max_size=30),
                      st.lists(operations, min_size=15, max_size=40))
"""Lists of hypothesis are mostly far shorter than they may be: half of these are long."""
