"""Two checked patterns compared: the parts of the comparison put together."""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Mapping

from attrs import evolve

from sockscript.compare import head, knitted, sizes
from sockscript.compare.half_way import half_way
from sockscript.compare.model import Comparison, Difference, HalfWay, Part, Sameness, Version
from sockscript.compare.pairs import LaidOut, Sides, paired
from sockscript.compare.rules import listed
from sockscript.compare.sizes import Common, common_sizes
from sockscript.compare.steps import step_changes
from sockscript.compare.techniques import technique_changes
from sockscript.expand.explore import all_choices
from sockscript.expand.values import Value
from sockscript.findings.checked import Checked
from sockscript.findings.prove import Proof
from sockscript.format.same import same_tree
from sockscript.numbers.quantity import Quantity, show
from sockscript.sharing.fingerprint import fingerprint
from sockscript.sheet.numbering import run_with
from sockscript.tree.script import Script

TITLES = {
    "about": "About the pattern", "sizes": "Sizes", "choices": "Choices",
    "stitches": "Stitches and rows", "measures": "Finished measurements",
    "yarn": "Yarn for a pair", "steps": "Steps", "techniques": "Techniques",
    "lists": "Materials, tools and finishing", "findings": "What the check finds",
    "with-choices": "With other choices",
}
MOST_CHOICES = 12
"""Other values of options that are compared; more than this a pattern hardly leaves open."""


def compare(was: Checked, now: Checked) -> Comparison:
    """Everything that differs between two versions; what cannot be knitted is compared as far as
    it can be read."""
    one, other = _version(was), _version(now)
    if was.prepared is None or now.prepared is None:
        return Comparison(one, other, "not-known", (), tuple(_limits(was, now)))
    if one.mark and one.mark == other.mark:
        return Comparison(one, other, "same-script", sizes.size_names(now.script))
    common = common_sizes(was.script, now.script)
    found: dict[str, list[Difference]] = {
        "about": [*head.about(was.script, now.script), *head.meant_for(was.script, now.script)],
        "sizes": [*common.changes, *sizes.table_changes(was.script, now.script, common)],
        "choices": list(head.choices(was.script, now.script)),
        "techniques": list(technique_changes((was.script, was.library),
                                             (now.script, now.library))),
    }
    limits = list(_limits(was, now))
    middle: tuple[HalfWay, ...] = ()
    if was.proof is not None and now.proof is not None:
        limits += _stopped(was, now)
        if common.names:
            middle = _knitting(was.proof, now.proof, common, found)
        else:
            limits.append("No size of the one has a counterpart in the other, so that their "
                          "stitches, rows and steps are not compared.")
        found["findings"] = list(_findings(was, now))
    else:
        found["lines"] = list(_sections_as_written(was.script, now.script))
    parts = tuple(Part(name, title, tuple(found[name]))
                  for name, title in {**TITLES, "lines": "Sections as they are written"}.items()
                  if found.get(name))
    return Comparison(one, other, _sameness(was, now, parts), common.names, tuple(limits), parts,
                      middle if parts else ())


def _version(checked: Checked) -> Version:
    if checked.prepared is None:
        return Version(checked.name, "", "", "", False)
    script = checked.script
    mark = "" if checked.problems else str(fingerprint(script, checked.library))
    return Version(checked.name, script.title, script.version, mark, checked.knits)


def _sameness(was: Checked, now: Checked, parts: tuple[Part, ...]) -> Sameness:
    if parts:
        return "differs"
    return "not-known" if was.proof is None or now.proof is None else "same-knitting"


# ---- what is knitted


def _knitting(was: Proof, now: Proof, common: Common, found: dict[str, list[Difference]]
              ) -> tuple[HalfWay, ...]:
    """Compare the runs with the usual choices, then with each other choice that both have."""
    old, new = was.prepared.script, now.prepared.script
    usual = all_choices(old)[0], all_choices(new)[0]
    sides = _sides(was, now, common, *usual)
    sections = paired(sides)
    found["stitches"] = list(knitted.stitches_and_rows(sections, sides))
    found["measures"] = list(knitted.finished_measures(sides))
    found["yarn"] = list(knitted.yarn(sides))
    found["steps"] = list(step_changes(sections, sides))
    found["lists"] = list(head.printed_round_the_steps(sides.was.runs, sides.now.runs))
    told = {_rule(change) for part in ("stitches", "measures", "steps") for change in found[part]}
    found["with-choices"] = list(_with_choices(was, now, sides, told))
    return half_way(sections, sides)


def _sides(was: Proof, now: Proof, common: Common, old: Mapping[str, Value],
           new: Mapping[str, Value], like: Sides | None = None) -> Sides:
    before, after = (LaidOut([run_with(outcomes, chosen) for outcomes in proof.outcomes],
                             proof.profile, usual)
                     for proof, chosen, usual in ((was, old, like and like.was),
                                                  (now, new, like and like.now)))
    return Sides(before, after, common)


def _with_choices(was: Proof, now: Proof, usual: Sides, told: set[str]) -> Iterator[Difference]:
    """What differs with another choice and not with the usual ones."""
    old, new = was.prepared.script, now.prepared.script
    ours = {option.name: option for option in old.options}
    done = 0
    for option in new.options:
        if option.name not in ours:
            continue
        for value in option.values:
            chosen = [{**all_choices(script)[0], option.name: value} for script in (old, new)]
            if value not in ours[option.name].values or done >= MOST_CHOICES or \
                    value == option.default == ours[option.name].default:
                continue
            done += 1
            sides = _sides(was, now, usual.common, chosen[0], chosen[1], usual)
            sections = paired(sides)
            word = f"{option.name} {show(value) if isinstance(value, Quantity) else value}"
            for change in (*knitted.stitches_and_rows(sections, sides),
                           *knitted.finished_measures(sides), *step_changes(sections, sides)):
                if _rule(change) not in told and not change.detail \
                        and change.what not in ("numbers", "step-words"):
                    yield evolve(change, words=f"With {word}: {change.words}", choice=word)


def _rule(change: Difference) -> str:
    """A change without its values: with another choice they are others, and it is the same."""
    return change.rule or change.words


# ---- what the check says


def _limits(was: Checked, now: Checked) -> Iterator[str]:
    for checked in (was, now):
        if checked.problems:
            first = checked.problems[0]
            more = len(checked.problems) - 1
            yield (f"{checked.name} cannot be knitted in thought: line {first.at.line}: "
                   f"{first.message}" + (f" ({more} more of such slips.)" if more else "")
                   + " It is compared as far as it can be read.")
        elif checked.proof is None:
            yield f"{checked.name} has only techniques and nothing to knit by itself."


def _stopped(was: Checked, now: Checked) -> Iterator[str]:
    for checked in (was, now):
        assert checked.proof is not None
        usual = [outcomes[0].run for outcomes in checked.proof.outcomes]
        stopped = [run.size_name for run in usual if run.stopped is not None]
        if stopped or len(checked.proof.outcomes) < len(sizes.size_names(checked.script)):
            yield (f"The knitting of {checked.name} stops before its end"
                   + (f" in {listed(stopped)}" if stopped and len(checked.proof.outcomes) > 1
                      else "") + "; it is compared as far as it goes.")


def _findings(was: Checked, now: Checked) -> Iterator[Difference]:
    """Kinds of findings that are new or gone."""
    old, new = ({finding.kind: finding for finding in checked.findings}
                for checked in (was, now))
    for kind, finding in new.items():
        if kind not in old:
            yield Difference("finding-added", f"New: {finding.severity} {kind} (line "
                             f"{finding.at.line}): {finding.message}", finding.sizes)
    gone = [f"{kind} (line {finding.at.line})" for kind, finding in old.items()
            if kind not in new]
    if gone:
        yield Difference("finding-gone", f"No longer found: {listed(gone)}.", ())


def _sections_as_written(was: Script, now: Script) -> Iterable[Difference]:
    """Where one version cannot be knitted: which sections have other lines."""
    old, new = ({section.title: section for section in script.sections} for script in (was, now))
    for title, section in new.items():
        if title not in old:
            yield Difference("section-added", f"The section \"{title}\" is new.", ())
        elif not same_tree(old[title].body, section.body):
            yield Difference("section", f"The section \"{title}\" is written otherwise.", ())
    for title in old:
        if title not in new:
            yield Difference("section-gone", f"The section \"{title}\" is gone.", ())
