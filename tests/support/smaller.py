"""Examples with fewer sizes: as many kinds of lines, less to knit."""

from __future__ import annotations

from pathlib import Path

EXAMPLES = Path(__file__).resolve().parents[2] / "examples"


def with_sizes(text: str, *kept: str) -> str:
    """A script whose table of sizes has only these columns, each value in its place."""
    lines = text.split("\n")
    top = next(n for n, line in enumerate(lines) if line.startswith("sizes"))
    names = lines[top].split()[1:]
    which = [names.index(name) for name in kept]
    lines[top] = "sizes" + " " * 12 + "  ".join(kept)
    row = top + 1
    while lines[row].startswith("    "):
        name, *values = lines[row].split()
        lines[row] = " ".join(["   ", name, *(values[n] for n in which), *values[len(names):]])
        row += 1
    return "\n".join(lines)


def small(name: str = "family-sock") -> str:
    """An example with its first and its last size alone."""
    text = (EXAMPLES / f"{name}.sockscript").read_text("utf-8")
    names = next(line for line in text.split("\n") if line.startswith("sizes")).split()[1:]
    return with_sizes(text, names[0], names[-1])
