"""Every script of ``attack/hostile.py`` through a command: how long, how much memory.

``python tests/bench/hostile_scripts.py`` runs ``check`` on each, in a process of its own, and
tells those that need more than 2 seconds of the processor or 300 MB, or end in an odd way (the
status is 1 then).  Words after it are another command line, with FILE for the script:
``python tests/bench/hostile_scripts.py steps FILE --all-choices``.  ``--all`` tells every script.
"""

from __future__ import annotations

import subprocess
import sys
import tempfile
from collections.abc import Sequence
from pathlib import Path
from typing import NamedTuple

sys.path.insert(0, str(Path(__file__).resolve().parents[1]))

from attack.hostile import SCRIPTS

SECONDS, MEGABYTES = 2.0, 300
PATIENCE = 60

_RUN = """
import resource, sys
words = sys.argv[1:]
if words[0] == "editor":
    from sockscript.service.document import Document
    from sockscript.service import diagnostics, outline, tokens
    from pathlib import Path
    document = Document("a.sockscript", Path(words[1]).parent)
    document.examine(Path(words[1]).read_text("utf-8"))
    diagnostics.diagnostics(document), outline.outline(document), tokens.tokens_of(document)
    status = 0
else:
    from sockscript import cli
    sys.argv = ["sockscript", *words]
    try:
        status = cli.run()
    except SystemExit as end:
        status = end.code
used = resource.getrusage(resource.RUSAGE_SELF)
# What this process itself held: the system's own count begins with the one that started it.
held = next(int(line.split()[1]) for line in open("/proc/self/status") if line[:5] == "VmHWM")
with open("used", "w") as file:
    file.write(f"{status} {used.ru_utime + used.ru_stime} {held // 1024}")
"""


class Used(NamedTuple):
    """How a command ended; seconds of the processor, megabytes."""

    status: int
    seconds: float
    megabytes: int

    @property
    def too_much(self) -> bool:
        """Whether it went over a limit or did not end as commands do."""
        return (self.status not in (0, 1, 2) or self.seconds > SECONDS
                or self.megabytes > MEGABYTES)


def used_by(text: str, words: Sequence[str], folder: Path) -> Used:
    """Run a command (``editor``: a version in an editor) on a script."""
    (folder / "a.sockscript").write_text(text, "utf-8")
    (folder / "used").unlink(missing_ok=True)
    done = subprocess.run(
        [sys.executable, "-c", _RUN, *("a.sockscript" if word == "FILE" else word
                                       for word in words)],
        cwd=folder, capture_output=True, timeout=PATIENCE, check=False)
    if not (folder / "used").exists():
        return Used(done.returncode or 70, 0.0, 0)
    status, seconds, megabytes = (folder / "used").read_text("utf-8").split()
    return Used(int(status), float(seconds), int(megabytes))


def main() -> int:
    """Measure; returns the exit status."""
    words = [word for word in sys.argv[1:] if word != "--all"] or ["check", "FILE"]
    over = 0
    with tempfile.TemporaryDirectory() as name:
        for script, text in SCRIPTS.items():
            used = used_by(text, words, Path(name))
            over += used.too_much
            if used.too_much or "--all" in sys.argv:
                print(f"{script:24} {used.seconds:5.2f} s {used.megabytes:4} MB  status "
                      f"{used.status}{'  TOO MUCH' * used.too_much}", flush=True)
    print(f"{len(SCRIPTS)} scripts, {over} of them too much for '{' '.join(words)}'")
    return 1 if over else 0


if __name__ == "__main__":
    sys.exit(main())
