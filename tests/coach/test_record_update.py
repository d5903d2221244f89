"""What a take leaves in the record of its passage."""

from coach_takes import PASSAGE, take

from game.coach.coach import replayed
from game.coach.marks import Mark
from game.coach.records import due_passages


def signed_off():
    """A passage that was signed off on two mornings, the second of them day 2."""
    bpm = PASSAGE.target_bpm
    return [take(day=1, bpm=bpm), take(day=2, bpm=bpm)]


def test_a_signed_off_passage_comes_back_for_review_later_and_later():
    state = replayed(signed_off())
    assert Mark.SIGNED_OFF in state.records[PASSAGE.name].marks
    assert due_passages(state, 2) == ()
    first = next(day for day in range(3, 400) if due_passages(state, day))
    assert due_passages(state, first) == (PASSAGE.name,)
    state = replayed([take(day=first, bpm=PASSAGE.target_bpm)], state=state)
    assert due_passages(state, first) == ()
    second = next(day for day in range(first + 1, 400) if due_passages(state, day))
    assert second - first > first - 2


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
