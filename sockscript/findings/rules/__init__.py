"""What is seen only over several lines: each rule looks through a run and yields mishaps.

A rule is ``(run) -> list of Mishap``; a rule for all runs together is ``(runs by size) -> list of
Mishap``.  To add one, write it and the ``Kind``s that it tells in the module of its family, and
list it here.
"""

from __future__ import annotations

from collections.abc import Callable, Sequence

from sockscript.expand.record import Mishap
from sockscript.expand.run import Run
from sockscript.findings.rules.corners import open_corners
from sockscript.findings.rules.cups import cup_lopsided, cup_stops_early
from sockscript.findings.rules.decreases import (
    decreases_unlike,
    flat_toe_one_sided,
    half_round_between,
    shaping_not_mirrored,
    uneven_pace,
    widening_not_mirrored,
)
from sockscript.findings.rules.dial import (
    cast_on_size,
    size_after_rib,
    size_set_late,
    sizes_reversed,
)
from sockscript.findings.rules.doubles import doubles_grafted_off
from sockscript.findings.rules.ease import ease_too_large, no_ease
from sockscript.findings.rules.edges import bare_strand, edge_left_open, ravel_cord_missing
from sockscript.findings.rules.endings import endings
from sockscript.findings.rules.fabrics import fabric_not_as_said
from sockscript.findings.rules.feet import cuff_too_tight, unlikely_feet
from sockscript.findings.rules.grading import ease_left_out, gauge_exchanged, grading
from sockscript.findings.rules.gussets import gusset_miscounted
from sockscript.findings.rules.hanging import hems_hung_wrongly, hung_wrongly
from sockscript.findings.rules.heel_and_toe import heel_point, toe_shape
from sockscript.findings.rules.heels import heel_halves_apart, heel_twice, short_rows_askew
from sockscript.findings.rules.holding import (
    hold_not_set,
    hold_on_wrong_bed,
    long_hold,
    returned_at_carriage,
)
from sockscript.findings.rules.ladders import ladders
from sockscript.findings.rules.leftover import leftover_needles
from sockscript.findings.rules.lengths import rows_for_lengths
from sockscript.findings.rules.lifted import lifted_twice
from sockscript.findings.rules.needle_patterns import needle_patterns
from sockscript.findings.rules.never_used import (
    option_without_effect,
    row_never_used,
    technique_never_called,
)
from sockscript.findings.rules.open_ends import (
    gathered_apart,
    narrow_end_open,
    narrow_start_open,
    no_way_in,
)
from sockscript.findings.rules.openings import marked_too_early, opening_stays_shut, wrong_mark
from sockscript.findings.rules.picking_up import edges_picked_up
from sockscript.findings.rules.pleats import heel_in_one_layer
from sockscript.findings.rules.prose import finishing_incomplete, number_in_words
from sockscript.findings.rules.racking import racked_at_once
from sockscript.findings.rules.seams import (
    faces_interleaved,
    layers,
    seam_places,
    turned_after_heel,
)
from sockscript.findings.rules.sewn import folds_off_centre, hems_too_deep, no_side_edges
from sockscript.findings.rules.short_rows import short_rows
from sockscript.findings.rules.size_order import sizes_crossed
from sockscript.findings.rules.size_table import size_missed
from sockscript.findings.rules.split_tubes import one_bed_alone
from sockscript.findings.rules.step_words import counters_in_words, words_of_steps
from sockscript.findings.rules.stripes import long_edge_floats, stripe_uneven
from sockscript.findings.rules.targets import off_target
from sockscript.findings.rules.tube_goes_on import (
    held_in_rounds,
    knitted_shut,
    size_differs,
)
from sockscript.findings.rules.tubes import circular_on_one_bed, odd_passes, tube_not_facing
from sockscript.findings.rules.turning import turned_by_hand
from sockscript.findings.rules.waste import (
    openings_covered,
    waste_knitted_along,
    waste_knitted_in,
)
from sockscript.findings.rules.weights import (
    hung_on_nothing,
    rib_unweighted,
    rib_without_comb,
    tube_unweighted,
    weights_not_moved,
)
from sockscript.findings.rules.whole import (
    choices_alike,
    size_without_rows,
    sizes_alike,
    yarn_never_used,
)
from sockscript.findings.rules.yarn import (
    gauge_too_fine,
    yarn_and_gauge,
    yarn_cut_late,
    yarn_left_alone,
)

Rule = Callable[[Run], list[Mishap]]

SHAPE_RULES: tuple[Rule, ...] = (
    short_rows,
    open_corners,
    odd_passes,
    tube_not_facing,
    circular_on_one_bed,
    endings,
    rib_unweighted,
    rib_without_comb,
    weights_not_moved,
    long_hold,
    hold_not_set,
    hold_on_wrong_bed,
    returned_at_carriage,
    bare_strand,
    shaping_not_mirrored,
    half_round_between,
    edge_left_open,
    ravel_cord_missing,
    finishing_incomplete,
    held_in_rounds,
    size_differs,
    hung_on_nothing,
    turned_by_hand,
    waste_knitted_in,
    hung_wrongly,
    hems_hung_wrongly,
    seam_places,
    turned_after_heel,
    faces_interleaved,
    layers,
    heel_twice,
    size_set_late,
    widening_not_mirrored,
    decreases_unlike,
    words_of_steps,
    no_side_edges,
    opening_stays_shut,
    openings_covered,
    wrong_mark,
    marked_too_early,
    waste_knitted_along,
    cup_stops_early,
    cup_lopsided,
    narrow_end_open,
    narrow_start_open,
    gathered_apart,
    lifted_twice,
    yarn_cut_late,
    stripe_uneven,
    racked_at_once,
    yarn_left_alone,
    leftover_needles,
    doubles_grafted_off,
)
"""What these see depends on the needles and on the order of things, but not on how many more than
``expand.looks_alike.MANY_ROWS`` rows are knitted in one go, other than on whether the number is
odd."""

MEASURE_RULES: tuple[Rule, ...] = (
    yarn_and_gauge,
    gauge_too_fine,
    off_target,
    size_missed,
    rows_for_lengths,
    unlikely_feet,
    cuff_too_tight,
    toe_shape,
    number_in_words,
    uneven_pace,
    gauge_exchanged,
    counters_in_words,
    one_bed_alone,
    hems_too_deep,
    folds_off_centre,
    long_edge_floats,
    edges_picked_up,
    needle_patterns,
    knitted_shut,
    tube_unweighted,
    sizes_reversed,
    cast_on_size,
    size_after_rib,
    heel_point,
    short_rows_askew,
    heel_halves_apart,
    flat_toe_one_sided,
    ladders,
    no_way_in,
    gusset_miscounted,
    fabric_not_as_said,
    heel_in_one_layer,
    ease_too_large,
)
"""These look at lengths and exact numbers too."""

RULES = SHAPE_RULES + MEASURE_RULES

WHOLE_RULES: tuple[Callable[[Sequence[Sequence[Run]]], list[Mishap]], ...] = (
    yarn_never_used, sizes_alike, size_without_rows, grading, ease_left_out, no_ease,
    sizes_crossed, option_without_effect, row_never_used, choices_alike,
    technique_never_called,
)
