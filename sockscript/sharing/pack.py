"""Making packs, and what a pack tells of the check that was made with it."""

from __future__ import annotations

from collections.abc import Mapping
from pathlib import Path
from typing import Any

from sockscript import __version__
from sockscript.expand.explore import all_choices
from sockscript.expand.values import Value
from sockscript.findings.checked import Checked
from sockscript.findings.prove import Proof
from sockscript.numbers.quantity import Quantity, show
from sockscript.sharing.stamp import fingerprint_of
from sockscript.text.packed import FOLDER, pack_bytes
from sockscript.text.source import Source


def make_pack(checked: Checked, leaflets: Mapping[str, bytes], machine: bytes | None) -> bytes:
    """The pack of a script that was checked.

    ``leaflets``: by name, ``leaflet.html`` and perhaps ``leaflet.pdf``.  ``machine``: the text
    of the profile that it was checked on, if it was one of the member's own or a shipped one.
    """
    script = checked.script
    name = Path(script.source.name).name
    members = {FOLDER + name: _bytes(script.source), **leaflets}
    for other, source in checked.library.files.items():
        members[FOLDER + other] = _bytes(source)
    profile = "" if machine is None else "checked-on.machine"
    if machine is not None:
        members[FOLDER + profile] = machine
    return pack_bytes({
        "title": script.title or "Untitled pattern", "author": script.author,
        "version": script.version, "licence": script.licence,
        "fingerprint": str(fingerprint_of(checked)), "sockscript": __version__,
        "script": name, "machine": profile, "check": record_of(checked)}, members)


def _bytes(source: Source) -> bytes:
    """A script as it was read, with line ends that are the same everywhere."""
    return "".join(f"{line}\n" for line in source.raw).encode("utf-8")


def record_of(checked: Checked) -> dict[str, Any]:
    """What the check found, as plain data: the same for the same script, wherever it lies."""
    proof = checked.proof
    assert proof is not None
    script = checked.script
    return {
        "sizes": list(script.sizes.names) if script.sizes is not None else ["one size"],
        "choices": {option.name: [_text(value) for value in option.values]
                    for option in script.options},
        "combinations": proof.combinations,
        "findings": [{"name": one.kind, "severity": one.severity, "line": one.at.line,
                      "message": one.message} for one in checked.findings],
        "allowed": [{"name": one.finding.kind, "line": one.finding.at.line,
                     "because": one.reason} for one in checked.allowed],
        "stitches": _ledgers(proof)}


def _ledgers(proof: Proof) -> list[dict[str, int]]:
    """For each size, with the usual choices: what came in, and where it went."""
    usual = all_choices(proof.prepared.script)[0]
    found = []
    for outcomes in proof.outcomes:
        run = next((one.run for one in outcomes if usual in one.choices), outcomes[0].run)
        ledger = run.moments[-1].state.ledger if run.moments else None
        found.append({} if ledger is None else {name.replace("_", "-"): count
                                                for name, count in ledger._asdict().items()})
    return found


def _text(value: Value) -> str:
    return show(value) if isinstance(value, Quantity) else value


def differences(told: Mapping[str, Any], now: Mapping[str, Any]) -> list[str]:
    """What the record of a pack tells otherwise than a check made now, in words."""
    words = {"sizes": "the sizes", "choices": "the choices", "combinations": "how many "
             "combinations there are", "findings": "what was found",
             "allowed": "what the author allows", "stitches": "the ledger of stitches"}
    return [words[key] for key in words if told.get(key) != now.get(key)]
