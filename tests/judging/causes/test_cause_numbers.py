"""The table of causes."""

from game.judging.causes.cause_numbers import CAUSE_NUMBERS
from game.judging.verdicts import Cause


def test_every_cause_but_the_octave_has_a_rate():
    assert set(CAUSE_NUMBERS.rates) == {cause.value for cause in Cause if cause is not Cause.OCTAVE}


def test_the_ways_of_one_cause_are_all_of_it():
    both_ways = 2 * sum(CAUSE_NUMBERS.ledger_distances.values())
    slips = 2 * CAUSE_NUMBERS.fret_slip + 2 * CAUSE_NUMBERS.string_slip
    signs = CAUSE_NUMBERS.in_force + CAUSE_NUMBERS.signature_only + CAUSE_NUMBERS.bare_letter + CAUSE_NUMBERS.own_alter
    assert [round(share, 9) for share in (both_ways, slips, signs)] == [1, 1, 1]
