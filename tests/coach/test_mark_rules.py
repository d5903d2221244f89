"""Which marks a take earns."""

from dataclasses import replace

import pytest

from game.coach.events import PassageFacts
from game.coach.mark_rules import is_found, is_in_time, is_read, sign_off, wrong_let_pass
from game.coach.stages import Stage
from tests.coach.coach_takes import PASSAGE, take


def test_found_is_every_note_at_its_home_without_a_clock():
    assert is_found(take())
    assert not is_found(take(1))
    assert not is_found(take(unread=1))
    assert not is_found(take(bpm=60, stage=Stage.PLACES)), "a note a click"
    assert not is_found(take(bpm=60))
    assert not is_found(replace(take(1), other_place_notes=frozenset({1}), wrong_notes=frozenset()))


def test_in_time_is_a_clean_take_at_any_tempo_from_30():
    """Right and in time both: 29 of 32."""
    assert is_in_time(take(3, bpm=50))
    assert not is_in_time(take(4, bpm=50)), "0.875 is not clean"
    assert is_in_time(take(bpm=30))
    assert not is_in_time(take(bpm=29))
    assert not is_in_time(take(stage=Stage.TIME)), "no metronome"
    assert not is_in_time(take(bpm=60, stops=1))
    assert is_in_time(take(bpm=60, off_time=3))
    assert not is_in_time(take(bpm=60, off_time=4)), "all right, and 28 in time"
    assert not is_in_time(take(2, bpm=60, off_time=2)), "28 right and in time"


def test_of_fewer_than_eight_notes_every_one_must_be_in_time():
    assert is_in_time(take(notes=7, bpm=60))
    assert not is_in_time(take(notes=7, bpm=60, off_time=1))
    assert not is_in_time(take(1, notes=7, bpm=60))
    assert is_in_time(take(notes=8, bpm=60, off_time=1))


@pytest.mark.parametrize(("notes", "wrong"), [(8, 1), (19, 1), (20, 1), (32, 1), (40, 2), (59, 2), (60, 3)])
def test_the_wrong_notes_let_pass_are_one_below_twenty_and_one_in_twenty_above(notes, wrong):
    assert wrong_let_pass(notes) == wrong


def test_a_sign_off_wants_the_days_first_take_at_the_target_clean_and_without_a_stop():
    good = take(1, bpm=96)
    assert sign_off(good, first_today=True) is not None
    assert sign_off(good, first_today=False) is None
    spoilt = [take(1, bpm=95), take(2, bpm=96), take(bpm=96, stops=1), take(bpm=96, restarts=1), take(bpm=96, unread=1)]
    spoilt += [take(bpm=96, off_time=4), take(1, bpm=96, off_time=3), take(bpm=96, off_time=32)]
    assert not any(sign_off(each, first_today=True) for each in spoilt)
    assert sign_off(take(bpm=96, off_time=3), first_today=True) is not None


def test_a_sign_off_under_a_slower_target_that_was_set_wants_the_players_own():
    set_slower = PassageFacts(name="passage", target_bpm=60, sign_off_bpm=96)
    for bpm, signs in ((60, False), (95, False), (96, True)):
        assert (sign_off(replace(take(bpm=bpm), passage=set_slower), first_today=True) is not None) is signs


def test_a_sign_off_is_of_eight_notes_at_least():
    assert sign_off(take(notes=7, bpm=96), first_today=True) is None
    assert sign_off(take(notes=8, bpm=96), first_today=True) is not None
    assert sign_off(take(1, notes=8, bpm=96, off_time=1), first_today=True) is None, "one wrong and one late"


def test_without_a_target_tempo_nothing_is_signed_off():
    assert sign_off(take(bpm=200, passage=replace(PASSAGE, target_bpm=None)), first_today=True) is None


@pytest.mark.parametrize("sighting", [1, 2])
@pytest.mark.parametrize("stage", [Stage.PLACES, Stage.SIGHT, Stage.TIME])
def test_bars_right_at_their_first_or_second_sighting_are_read(stage, sighting):
    assert is_read(take(stage=stage, sighting=sighting))
    assert is_read(take(3, stage=stage, sighting=sighting)), "29 of 32 are a clean take's notes"
    assert not is_read(take(4, stage=stage, sighting=sighting))


@pytest.mark.parametrize(
    "unlike_reading",
    [
        {"sighting": 3},
        {"heard": True},
        {"known_by_ear": True},
        {"self_marked": True},
        {"unread": 1},
        {"stage": Stage.LETTERS},
        {"stage": Stage.RHYTHM},
    ],
    ids=lambda changes: next(iter(changes)),
)
def test_what_was_met_before_heard_or_not_played_to_the_end_is_not_read(unlike_reading):
    assert is_read(take(sighting=1))
    assert not is_read(take(**{"sighting": 1} | unlike_reading))


def test_with_little_to_read_every_note_must_be_right():
    assert is_read(take(notes=7, sighting=1))
    assert not is_read(take(1, notes=7, sighting=1))
