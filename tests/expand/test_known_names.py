"""What is said of names that nothing is called by, each in its line, and where nothing is said.

Each wrong line tells in its comment what is said of it: messages and what to do; all other lines
must be silent.
"""

from __future__ import annotations

import pytest
from support.scripts import problems

HEADER = '''pattern "Test piece"
author "Quayside Knitting Circle"
yarn main "four-ply sock wool" 400 m per 100 g
yarn fine "thin cotton"
yarn waste "smooth waste yarn" as waste
gauge plain 30 stitches, 42 rows per 10 cm
option finish graft, gather
option deep 3, 4
sizes Small Large
    leg-length 10 12 cm
let half = 12
'''

HEAD = HEADER + '''
swatch plain 60 stitches, 84 rows, 18 g of main
swatch plian 60 stitches, 84 rows, 18 g of main  # There is no gauge for 'plian'. Did you mean 'plain'?
swatch plain 60 stitches, 84 rows, 17 g of mian  # There is no yarn called 'mian'. Did you mean 'main'?
swatch plain 60 stitches, 84 rows, 18 g of fine  # The swatch was weighed, but nothing says how long a gram of 'fine' is. Write its length on the yarn line, as on the band: 400 m per 100 g.
let more = leg-lenght * 2  # Nothing is called 'leg-lenght'. Did you mean 'leg-length'?
let half = 13  # 'half' has a value already, in line 11. Keep one of the two lines, or give one of them another name.
let deep = 3  # 'deep' has a value already, in line 8. Keep one of the two lines, or give one of them another name.
let leg-length = 3 cm  # 'leg-length' has a value already, in line 10. Keep one of the two lines, or give one of them another name.
let even-more = half + seven  # Nothing is called 'seven'. Write the number in figures: 7.
let most = half + zzz  # Nothing is called 'zzz'. Give it a value with  let zzz = …  or a row in the table of sizes.
let kept = smaler(2, 3)  # There is no function 'smaler'. Did you mean 'smaller'?
let left-over = zzz(2, 3)  # There is no function 'zzz'. There are count-before, count-held, count-on, count-working, height, larger, number, rows, smaller, stitches, width, yarn-end.
let wide = width(half, plain) + width(half, rib)  # There is no gauge for 'rib'. There is one for plain: write that, or add a 'gauge' line to the header.
let high = height(halff, rib)  # Nothing is called 'halff'. Did you mean 'half'? There is no gauge for 'rib'. There is one for plain: write that, or add a 'gauge' line to the header.
works for
    half 2 to 4
    leg-length 10 to 12 cm by 1 cm
    halff 2 to 4  # Nothing is called 'halff'. Did you mean 'half'?
    zzz 2 to 4  # Nothing is called 'zzz'. A range stands for a row in the table of sizes or for a 'let'.
    deep 2 to 4  # 'deep' is an option. Leave it out: every choice is tried anyway.
    gauge plain 30 to 34 stitches by 2
    gauge rib 30 to 34 stitches by 2  # There is no gauge for 'rib'. There is one for plain: write that, or add a 'gauge' line to the header.
    where hallf is 3  # Nothing is called 'hallf'. Did you mean 'half'?
    where half is more than 3
note "Of {leg-length} and {leg}."  # Nothing is called 'leg'. Did you mean 'leg-length'?
section "Toe" in plian  # There is no gauge for 'plian'. Did you mean 'plain'?
    knit half rows
'''  # noqa: E501

BODY = HEADER + '''
technique toe with leave, edge = 3, style = thin
    needs carriage left
    let kept = leave + edgge  # Nothing is called 'edgge'. Did you mean 'edge'?
    knit kept + edge rows
    when finish is graft
        knit leav rows  # Nothing is called 'leav'. Did you mean 'leave'?
    when style is thick
        scrap off front as tip
    repeat 2 times
        knit in waste over L1 of front as gap
    thread style
    set kept to knit
technique heel with bed, yarn
    thread yarn
    set bed to knit
technique park with place, gap, under
    when half is 3
        knit half rows
    otherwise
        scrap off front as place
    repeat 2 times
        knit in waste over L1 of front as gap
    mark slit under on front
section "Toe" in plain
    knit tall rows  # 'tall' gets its value only further down, in line 38. Put the line  let tall = …  before this one.
    let tall = 3
    let tall = tall + 1
    thread mian  # There is no yarn called 'mian'. Did you mean 'main'?
    thread main and zzz  # There is no yarn called 'zzz'. This pattern has fine, main, waste: write its name, or add a 'yarn' line to the header.
    cut yarn  # There is no yarn called 'yarn'. 'cut' alone cuts the yarn in the feeder; or write the name of a yarn after it.
    thread yarn  # There is no yarn called 'yarn'. This pattern has fine, main, waste: write its name, or add a 'yarn' line to the header.
    do toe with leave = half, style = thick
    do toe with leave = half, style = thin
    do toe with leave = half, style = main
    do toe with leave = tip  # Nothing is called 'tip'. Give it a value with  let tip = …  or a row in the table of sizes.
    do park with place = tip, gap = slot, under = crown
    do toe with leave = half, style = zzz  # Nothing is called 'zzz'. 'toe' asks whether 'style' is thick or thin.
    do toe with leave = half - zzz  # Nothing is called 'zzz'. Give it a value with  let zzz = …  or a row in the table of sizes.
    do toe with leav = half  # 'toe' takes no value called 'leav'. Did you mean 'leave'?
    do toe with leave = half, zzz = half  # 'toe' takes no value called 'zzz'. It takes edge, leave, style.
    do toe on front with leave = half  # 'toe' is not told a bed. Leave out 'on …'.
    do toe  # 'toe' needs a value for 'leave'. Add  with leave = …
    do toe with edge = 2  # 'toe' needs a value for 'leave'. Add  , leave = …
    do heel on front with yarn = main
    do heel with yarn = main, bed = front
'''  # noqa: E501

MORE = HEADER + '''
technique heel with bed, yarn
    thread yarn
    set bed to knit
section "Heel"
    let long = 3
    do heel on front  # 'heel' needs a value for 'yarn'. Add  with yarn = main
    do heel with yarn = main  # 'heel' needs a value for 'bed'. Write  do heel on front  or  on back.
    do hele on front  # There is no technique called 'hele'. Did you mean 'heel'?
    do bind on front  # There is no technique called 'bind'. Did you mean 'transfer-bind-off'?
    do tube  # There is no technique called 'tube'. There are thumb-tube, tube-cast-on, turn-to-tube and turn-to-tube-on-waste.
    do zzz on frnt  # There is no technique called 'zzz'. Define it with 'technique', or name the file it is in with 'use'. 'frnt' is not a bed. Did you mean 'front'?
    when finish is grft  # Nothing is called 'grft'. Did you mean 'graft'?
        knit half rows
    when deep is half
        knit half rows
    when half + 1 is more than zzz + 1  # Nothing is called 'zzz'. Give it a value with  let zzz = …  or a row in the table of sizes.
        knit half rows
    when size is Lrge or size is small  # There is no size called 'Lrge'. The sizes are Small, Large.
        knit rows(3 cm) rows
    needs carriage left  # 'needs' says what a technique needs; this line stands in none. Put it right under the line 'technique …', not deeper; elsewhere write expect.
    set frnt to knit  # 'frnt' is not a bed. Did you mean 'front'?
    set zzz to knit  # 'zzz' is not a bed. Write front, back or both.
    set finish to knit
    move carriage to lft  # 'lft' is not an end of the bed. Did you mean 'left'?
    move carriage to zzz  # 'zzz' is not an end of the bed. Write left, right, carriage side or far side.
    move carriage to finish
    repeat 2 times
        let inner = 4
        knit inner rows
    expect hal stitches on front  # Nothing is called 'hal'. Did you mean 'half'?
    graft last-row to first-row
'''  # noqa: E501

ELSEWHERE = HEADER + '''
technique a
    let deep-one = 3
    when half is 3
        let inner-one = 4
    otherwise
        let other-one = 3
section "A"
    knit deep-one rows  # 'deep-one' is known only in the technique 'a', where it gets its value in line 14. Put the line  let deep-one = …  above the sections: what stands there is known everywhere.
    knit inner-one + other-one rows  # 'inner-one' is known only in the technique 'a', where it gets its value in line 16. Put the line  let inner-one = …  above the sections: what stands there is known everywhere. 'other-one' is known only in the technique 'a', where it gets its value in line 18. Put the line  let other-one = …  above the sections: what stands there is known everywhere.
    let itself = itself + 1  # Nothing is called 'itself'. Give it a value with  let itself = …  or a row in the table of sizes.
    knit later rows  # 'later' gets its value only further down, in line 25. Put the line  let later = …  before this one.
    repeat 2 times
        let later = 3
section "B"
    knit later rows  # 'later' is known only in the section "A", where it gets its value in line 25. Put the line  let later = …  above the sections: what stands there is known everywhere.
    knit zzz + zzz rows  # Nothing is called 'zzz'. Give it a value with  let zzz = …  or a row in the table of sizes. Nothing is called 'zzz'. Give it a value with  let zzz = …  or a row in the table of sizes.
    thread mian and mian  # There is no yarn called 'mian'. Did you mean 'main'?
'''  # noqa: E501
"""The same name in two places of a line is told twice, the same line with one place once."""

SPOILT = HEADER + '''
let Spoilt = = 3  # '=' does not fit here: a number, a name, 'rows' or 'stitches' should stand here. For example:  let name = stitches(20 cm) to nearest even
technique broken with a b  # 'b' does not fit here: the end of the line should stand here. For example:  technique my-toe with leave
    knit a rows
section "A"
    knit spoilt rows
    knit SPOILT rows
    set spoilt to knit
    move carriage to spoilt
    do broken
    when spoilt is zzz
        knit 1 row
    when half is zzz  # Nothing is called 'zzz'. Give it a value with  let zzz = …  or a row in the table of sizes.
        knit 1 row
'''  # noqa: E501
"""What a line with a slip was to give a value is not told again where it is used."""


def told(text):
    """What is said of each line that something is said of."""
    found: dict[int, list[str]] = {}
    for one in problems(text):
        found.setdefault(one.at.line, []).append(f"{one.message} {one.hint}")
    return {line: " ".join(words) for line, words in found.items()}


@pytest.mark.parametrize("text", [HEAD, BODY, MORE, ELSEWHERE, SPOILT])
def test_each_line_is_told_what_is_wrong_with_its_names_and_no_other(text):
    wrong = {number: line.partition("  # ")[2] for number, line in enumerate(
        text.splitlines(), start=1) if "  # " in line}

    assert told(text) == wrong


@pytest.mark.parametrize("line", ["knit zzz rows", "do zzz", "thread zzz", "knit tall rows"])
def test_after_thirty_nobody_is_told_of_more(line):
    head = HEADER + 'section "A"\n    let tall = 3\n    knit tall rows\nsection "B"\n'

    assert [len(problems(head + f"    {line}\n" * many)) for many in (30, 31, 90)] == [30, 31, 31]


def test_words_are_followed_through_sixty_techniques():
    """Whoever hands them on through more is told of a name that nothing is called by."""
    for many, kinds in ((60, []), (61, ["unknown-name"])):
        chain = "".join(f"technique t{n} with end\n    do t{n + 1} with end = end\n"
                        for n in range(1, many))
        found = problems(f"{HEADER}{chain}technique t{many} with end\n    when end is shut\n"
                         '        half pitch\nsection "A"\n    do t1 with end = shut\n')

        assert [one.kind for one in found] == kinds


FIGURES = ["one", "two", "three", "four", "five", "six", "seven", "eight", "nine", "ten",
           "eleven", "twelve"]


def test_a_number_in_words_is_told_in_figures():
    lines = "".join(f"    knit {word} rows\n" for word in (*FIGURES, "dozen"))
    first, *others, last = told(HEADER + f'section "A"\n{lines}').values()

    assert first == "Nothing is called 'one'. Write the number in figures: 1."
    assert [words.split("figures: ")[1] for words in others] == [f"{n}." for n in range(2, 13)]
    assert "figures" not in last
