"""The names of what keeps a script from being read or worked out."""

from __future__ import annotations

from typing import Literal

ProblemName = Literal[
    "bad-number", "bad-option", "bad-profile", "bad-sizes", "calls-itself", "circular-use",
    "circular-value", "control-character", "decimal-comma", "does-not-fit", "empty-block",
    "empty-script", "exchange-does-not-fit", "file-too-large", "foreign-log",
    "line-too-long", "machine-lacks", "misplaced-line",
    "missing-cells", "missing-step", "missing-unit", "missing-value",
    "named-twice", "negative-count", "nested-too-deep",
    "never-true", "no-gauge", "no-needle-0", "not-a-bed", "not-a-length", "not-a-log",
    "not-a-number", "not-a-pack",
    "not-an-end", "not-text", "not-utf-8", "not-whole", "number-too-large", "open-brace",
    "open-quote", "other-yarn-threaded", "pairs-differ", "ragged-indentation", "reserved-word",
    "same-bed", "tabs-and-spaces", "too-long", "too-many-choices", "too-many-repeats",
    "too-many-rows", "unfinished-line", "units-do-not-fit", "unknown-fabric", "unknown-finding",
    "unknown-foot", "unknown-function", "unknown-machine", "unknown-name", "unknown-size",
    "unknown-technique", "unknown-value", "unknown-word", "unknown-yarn", "unreadable-file",
    "use-not-a-script", "use-outside-folder", "use-too-many", "weight-without-length",
]
"""Each has a page in ``findings/pages``; a test asks for it."""
