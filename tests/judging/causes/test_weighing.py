"""Stories weighed over a take: what happens again and again explains what could be either."""

from game.judging.causes.cause_numbers import CAUSE_NUMBERS
from game.judging.causes.stories import Counts, Story
from game.judging.causes.weighing import Weighing, likeliest
from game.judging.verdicts import Cause

COUNTS = Counts(notes=40, letters=(6,) * 7, ledger=4, signature=4, accidental=2)
SLIP = Story(Cause.SLIP, ("slip", 0, 1), 0.27, 1.0, 40)
NEIGHBOUR = Story(Cause.NEIGHBOUR, ("neighbour", 2, 1), 0.5, 0.8, 6)
OTHER_LETTER = Story(Cause.NEIGHBOUR, ("neighbour", 5, -1), 0.5, 0.8, 6)


def causes(*stories: tuple[Story, ...]) -> list[Cause]:
    return Weighing([5 * at for at in range(len(stories))], stories, COUNTS, CAUSE_NUMBERS).causes()


def test_once_what_could_be_either_is_told_by_the_table():
    assert likeliest((SLIP, NEIGHBOUR), CAUSE_NUMBERS) is Cause.NEIGHBOUR
    assert causes((SLIP, NEIGHBOUR)) == [Cause.NEIGHBOUR]


def test_among_slips_it_is_a_slip():
    assert causes((SLIP,), (SLIP,), (SLIP, NEIGHBOUR), (SLIP,), (SLIP,)) == [Cause.SLIP] * 5


def test_at_a_letter_misread_every_time_it_is_a_misreading_even_among_slips():
    assert causes((SLIP,), (SLIP,), *[(SLIP, NEIGHBOUR)] * 5)[2:] == [Cause.NEIGHBOUR] * 5


def test_misreading_another_letter_says_less_than_misreading_this_one():
    slips = [(SLIP,)] * 4
    same = causes(*slips, (NEIGHBOUR,), (NEIGHBOUR,), (SLIP, NEIGHBOUR))
    other = causes(*slips, (OTHER_LETTER,), (OTHER_LETTER,), (SLIP, NEIGHBOUR))
    assert (same[-1], other[-1]) == (Cause.NEIGHBOUR, Cause.SLIP)
