"""Write colours and indentation for the editors from the words of the grammar, and put our own
files into the package for VS Code.

Run it after a change to the grammar or in ``vscode/``: ``python editors/generate.py``.  With
``--check`` it writes nothing and its exit status tells whether something is out of date.
"""

from __future__ import annotations

import json
import sys
from collections.abc import Iterator
from pathlib import Path
from typing import NamedTuple

import pack

from sockscript.highlight.word_groups import WordGroups, word_groups

HERE = Path(__file__).resolve().parent
EXTENSIONS = ("sockscript", "machine")
DEFINING = ("let", "option", "yarn", "technique")
"""First words that give the next word a meaning."""
CALLING = ("do", "exchange")

NAME = r"\p{L}[\p{L}\p{N}]*(?:-[\p{L}\p{N}]+)*"
NUMBER = r"\d+[ ]+\d+/\d+|\d*[¼½¾⅓⅔⅛⅜⅝⅞]|\d+(?:\.\d+)?"
BEGIN = r"(?<![\p{L}\p{N}-])"
END = r"(?![\p{L}\p{N}-])"


class Rule(NamedTuple):
    """A pattern of Oniguruma, with a scope for the whole or one for each of its groups."""

    match: str
    scope: str = ""
    groups: tuple[str, ...] = ()


def any_of(words: tuple[str, ...]) -> str:
    """A pattern for one of the words, the longest first."""
    return "(?:" + "|".join(sorted(words, key=lambda word: (-len(word), word))) + ")"


def rules(words: WordGroups) -> list[Rule]:
    """What stands outside quotes, in the order in which it is tried."""
    return [
        Rule(r"#.*$", "comment.line.number-sign"),
        Rule(rf"(?i)^\s*({any_of(DEFINING)})\s+({NAME})",
             groups=("keyword.control", "variable.other.definition")),
        Rule(rf"(?i)^\s*({any_of(CALLING)})\s+({NAME})",
             groups=("keyword.control", "entity.name.function")),
        Rule(rf"(?i)^\s*({any_of(words.first)}){END}", groups=("keyword.control",)),
        Rule(rf"(?i){BEGIN}[lr](?:\d+{END}|(?=\())", "constant.other.needle"),
        Rule(rf"(?i)(\d+(?:st|nd|rd|th)){END}", groups=("constant.numeric.ordinal",)),
        Rule(rf"(?i)({NUMBER})(?:\s*({any_of(words.units)}){END})?",
             groups=("constant.numeric", "keyword.other.unit")),
        Rule(rf"(?i){BEGIN}{any_of(words.functions)}(?=\s*\()", "support.function"),
        Rule(rf"(?i){BEGIN}{any_of(words.beds)}{END}", "constant.language.bed"),
        Rule(rf"(?i){BEGIN}{any_of(words.ends)}{END}", "constant.language.side"),
        Rule(rf"(?i){BEGIN}{any_of(words.later)}{END}", "keyword.other"),
        Rule(NAME, "variable.other"),
        Rule(r"[-+*/×÷=%]", "keyword.operator"),
    ]


def textmate(words: WordGroups) -> str:
    """The grammar for VS Code and whatever else reads TextMate grammars."""
    def pattern(rule: Rule) -> dict[str, object]:
        if rule.groups:
            return {"match": rule.match,
                    "captures": {str(n): {"name": f"{scope}.sockscript"}
                                 for n, scope in enumerate(rule.groups, start=1)}}
        return {"match": rule.match, "name": f"{rule.scope}.sockscript"}

    def quoted(opening: str, closing: str) -> dict[str, object]:
        return {"name": "string.quoted.double.sockscript", "begin": opening,
                "end": f"{closing}|$", "patterns": [{"include": "#value"}]}

    value = {"name": "meta.embedded.value.sockscript", "begin": r"\{", "end": r'\}|(?="|”|$)',
             "beginCaptures": {"0": {"name": "punctuation.section.embedded.sockscript"}},
             "endCaptures": {"0": {"name": "punctuation.section.embedded.sockscript"}},
             "patterns": [{"include": "#words"}]}
    grammar = {
        "name": "Sockscript", "scopeName": "source.sockscript", "fileTypes": [*EXTENSIONS],
        "patterns": [{"include": "#quoted"}, {"include": "#words"}],
        "repository": {
            "quoted": {"patterns": [quoted('(?<![0-9¼½¾⅓⅔⅛⅜⅝⅞])"', '"'), quoted("“", "”")]},
            "value": value,
            "words": {"patterns": [pattern(rule) for rule in rules(words)]},
        },
    }
    return json.dumps(grammar, indent=2, ensure_ascii=False) + "\n"


def sublime(words: WordGroups) -> str:
    """The syntax for Sublime Text: YAML, whose quoted texts are those of JSON."""
    def text(value: str) -> str:
        return json.dumps(value, ensure_ascii=False)

    def pattern(rule: Rule) -> Iterator[str]:
        yield f"    - match: {text(rule.match)}"
        if rule.scope:
            yield f"      scope: {rule.scope}.sockscript"
        if rule.groups:
            yield "      captures:"
            for n, scope in enumerate(rule.groups, start=1):
                yield f"        {n}: {scope}.sockscript"

    lines = "\n".join(line for rule in rules(words) for line in pattern(rule))
    return _filled("sublime.yaml", {"RULES": lines, "EXTENSIONS": ", ".join(EXTENSIONS)})


def vim(words: WordGroups, template: str) -> str:
    """The file for colours or for indentation in Vim and Neovim."""
    def alternatives(group: tuple[str, ...]) -> str:
        return r"\%(" + r"\|".join(sorted(group, key=lambda word: (-len(word), word))) + r"\)"

    return _filled(template, {
        **{group.upper(): alternatives(getattr(words, group)) for group in words._fields},
        "DEFINING": alternatives(DEFINING), "CALLING": alternatives(CALLING)})


def emacs(words: WordGroups) -> str:
    """The major mode for Emacs."""
    def listed(group: tuple[str, ...]) -> str:
        return "'(" + _folded([f'"{word}"' for word in group], "    ") + ")"

    return _filled("sockscript-mode.el", {
        **{group.upper(): listed(getattr(words, group)) for group in words._fields},
        "DEFINING": listed(DEFINING), "CALLING": listed(CALLING)})


def kate(words: WordGroups) -> str:
    """The definition for Kate and other KDE programs."""
    def listed(group: tuple[str, ...]) -> str:
        return "\n".join(f"      <item>{word}</item>" for word in group)

    return _filled("kate.xml", {
        **{group.upper(): listed(getattr(words, group)) for group in words._fields},
        "UNIT": any_of(words.units), "FUNCTION": any_of(words.functions),
        "DEFINING": any_of(DEFINING), "CALLING": any_of(CALLING),
        "EXTENSIONS": ";".join(f"*.{extension}" for extension in EXTENSIONS)})


def _folded(items: list[str], indent: str) -> str:
    """The items on lines of at most 90 letters."""
    lines = [""]
    for item in items:
        if len(lines[-1]) + len(item) > 90 - len(indent):
            lines.append("")
        lines[-1] += (" " if lines[-1] else "") + item
    return f"\n{indent}".join(lines)


def _filled(template: str, parts: dict[str, str]) -> str:
    """A template with its ``@PART@`` marks replaced."""
    text = (HERE / "templates" / template).read_text("utf-8")
    for name, part in parts.items():
        text = text.replace(f"@{name}@", part)
    return text


def generated() -> dict[Path, str]:
    """Every generated file and what should be in it."""
    words = word_groups()
    missing = {*DEFINING, *CALLING} - set(words.first)
    assert not missing, f"no line of the grammar begins with {missing}"
    return {
        HERE / "vscode" / "syntaxes" / "sockscript.tmLanguage.json": textmate(words),
        HERE / "sublime" / "Sockscript.sublime-syntax": sublime(words),
        HERE / "vim" / "syntax" / "sockscript.vim": vim(words, "sockscript.vim"),
        HERE / "vim" / "indent" / "sockscript.vim": vim(words, "indent.vim"),
        HERE / "emacs" / "sockscript-mode.el": emacs(words),
        HERE / "kate" / "sockscript.xml": kate(words),
    }


def main(check: bool) -> int:
    """Write the files, or only tell which of them are out of date."""
    stale = [(path, text) for path, text in generated().items()
             if not path.exists() or path.read_text("utf-8") != text]
    for path, text in stale:
        print(f"{path.relative_to(HERE)}: {'out of date' if check else 'written'}")
        if not check:
            path.write_text(text, "utf-8")
    there = pack.members(pack.PACKED)
    new = pack.with_own_files(there)
    if new != there:
        print(f"{pack.PACKED.relative_to(HERE)}: {'out of date' if check else 'written'}")
        if not check:
            pack.write(new, pack.PACKED)
    return int(check and (bool(stale) or new != there))


if __name__ == "__main__":
    sys.exit(main("--check" in sys.argv[1:]))
