"""Ink is earned: found quickly, unhelped, on two days, other notes between, and once inside music."""

import pytest

from game.coach.notes.ink import InkRecord, ink_after
from game.coach.notes.note_reads import take_reads
from game.coach.stages import Stage
from game.judging.verdicts import Verdict
from game.neck.tuning import Place
from tests.coach.judged_takes import MAP, judged

TUNE = "C4 G4 E4 G4"
"""The G comes twice; the C is the first note, whose search nobody can time."""


def inked(*takes):
    """The names of the notes in ink after some takes."""
    return {key.written for key, record in folded(*takes).items() if record.inked_day is not None}


def folded(*takes):
    inks = {}
    for take in takes:
        inks = ink_after(inks, take_reads(take))
    return inks


def on(day, row=TUNE, **changes):
    return judged(row, day=day, minute=changes.pop("minute", 1200), **changes)


def test_three_quick_finds_on_two_days_make_ink_and_nothing_less_does():
    assert inked(on(1)) == set()
    assert inked(on(1), on(1, sighting=2)) == set()
    assert inked(on(1), on(2, sighting=2)) == {"G4"}
    assert folded(on(1), on(2))[next(key for key in folded(on(1)) if key.written == "G4")].inked_day == 2


@pytest.mark.parametrize(
    "spoiled",
    [
        {"find_ms": 1501.0},
        {"verdicts": [Verdict.HINTED] * 4},
        {"verdicts": [Verdict.WRONG_PITCH] * 4},
        {"verdicts": [Verdict.OTHER_PLACE] * 4},
        {"self_marked": True},
        {"heard": True},
        {"known_by_ear": True},
        {"sighting": 3},
        {"stage": Stage.LETTERS},
        {"row": "G4 G4 G4 G4"},
    ],
)
def test_no_find_counts_that_was_slow_helped_wrong_repeated_or_known_before(spoiled):
    """The second day brings nothing that counts, whatever else it was."""
    assert inked(on(1), on(1, sighting=2), on(2, **spoiled)) == set()


def test_what_was_shown_or_read_wrong_is_met_and_stays_pencil():
    takes = on(1, verdicts=[Verdict.HINTED, Verdict.WRONG_PITCH, Verdict.MISSED, Verdict.UNREAD])
    assert {key.written: record for key, record in folded(takes).items()} == {
        "C4": InkRecord(), "G4": InkRecord(), "E4": InkRecord()
    }  # fmt: skip


def test_a_drill_of_single_notes_alone_never_inks_and_one_find_in_music_does():
    drills = [on(day, drill=True) for day in range(1, 9)]
    assert inked(*drills) == set()
    assert inked(*drills, on(9)) == {"G4", "E4"}
    assert inked(on(0), *drills[:2]) == {"G4", "E4"}


def test_both_sides_of_midnight_are_one_evening_and_the_next_evening_is_another():
    late, after_midnight = on(1, minute=1430), on(2, minute=10, sighting=2)
    assert inked(late, after_midnight) == set()
    assert inked(late, after_midnight, on(2, minute=1200, row="A4 G4")) == {"G4"}


def test_with_rhythm_a_note_that_comes_in_time_so_soon_after_the_one_before_is_found_as_quickly():
    timed = {"stage": Stage.SIGHT, "find_ms": 1000.0}
    assert inked(on(1, **timed), on(2, sighting=2, **timed)) == {"G4"}
    slowly = {"stage": Stage.SIGHT, "find_ms": 2000.0}
    assert inked(on(1, **slowly), on(2, sighting=2, **slowly)) == set()


def test_ink_is_never_taken_away():
    yours = folded(on(1), on(2))
    wrong = take_reads(on(3, verdicts=[Verdict.WRONG_PITCH] * 4))
    assert ink_after(yours, wrong) == yours
    assert ink_after(yours, wrong) is yours


def test_every_spelling_and_every_home_is_a_note_of_its_own():
    flats, sharps = "C4 Gb4 E4 Gb4", "C4 F#4 E4 F#4"
    assert inked(on(1, flats), on(2, flats), on(2, sharps)) - {"E4"} == {"Gb4"}
    assert inked(on(1, sharps), on(2, sharps, key=1)) == {"F#4"}, "shown by a sign or by the signature: one spelling"
    elsewhere = MAP.with_choice(Place(3, 0))
    assert inked(on(1), on(2, neck_map=elsewhere)) == set()
    assert inked(on(1), on(1, sighting=2), on(2, neck_map=elsewhere), on(3)) == {"G4", "E4"}


def test_old_takes_have_no_time_of_day_and_count_by_their_days():
    assert inked(on(1, minute=0), on(2, minute=0)) == {"G4"}
