"""The marks that a result shows."""

from game.coach.coach import NOTHING_KNOWN, advance
from game.coach.shown_marks import shown_marks
from tests.coach.coach_takes import PASSAGE, take


def after(*takes):
    state = NOTHING_KNOWN
    for one in takes:
        state, decision = advance(state, one)
    return [(mark.said.key, mark.earned, mark.new) for mark in shown_marks(state.records[PASSAGE.name], decision)]


def test_a_mark_is_new_after_the_take_that_earned_it_and_then_no_more():
    first = [("book.read", True, True), ("book.found", True, True)]
    assert after(take(sighting=1))[:2] == first
    assert after(take(sighting=1), take(sighting=2))[:2] == [(key, True, False) for key, *_ in first]


def test_bars_practised_until_they_are_clean_are_found_and_not_read():
    assert after(take(9, sighting=1), take(9, sighting=2), take(sighting=3))[:2] == [
        ("book.read", False, False),
        ("book.found", True, True),
    ]


def test_read_stands_first_and_the_marks_of_practice_follow_in_their_order():
    assert [key for key, *_ in after(take(bpm=60, sighting=5))] == [
        "book.read",
        "book.found",
        "book.in time",
        "book.signed off",
    ]
    _, decision = advance(NOTHING_KNOWN, take())
    assert not any(mark.earned for mark in shown_marks(None, decision)[:1])


def test_what_the_player_said_was_found_stays_pencil_until_it_is_heard():
    """Own-word takes stay pencil (design)."""

    def by_word(*takes):
        state = NOTHING_KNOWN
        for one in takes:
            state, decision = advance(state, one)
        shown = shown_marks(state.records[PASSAGE.name], decision)
        return [(mark.earned, mark.by_word) for mark in shown if mark.said.key == "book.found"]

    said, heard = take(self_marked=True), take(sighting=2)
    assert by_word(said) == [(True, True)]
    assert by_word(said, heard) == [(True, False)]
    assert by_word(heard, said) == [(True, False)]
