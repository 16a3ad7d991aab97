"""What is printed with a pattern so that members know which one it is and that it was checked."""

from __future__ import annotations

from sockscript import __version__
from sockscript.findings.checked import Checked
from sockscript.sharing.fingerprint import Fingerprint, fingerprint


def fingerprint_of(checked: Checked) -> Fingerprint:
    """The mark of a script that could be read, with the machine if one was asked for."""
    named = checked.profile if checked.machine is not None else None
    return fingerprint(checked.script, checked.library, named)


def stamp(checked: Checked) -> str:
    """``checked, 36 combinations, sockscript 0.1.0 · 3F44-JMX7-7CWT-YM9W``."""
    return f"{verdict(checked)}, sockscript {__version__} · {fingerprint_of(checked)}"


def verdict(checked: Checked) -> str:
    """``checked, 36 combinations``, or what was found in them."""
    assert checked.proof is not None
    faults = sum(finding.severity == "fault" for finding in checked.findings)
    warnings = sum(finding.severity == "warning" for finding in checked.findings)
    count = checked.proof.combinations
    combinations = f"{count} combination{'s' if count > 1 else ''}"
    found = [f"{n} {word}{'s' if n > 1 else ''}"
             for n, word in ((faults, "fault"), (warnings, "warning")) if n]
    return f"{' and '.join(found)} in {combinations}" if found else f"checked, {combinations}"
