"""The words of a line may stand close together, also those that begin a block of the header."""

from __future__ import annotations

from sockscript.text.source import Source
from sockscript.tree.read import read_script


def test_blocks_of_the_header_are_read_without_spaces_in_their_first_line():
    script = read_script(Source("test.sockscript", (
        'machine"Cottage"\n    beds 1\nsizesSmall Large\n    foot-round 20 22 cm\n'
        'worksfor\n    foot-round 18 to 24 cm by 1 cm\n')))

    assert not script.problems
    assert script.machine.beds == 1
    assert script.sizes is not None and script.sizes.names == ("Small", "Large")
    assert script.works_for is not None and len(script.works_for.ranges) == 1
