"""How far a player has come, and what still waits for an answer."""

import pytest

from game.instrument.decoding.played import PlayedNote
from game.judging.expected import expected_notes
from game.judging.verdicts import NoteVerdict, Verdict
from game.neck.neck_map import standard_map
from game.practice.owed_notes import OwedNotes
from tests.made import passage

SOUNDINGS = (53, 55, 57, 58, 60, 62)
EXPECTED = expected_notes(passage("F4 q, G4 q, A4 q, Bb4 q", "C5 h, D5 h").notes, standard_map())


def played(n: int, at_s: float | None = None, sounding: int | None = None) -> PlayedNote:
    """Written note `n` as it should be, at second `n` unless another is given."""
    at_s = float(n) if at_s is None else at_s
    return PlayedNote(started_s=at_s, sounding=SOUNDINGS[n - 1] if sounding is None else sounding, place=None)


def answered(*numbers: int, **how) -> OwedNotes:
    """These notes answered, each right; `how` puts what else is to be so."""
    shown = {n: NoteVerdict(n=n, verdict=Verdict.CLEAN, answers=(played(n),)) for n in numbers}
    shown |= how.pop("instead", {})
    latest = how.pop("latest", played(numbers[-1]) if numbers else None)
    at = how.pop("reading_at", numbers[-1] if numbers else 0)
    return OwedNotes(expected=EXPECTED, shown=shown, latest=latest, reading_at=at, **{"pitch_counts": True, **how})


def test_the_farthest_answer_tells_which_note_is_owed_next_and_missed_notes_tell_nothing():
    assert (answered().answered, answered().next_at) == (0, 0)
    assert (answered(1, 2, 3).answered, answered(1, 2, 3).next_at) == (3, 3)
    missed = answered(1, 2, instead={n: NoteVerdict(n=n, verdict=Verdict.MISSED) for n in (3, 4)})
    assert missed.answered == 2
    assert answered(*range(1, 7)).next_at == 5, "of the last where none is owed"


def test_a_take_is_complete_when_the_last_four_were_right_one_after_another():
    assert answered(*range(1, 7)).complete_s == 6.0
    assert answered(3, 4, 5, 6).complete_s == 6.0
    assert answered(4, 5, 6).complete_s is None


@pytest.mark.parametrize(
    "instead",
    [
        {5: NoteVerdict(n=5, verdict=Verdict.WRONG_PITCH, answers=(played(5, sounding=61),))},
        {6: NoteVerdict(n=6, verdict=Verdict.CLEAN, answers=(played(6, 3.5),))},
    ],
    ids=["one of them wrong", "the last one before the others"],
)
def test_otherwise_a_last_note_that_was_right_may_be_a_chance(instead):
    assert answered(*range(1, 7), instead=instead).complete_s is None


def test_notes_are_owed_until_the_last_was_reached():
    assert answered().owed
    assert answered(1, 2, 3, 4).owed
    assert not answered(*range(1, 7)).owed


def test_who_went_back_owes_what_they_read_again_but_for_a_take_that_was_complete():
    wrong = {6: NoteVerdict(n=6, verdict=Verdict.WRONG_PITCH, answers=(played(6, sounding=61),))}
    assert not answered(*range(1, 7), instead=wrong).owed
    assert answered(*range(1, 7), instead=wrong, reading_at=4).owed
    assert not answered(*range(1, 7), reading_at=4).owed


@pytest.mark.parametrize(
    ("latest", "pitch_counts", "owed"),
    [
        (played(6, 9.0), True, False),
        (played(6, 9.0, sounding=61), True, True),
        (played(6, 9.0, sounding=61), False, False),
        (played(5), True, True),
    ],
    ids=["its pitch", "another pitch", "any pitch in the rhythm alone", "nothing since"],
)
def test_a_last_note_after_a_long_search_is_waited_for_until_it_may_have_come(latest, pitch_counts, owed):
    assert answered(1, 2, 3, 4, 5, latest=latest, pitch_counts=pitch_counts).owed is owed


def test_a_take_is_complete_though_some_of_its_last_notes_could_not_be_told():
    """Who has played the last note has nothing more to play, whether it was heard surely or not."""
    unsure = {n: NoteVerdict(n=n, verdict=Verdict.UNSURE, answers=(played(n, sounding=90),)) for n in (4, 6)}
    complete = answered(1, 2, 3, 5, instead=unsure, reading_at=5)
    assert (complete.complete_s, complete.owed) == (6.0, False)
