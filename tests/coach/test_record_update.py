"""What a take leaves in the record of its passage."""

from game.coach.coach import replayed
from game.coach.events import PassageOpened
from game.coach.records import due_passages
from tests.coach.coach_takes import PASSAGE, take


def signed_off():
    """A passage that was signed off on two mornings, the second of them day 2."""
    bpm = PASSAGE.target_bpm
    return [take(day=1, bpm=bpm), take(day=2, bpm=bpm)]


def test_a_passage_that_failed_its_review_comes_back_soon():
    state = replayed(signed_off())
    due = next(day for day in range(3, 400) if due_passages(state, day))
    failed = replayed([take(20, day=due, bpm=PASSAGE.target_bpm - 20)], state=state)
    passed = replayed([take(day=due, bpm=PASSAGE.target_bpm)], state=state)
    assert due_passages(failed, due + 2) == (PASSAGE.name,)
    assert due_passages(passed, due + 2) == ()


def test_only_the_first_take_of_the_day_rates_a_signed_off_passage():
    state = replayed(signed_off())
    due = next(day for day in range(3, 400) if due_passages(state, day))
    once = replayed([take(day=due, bpm=PASSAGE.target_bpm)], state=state)
    again = replayed([take(20, day=due, bpm=PASSAGE.target_bpm - 20)], state=once)
    assert again.records[PASSAGE.name].review == once.records[PASSAGE.name].review


def test_whoever_plays_slowly_for_once_has_not_lost_what_they_held():
    state = replayed([take(bpm=90), take(bpm=50), take(bpm=50, stops=1)])
    assert state.records[PASSAGE.name].held_bpm == 90
    reopened = replayed([PassageOpened(passage=PASSAGE, day=2)], state=state).decision
    assert reopened.tempo_bpm > 80
