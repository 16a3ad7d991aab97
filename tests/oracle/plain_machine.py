"""A plain, slow machine: one object for every needle and every loop, every pass knitted.

Written from ``sockscript/trace/machine-model.md``; it shares nothing with the engine but the
models of operations and faults, so that the two can be compared.
"""

from __future__ import annotations

from sockscript.machine.profile import Profile
from sockscript.operations.beds import Bed
from sockscript.trace.faults import Fault

FRONT, BACK = Bed.FRONT, Bed.BACK


class Loop:
    """A loop of yarn: where and when it was formed, and the loops it was drawn through."""

    def __init__(self, number, yarn, bed, needle, row, parents=()):
        self.number = number
        self.yarn = yarn
        self.bed = bed
        self.needle = needle
        self.row = row
        self.parents = list(parents)


class PlainNeedle:
    """One needle: its position, the loops on it (oldest first) and the strands laid over them."""

    def __init__(self):
        self.position = "out"
        self.loops = []
        self.strands = 0
        self.wanted = None
        self.way = "knit"


class PlainMachine:
    """The machine of the model, needle by needle."""

    def __init__(self, profile):
        self.profile: Profile = profile
        self.beds = {bed: [PlainNeedle() for _ in range(profile.needles)] for bed in (FRONT, BACK)}
        self.action = {FRONT: "rest", BACK: "rest"}
        self.respected = {FRONT: False, BACK: False}
        self.size = {FRONT: None, BACK: None}
        self.pitch, self.racking = "half", 0
        self.carriage, self.counter = "right", 0
        self.strands_in_feeder = []
        self.resting = []
        self.attached = None
        self.hung = {"comb": False, "weights": False}
        self.groups = {}
        self.ladders = {FRONT: {}, BACK: {}}
        self.ends, self.yarn_loops, self.yarn_strands = {}, {}, {}
        self.ledger = dict.fromkeys(("cast_on", "made", "joined", "bound_off", "grafted",
                                     "gathered", "scrapped", "dropped"), 0)
        self.loops = []
        self.passes = 0
        self.grafts = []
        self.faults = []

    # ---- small things

    def fault(self, kind, bed=None, needles=(), amount=0, name="", leaves=None):
        self.faults.append(Fault(kind, bed, sum(1 << n for n in set(needles)), amount, name,
                                 leaves))

    def both(self, front, back):
        for bed, mask in ((FRONT, front), (BACK, back)):
            yield bed, [n for n in range(self.profile.needles) if mask >> n & 1]

    def new_loop(self, bed, n, yarn, parents=()):
        loop = Loop(len(self.loops), yarn, bed, n, self.passes, parents)
        self.loops.append(loop)
        return loop

    @property
    def feeder(self):
        """The yarn by which loops are called: the first of those in the feeder."""
        return self.strands_in_feeder[0] if self.strands_in_feeder else None

    def count_loop(self):
        for yarn in self.strands_in_feeder:
            self.yarn_loops[yarn] = self.yarn_loops.get(yarn, 0) + 1

    def lay_strand(self, bed, n):
        self.beds[bed][n].strands += 1
        for yarn in self.strands_in_feeder:
            self.yarn_strands[yarn] = self.yarn_strands.get(yarn, 0) + 1

    def place_of(self, bed, n):
        """Where a needle stands along the beds."""
        return n if bed == FRONT else n + self.racking

    def jump_to(self, bed, n):
        if self.attached is not None:
            gap = abs(self.place_of(bed, n) - self.place_of(*self.attached))
            if gap >= 6:
                self.fault("yarn-jump", bed, [n], gap, leaves=self.attached)

    def jump_to_group(self, needles):
        """``needles``: by bed; work by hand that begins at whichever end is nearer."""
        if self.attached is None or not any(needles.values()):
            return
        here = self.place_of(*self.attached)
        ends = [self.outermost(needles, "left"), self.outermost(needles, "right")]
        gaps = [abs(self.place_of(*end) - here) for end in ends]
        self.jump_to(*ends[gaps.index(min(gaps))])

    def empty(self, bed, n):
        needle = self.beds[bed][n]
        loops, needle.loops = needle.loops, []
        strands, needle.strands = needle.strands, 0
        return loops, strands

    def detach(self, bed, n):
        if self.attached == (bed, n):
            self.attached = None

    def give(self, bed, n, loops):
        needle = self.beds[bed][n]
        needle.loops.extend(loops)
        needle.wanted = None

    def apply(self, op):
        self.faults = []
        getattr(self, "do_" + type(op).__name__)(op)
        on = sum(len(n.loops) for bed in self.beds.values() for n in bed)
        book = self.ledger
        assert book["cast_on"] + book["made"] == on + sum(
            book[k] for k in ("joined", "bound_off", "grafted", "gathered", "scrapped", "dropped"))
        found, self.faults = self.faults, []
        return found

    # ---- the pass

    def do_Knit(self, op):
        intent = op.intent
        if intent.start is not None and intent.start != self.carriage:
            self.fault("wrong-carriage-side", name=self.carriage)
        if intent.rounds:
            for bed in (FRONT, BACK):
                if self.action[bed] != "circular":
                    self.fault("not-set-to-circular", bed)
        elif intent.beds:
            for bed in (FRONT, BACK):
                if bed in intent.beds:
                    if self.action[bed] == "rest":
                        self.fault("bed-left-resting", bed)
                elif self.action[bed] != "rest" and self.active(bed):
                    self.fault("bed-left-knitting", bed)
        for _ in range(op.passes):
            self.one_pass()

    def active(self, bed):
        """Needles that a pass works: those it goes over, without those that slip."""
        return [n for n in self.gone_over(bed) if self.beds[bed][n].way != "slip"]

    def gone_over(self, bed):
        return [n for n, needle in enumerate(self.beds[bed])
                if needle.position in ("work", "upper")
                or (needle.position == "hold" and not self.respected[bed])]

    def acting(self, start):
        """The needles that a pass from a side works, by bed."""
        direction = "left" if start == "right" else "right"
        acting = {}
        for bed in (FRONT, BACK):
            own = self.profile.front_circular
            if bed == BACK:
                own = "left" if own == "right" else "right"
            acts = self.action[bed] in ("knit", "tuck") or (
                self.action[bed] == "circular" and direction == own)
            if acts and self.active(bed):
                acting[bed] = self.active(bed)
        return acting

    def one_pass(self):
        start = self.carriage
        direction = "left" if start == "right" else "right"
        acting = self.acting(start)
        self.passes += 1
        self.pass_over(acting, start, direction)
        for bed, needles in acting.items():
            for n in needles:
                self.beds[bed][n].position = "work"
        self.carriage = direction
        self.counter += 1

    def outermost(self, acting, side):
        """The needle nearest to a side; ``acting``: needles by bed, front before back."""
        found = [(bed, n) for bed in (FRONT, BACK) for n in acting.get(bed, ())]
        places = [self.place_of(*spot) for spot in found]
        return found[places.index(min(places) if side == "left" else max(places))]

    def pass_over(self, acting, start, direction):
        if not acting:
            used = [bed for bed in (FRONT, BACK)
                    if any(needle.position != "out" for needle in self.beds[bed])]
            cord = len(used) == 1 and self.action[used[0]] == "circular" and self.active(used[0])
            if not cord or max(cord) - min(cord) >= 6:
                self.fault("nothing-knits")
            return
        if len(acting) == 2 and self.pitch == "full":
            crash = [f for f in acting[FRONT] if f - self.racking in acting[BACK]]
            if crash:
                self.fault("beds-collide", FRONT, crash)
        if self.feeder is None:
            for bed, needles in acting.items():
                lost = []
                for n in needles:
                    if not self.tucks(bed, n):
                        loops, _ = self.empty(bed, n)
                        if loops:
                            lost.append(n)
                            self.ledger["dropped"] += len(loops)
                            self.detach(bed, n)
                self.fault("pass-without-yarn", bed, lost)
            return
        first = self.outermost(acting, start)
        self.jump_to(*first)
        cast_on_row = not any(self.beds[bed][n].loops for bed in acting for n in acting[bed])
        for bed, needles in acting.items():
            caught, heaped = [], []
            for n in needles:
                needle = self.beds[bed][n]
                if not needle.loops:
                    self.count_loop()
                    if cast_on_row or needle.wanted == "cast-on":
                        self.ledger["cast_on"] += 1
                    else:
                        self.ledger["made"] += 1
                        if needle.wanted != "increase":
                            caught.append(n)
                    self.give(bed, n, [self.new_loop(bed, n, self.feeder)])
                elif self.tucks(bed, n):
                    self.lay_strand(bed, n)
                    if needle.strands >= 5:
                        heaped.append(n)
                else:
                    self.count_loop()
                    old, _ = self.empty(bed, n)
                    self.ledger["joined"] += len(old) - 1
                    self.give(bed, n, [self.new_loop(bed, n, self.feeder, old)])
            if caught:
                self.fault("empty-needle-catches", bed, caught)
            if heaped:
                self.fault("too-many-strands", bed, heaped, 4)
        self.attached = self.outermost(acting, direction)

    # ---- setting up

    def do_Place(self, op):
        for bed, needles in self.both(op.front, op.back):
            if op.position == "out":
                self.push_out(bed, needles)
                continue
            for n in needles:
                needle = self.beds[bed][n]
                needle.position = op.position
                if op.purpose != "none" and op.position == "work" and not needle.loops:
                    needle.wanted = op.purpose

    def push_out(self, bed, needles):
        lost = []
        for n in needles:
            needle = self.beds[bed][n]
            loops, _ = self.empty(bed, n)
            if loops:
                lost.append(n)
                self.ledger["dropped"] += len(loops)
                self.detach(bed, n)
            needle.position = "out"
            needle.wanted = None
        if lost:
            self.fault("loop-on-idle-needle", bed, lost)

    def do_SetPitch(self, op):
        self.pitch = op.pitch
        if op.pitch not in self.profile.pitches:
            self.fault("setting-not-had", name=f"{op.pitch} pitch")

    def do_Rack(self, op):
        self.racking = op.steps
        if abs(op.steps) > self.profile.racking:
            self.fault("racking-too-far", amount=op.steps)

    def do_SetBed(self, op):
        self.action[op.bed] = op.action
        for needle in self.beds[op.bed]:
            needle.way = "knit"
        if op.action in ("circular", "tuck") and op.action not in self.profile.settings:
            self.fault("setting-not-had", name=op.action)

    def do_SetNeedles(self, op):
        for bed, needles in self.both(op.front, op.back):
            for n in needles:
                self.beds[bed][n].way = op.action
        if op.action == "tuck" and "tuck" not in self.profile.settings:
            self.fault("setting-not-had", name="tuck")

    def tucks(self, bed, n):
        return self.action[bed] == "tuck" or self.beds[bed][n].way == "tuck"

    def do_SetHold(self, op):
        self.respected[op.bed] = op.respected
        if op.respected and "hold" not in self.profile.settings:
            self.fault("setting-not-had", name="hold")

    def do_SetSize(self, op):
        p = self.profile
        for bed in op.beds:
            self.size[bed] = op.size
        between = p.dial_step is not None and (op.size - p.dial_low) % p.dial_step
        if op.size < p.dial_low or op.size > p.dial_high or between:
            self.fault("size-off-dial")

    def do_Thread(self, op):
        for one in [one for one in self.resting if one[0] == op.yarn]:
            self.fault("yarn-still-waits", name=op.yarn)
            self.loose_end(op.yarn)
            self.resting.remove(one)
        if self.feeder is not None:
            self.fault("yarn-not-cut", name=self.feeder)
            for yarn in self.strands_in_feeder:
                self.loose_end(yarn)
        self.strands_in_feeder = [op.yarn]
        self.loose_end(op.yarn)
        self.attached = None

    def loose_end(self, yarn):
        self.ends[yarn] = self.ends.get(yarn, 0) + 1

    def do_Add(self, op):
        if not self.strands_in_feeder:
            self.fault("added-to-nothing", name=op.yarn)
            self.do_Thread(op)
            return
        if len(self.strands_in_feeder) == 2:
            out = self.strands_in_feeder.pop()
            self.fault("third-yarn", name=out)
            self.loose_end(out)
        self.strands_in_feeder.append(op.yarn)
        self.loose_end(op.yarn)

    def do_Change(self, op):
        if self.feeder == op.yarn:
            self.fault("yarn-in-feeder-already", name=op.yarn)
            return
        if len(self.strands_in_feeder) == 2:
            self.fault("yarn-not-cut", name=self.strands_in_feeder[1])
            self.loose_end(self.strands_in_feeder.pop())
        if self.feeder is not None:
            for one in [one for one in self.resting if one[0] == self.feeder]:
                self.loose_end(self.feeder)
                self.resting.remove(one)
            self.resting.append((self.feeder, self.carriage, self.attached))
        self.strands_in_feeder = [op.yarn]
        self.attached = None
        found = [one for one in self.resting if one[0] == op.yarn]
        if not found:
            self.loose_end(op.yarn)
            return
        self.resting.remove(found[0])
        _, side, spot = found[0]
        if side == self.carriage:
            self.attached = spot
        elif spot is None:
            self.fault("yarn-waits-elsewhere", name=op.yarn)
        else:
            self.fault("yarn-waits-elsewhere", spot[0], [spot[1]], name=op.yarn)

    def do_Cut(self, op):
        if op.yarn not in self.strands_in_feeder:
            for one in self.resting:
                if one[0] == op.yarn:
                    self.loose_end(op.yarn)
                    self.resting.remove(one)
                    return
        if self.feeder is None:
            self.fault("nothing-to-cut")
            return
        if op.yarn is not None and op.yarn not in self.strands_in_feeder:
            self.fault("nothing-to-cut", name=op.yarn)
            return
        # Of a yarn taken double the second strand is cut first.
        for n in range(len(self.strands_in_feeder) - 1, -1, -1):
            if op.yarn in (None, self.strands_in_feeder[n]):
                self.loose_end(self.strands_in_feeder.pop(n))
                if op.yarn is not None:
                    break
        if not self.strands_in_feeder:
            self.attached = None

    def do_MoveCarriage(self, op):
        if op.side == self.carriage:
            return
        if self.feeder is not None and self.attached is not None:
            self.fault("yarn-jump", self.attached[0], [self.attached[1]], leaves=self.attached)
            self.attached = None
        self.carriage = op.side

    def do_ResetCounter(self, op):
        self.counter = op.value

    def do_Tackle(self, op):
        if op.action == "hang":
            if self.hung[op.item]:
                self.fault("already-hung", name=op.item)
            self.hung[op.item] = True
        else:
            if not self.hung[op.item]:
                self.fault("not-hung", name=op.item)
            if op.action == "remove":
                self.hung[op.item] = False

    # ---- moving loops

    def noting(self):
        return {}

    def note(self, noted, kind, bed, n):
        noted.setdefault((kind, bed), []).append(n)

    def report(self, noted):
        for (kind, bed), needles in noted.items():
            self.fault(kind, bed, needles, 4 if kind == "too-many-strands" else 0)

    def do_Transfer(self, op):
        self.move(op.moves, "onto" if op.onto else "to")

    def do_Fold(self, op):
        if self.hung["comb"]:
            self.fault("fold-with-comb")
        if self.feeder is not None and self.attached in [(m[0], m[1]) for m in op.moves]:
            self.fault("fold-with-yarn", self.attached[0], [self.attached[1]])
        self.move(op.moves, "to")

    def do_Fashion(self, op):
        self.move([(op.bed, a, op.bed, b) for a, b in op.moves], "either")
        outs = [n for n in range(self.profile.needles) if op.out >> n & 1]
        if outs:
            self.push_out(op.bed, outs)

    def move(self, moves, landing):
        noted = self.noting()
        lifted = []
        for move in moves:
            loops, strands = self.empty(move[0], move[1])
            if not loops:
                self.note(noted, "transfer-from-empty", move[0], move[1])
                continue
            if len(loops) >= 2:
                self.note(noted, "double-not-knitted", move[0], move[1])
            lifted.append((move, loops, strands))
        was = self.attached
        for (from_bed, a, to_bed, b), loops, strands in lifted:
            hung = self.hang(to_bed, b, loops, strands, landing, noted)
            if was == (from_bed, a):
                self.attached = (to_bed, b) if hung else None
        self.report(noted)

    def hang(self, bed, n, loops, strands, landing, noted):
        needle = self.beds[bed][n]
        if needle.position == "out":
            self.note(noted, "transfer-to-idle-needle", bed, n)
            self.ledger["dropped"] += len(loops)
            return False
        if needle.loops and landing == "to":
            self.note(noted, "transfer-onto-loop", bed, n)
        if not needle.loops and landing == "onto":
            self.note(noted, "nothing-to-join", bed, n)
        self.give(bed, n, loops)
        needle.strands += strands
        if strands and needle.strands >= 5:
            self.note(noted, "too-many-strands", bed, n)
        if len(needle.loops) > 2:
            self.note(noted, "stack-too-high", bed, n)
        return True

    # ---- hands and yarn

    def do_Wrap(self, op):
        needle = self.beds[op.bed][op.needle]
        if self.feeder is None:
            self.fault("wrap-without-yarn", op.bed, [op.needle])
            return
        if needle.position == "out":
            self.fault("wrap-on-idle-needle", op.bed, [op.needle])
            return
        self.jump_to(op.bed, op.needle)
        if needle.loops:
            self.lay_strand(op.bed, op.needle)
            if needle.strands >= 5:
                self.fault("too-many-strands", op.bed, [op.needle], 4)
        else:
            self.fault("wrap-on-empty-needle", op.bed, [op.needle])
            self.give(op.bed, op.needle, [self.new_loop(op.bed, op.needle, self.feeder)])
            self.ledger["made"] += 1
            self.count_loop()
        self.attached = (op.bed, op.needle)

    def do_CastOn(self, op):
        if self.feeder is None:
            self.fault("cast-on-without-yarn")
            return
        noted, got = self.noting(), {}
        for bed, needles in self.both(op.front, op.back):
            for n in needles:
                needle = self.beds[bed][n]
                if needle.position == "out":
                    self.note(noted, "cast-on-idle-needle", bed, n)
                elif needle.loops:
                    self.note(noted, "cast-on-over-loop", bed, n)
                else:
                    self.give(bed, n, [self.new_loop(bed, n, self.feeder)])
                    self.ledger["cast_on"] += 1
                    self.count_loop()
                    got.setdefault(bed, []).append(n)
        self.jump_to_group(got)
        if got:
            self.attached = self.outermost(got, self.carriage)
        self.report(noted)

    def take_off(self, op, column, empty_kind):
        noted = self.noting()
        for bed, needles in self.both(op.front, op.back):
            for n in needles:
                loops, _ = self.empty(bed, n)
                if not loops:
                    self.note(noted, empty_kind, bed, n)
                    continue
                self.ledger["joined"] += len(loops) - 1
                self.ledger[column] += 1
                self.beds[bed][n].position = "out"
                self.beds[bed][n].wanted = None
                self.detach(bed, n)
        self.report(noted)

    def do_BindOff(self, op):
        if self.feeder is None:
            self.fault("bind-off-without-yarn")
        self.jump_to_group({bed: [n for n in needles if self.beds[bed][n].loops]
                            for bed, needles in self.both(op.front, op.back)})
        self.take_off(op, "bound_off", "bind-off-from-empty")

    def do_Gather(self, op):
        self.take_off(op, "gathered", "gather-from-empty")

    def do_Graft(self, op):
        sides, noted = {}, self.noting()
        for bed, needles in self.both(op.front, op.back):
            sides[bed] = [n for n in needles if self.beds[bed][n].loops]
            for n in sides[bed]:
                if len(self.beds[bed][n].loops) > 1:
                    self.note(noted, "double-not-knitted", bed, n)
        if len(sides[FRONT]) != len(sides[BACK]):
            self.fault("unequal-graft", amount=len(sides[FRONT]) - len(sides[BACK]))
        self.report(noted)
        for f, b in zip(sides[FRONT], sides[BACK], strict=False):
            self.grafts.append((self.beds[FRONT][f].loops[-1], self.beds[BACK][b].loops[-1]))
        self.take_off(op, "grafted", "graft-from-empty")

    # ---- groups

    def do_ScrapOff(self, op):
        group = self.groups.get(op.name)
        if group is not None and group[0] != "scrap":
            self.fault("name-taken", name=op.name)
            return
        noted, taken = self.noting(), []
        for n in range(self.profile.needles):
            if op.needles >> n & 1:
                loops, _ = self.empty(op.bed, n)
                if not loops:
                    self.note(noted, "scrap-from-empty", op.bed, n)
                    continue
                self.ledger["scrapped"] += len(loops)
                taken.append(loops)
                self.detach(op.bed, n)
        if taken:
            self.groups.setdefault(op.name, ("scrap", []))[1].extend(taken)
        self.report(noted)

    def do_Mark(self, op):
        if op.name in self.groups:
            self.fault("name-taken", name=op.name)
            return
        loaded = sum(bool(n.loops) for n in self.beds[op.bed])
        if not loaded:
            self.fault("mark-on-empty", op.bed)
            return
        count = loaded * (2 if op.kind == "slit" else 1)
        self.groups[op.name] = (op.kind, [[self.new_loop(op.bed, -1, op.yarn)]
                                          for _ in range(count)])

    def do_KnitIn(self, op):
        if op.name in self.groups:
            self.fault("name-taken", name=op.name)
            return
        noted, knitted = self.noting(), 0
        for n, needle in enumerate(self.beds[op.bed]):
            if not op.needles >> n & 1:
                continue
            if not needle.loops:
                self.note(noted, "knit-in-over-empty", op.bed, n)
                continue
            old, _ = self.empty(op.bed, n)
            self.ledger["joined"] += len(old) - 1
            self.give(op.bed, n, [self.new_loop(op.bed, n, op.waste, old)])
            self.yarn_loops[op.waste] = self.yarn_loops.get(op.waste, 0) + 1
            knitted += 1
        if knitted:
            self.loose_end(op.waste)
            self.loose_end(op.waste)
            self.groups[op.name] = ("slit", [[self.new_loop(op.bed, -1, op.yarn)]
                                             for _ in range(2 * knitted)])
        self.report(noted)

    def do_Rehang(self, op):
        if op.name not in self.groups:
            self.fault("no-such-group", name=op.name)
            return
        kind, stacks = self.groups.pop(op.name)
        if op.turned:
            stacks = stacks[::-1]
        if len(stacks) != len(op.targets):
            self.fault("rehang-count", amount=len(stacks) - len(op.targets), name=op.name)
        noted = self.noting()
        done = 0
        for loops, (bed, n) in zip(stacks, op.targets, strict=False):
            done += 1
            if kind == "scrap":
                self.ledger["scrapped"] -= len(loops)
            else:
                self.ledger["made"] += len(loops)
            self.hang(bed, n, loops, 0, "onto" if op.onto else "to", noted)
        if stacks[done:]:
            self.groups[op.name] = (kind, stacks[done:])
        self.report(noted)

    def do_PickUp(self, op):
        noted = self.noting()
        for bed, n in op.targets:
            self.ledger["made"] += 1
            loop = self.new_loop(op.bed, -1, op.yarn)
            self.hang(bed, n, [loop], 0, "onto" if op.onto else "to", noted)
        self.report(noted)

    def do_GraftGroups(self, op):
        missing = [name for name in (op.first, op.second) if name not in self.groups]
        for name in missing:
            self.fault("no-such-group", name=name)
        if missing:
            return
        slits = [n for n in (op.first, op.second) if self.groups[n][0] == "slit"]
        for name in slits:
            self.fault("slit-grafted", name=name)
        if slits:
            return
        if op.first == op.second:
            self.fault("no-such-group", name=op.first)
            return
        (one, first), (two, second) = self.groups.pop(op.first), self.groups.pop(op.second)
        if len(first) != len(second):
            self.fault("unequal-graft", amount=len(first) - len(second))
        for kind, loops in [(one, s) for s in first] + [(two, s) for s in second]:
            if kind == "scrap":
                self.ledger["scrapped"] -= len(loops)
            else:
                self.ledger["made"] += len(loops)
            self.ledger["joined"] += len(loops) - 1
            self.ledger["grafted"] += 1

    # ---- dropping

    def do_Drop(self, op):
        noted = self.noting()
        for bed, needles in self.both(op.front, op.back):
            for n in needles:
                loops, _ = self.empty(bed, n)
                if not loops:
                    self.note(noted, "drop-from-empty", bed, n)
                    continue
                self.ledger["dropped"] += len(loops)
                self.ladders[bed].setdefault(n, []).extend(loops)
                self.detach(bed, n)
        self.report(noted)

    def do_LatchUp(self, op):
        noted = self.noting()
        for bed, needles in self.both(op.front, op.back):
            for n in needles:
                needle = self.beds[bed][n]
                if needle.position == "out" or needle.loops or not self.ladders[bed].get(n):
                    self.note(noted, "nothing-to-latch-up", bed, n)
                    continue
                self.give(bed, n, [self.ladders[bed][n].pop()])
                if not self.ladders[bed][n]:
                    del self.ladders[bed][n]
                self.ledger["dropped"] -= 1
        self.report(noted)

    def do_Fill(self, op):
        target = self.beds[op.bed][op.needle]
        source = self.beds[op.bed][op.neighbour]
        if target.position == "out" or target.loops:
            self.fault("fill-target-not-free", op.bed, [op.needle])
        elif not source.loops:
            self.fault("transfer-from-empty", op.bed, [op.neighbour])
        else:
            loop = self.new_loop(op.bed, op.needle, source.loops[-1].yarn,
                                 source.loops[-1].parents)
            self.give(op.bed, op.needle, [loop])
            self.ledger["made"] += 1

    # ---- sewing

    def do_SewSides(self, op):
        pass

    def do_SewDown(self, op):
        if op.name:
            if op.name not in self.groups:
                self.fault("no-such-group", name=op.name)
                return
            if self.groups[op.name][0] != "edge":
                self.fault("not-an-edge", name=op.name)
                return
            del self.groups[op.name]
        if op.part == "last":
            for bed in (FRONT, BACK):
                for n, needle in enumerate(self.beds[bed]):
                    if needle.loops:
                        self.ledger["joined"] += len(needle.loops) - 1
                        self.ledger["bound_off"] += 1
                        self.empty(bed, n)
                        self.detach(bed, n)
                        needle.position = "out"
                        needle.wanted = None

    # ---- describing

    def describe(self):
        """The whole state as plain data."""
        return {
            "needles": {bed.word: [(n.position, tuple(loop.yarn for loop in n.loops), n.strands,
                                    n.wanted, n.way) for n in self.beds[bed]]
                        for bed in (FRONT, BACK)},
            "settings": [(self.action[b], self.respected[b], self.size[b]) for b in (FRONT, BACK)],
            "pitch": self.pitch, "racking": self.racking, "carriage": self.carriage,
            "counter": self.counter, "feeder": tuple(self.strands_in_feeder),
            "waiting": {yarn: (side, spot) for yarn, side, spot in self.resting},
            "attached": self.attached,
            "hung": (self.hung["comb"], self.hung["weights"]),
            "groups": {name: (kind, tuple(tuple(x.yarn for x in loops) for loops in stacks))
                       for name, (kind, stacks) in self.groups.items()},
            "ladders": {bed.word: {n: tuple(x.yarn for x in loops)
                                   for n, loops in self.ladders[bed].items()}
                        for bed in (FRONT, BACK)},
            "ends": dict(self.ends), "yarn_loops": dict(self.yarn_loops),
            "yarn_strands": dict(self.yarn_strands),
            "ledger": dict(self.ledger),
        }
