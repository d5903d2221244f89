"""What the coach remembers."""

from game.coach.coach import replayed
from game.coach.events import PassageFacts
from game.coach.marks import Mark
from game.coach.records import CoachState, PassageRecord, Tally, due_passages
from game.coach.stages import Pulse, Stage
from tests.coach.coach_takes import PASSAGE, take


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


def test_the_least_remembered_passage_comes_first():
    """The one signed off later is the better remembered."""
    early = replayed(signed_off())
    late = replayed(
        [take(day=day, bpm=PASSAGE.target_bpm, passage=PassageFacts(name="weir", target_bpm=96)) for day in (5, 6)],
        state=early,
    )
    assert due_passages(late, 400) == (PASSAGE.name, "weir")
    assert due_passages(CoachState(), 400) == ()


def test_only_pitch_and_rhythm_with_the_metronome_is_a_climb():
    climbing = {
        (stage, pulse)
        for stage in Stage
        for pulse in Pulse
        if PassageRecord(facts=PASSAGE, stage=stage, pulse=pulse).climbing
    }
    assert climbing == {(Stage.TIME, Pulse.METRONOME)}


def test_tallies_add_up():
    assert Tally(3, 4).plus(1.5, 2) == Tally(4.5, 6)
