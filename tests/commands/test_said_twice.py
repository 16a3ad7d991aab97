"""Nothing that is asked for is ignored silently."""

from __future__ import annotations

import pytest
from support.command import sockscript

SOCK = "../examples/family-sock.sockscript"
WARMER = "../examples/leg-warmer.sockscript"


@pytest.mark.parametrize(("arguments", "says"), [
    (("needles", SOCK, "--size", "Man-L", "--size", "Man-M", "--step", "3"), "--size stands there"),
    (("steps", SOCK, "--choose", "finish=graft", "--choose", "Finish=gather"), "chosen 2 times"),
    (("steps", SOCK, "--every-row", "--size", "Man-L", "--my-size", "Man-M"), "leave --size"),
    (("fit", SOCK, "--foot-length", "24cm", "--foot-length", "25cm"), "--foot-length once"),
    (("fit", SOCK, "--foot-length", "24cm", "--shoe", "eu 39"), "leave one of them out"),
    (("sheet", SOCK, "--every-row", "-o", "{}/a.html"), "say which with --size"),
    (("swatch", "30x42/10cm", "--fabric", "two words"), "one word")])
def test_it_is_refused(arguments, says, tmp_path):
    done = sockscript(*(one.format(tmp_path) for one in arguments))

    assert done.returncode == 2 and says in done.stderr and not done.stdout
    assert not list(tmp_path.iterdir())


def test_what_may_stand_there_often_may():
    done = sockscript("steps", SOCK, "--size", "Man-L", "--size", "Man-M", "--choose",
                      "finish=graft", "--choose", "heel-point=wider")

    assert done.returncode == 0 and "Sizes: Man-M (Man-L)" in done.stdout
