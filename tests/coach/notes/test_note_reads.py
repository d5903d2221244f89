"""Only what was truly read is evidence about a note."""

from math import exp, isclose

import pytest

from game.coach.numbers import NUMBERS
from game.coach.stages import Stage
from game.judging.verdicts import Cause, Verdict
from tests.coach.judged_takes import after, by_name, judged

WRONG, CLEAN = Verdict.WRONG_PITCH, Verdict.CLEAN


def test_a_clean_take_counts_every_note_right_with_its_time():
    items = by_name(after(judged("F4 G4 A4", find_ms=[900.0, 500.0, 2000.0])))
    assert {name: item.right for name, item in items.items()} == {"F4": 1.0, "G4": 1.0, "A4": 1.0}
    assert isclose(exp(items["A4"].mean_log_s), 2.0)
    assert items["A4"].day == 1


@pytest.mark.parametrize(
    "changes",
    [
        {"sighting": 3},
        {"heard": True},
        {"known_by_ear": True},
        {"stage": Stage.RHYTHM},
        {"stage": Stage.LETTERS},
    ],
    ids=str,
)
def test_what_was_no_reading_changes_nothing(changes):
    assert after(judged("F4 G4", **changes)) == {}


def test_the_second_sighting_still_counts():
    assert by_name(after(judged("F4 G4"), judged("F4 G4", sighting=2)))["F4"].readings == 2


def test_hinted_and_unread_notes_tell_nothing():
    assert set(by_name(after(judged("F4 G4 A4", [CLEAN, Verdict.HINTED, Verdict.UNREAD])))) == {"F4"}


def test_the_first_note_a_repeated_one_and_one_after_a_pause_are_right_but_not_timed():
    items = by_name(after(judged("F4 G4 G4 A4 B4", find_ms=[900.0, 800.0, 100.0, 30_000.0, 700.0])))
    assert {name: item.timed > 0 for name, item in items.items()} == {"F4": False, "G4": True, "A4": False, "B4": True}
    assert items["G4"].readings == 2
    assert isclose(exp(items["G4"].mean_log_s), 0.8)


def test_a_wrong_note_that_was_put_right_is_not_timed():
    item = by_name(after(judged("F4 G4", [CLEAN, WRONG], cause=Cause.LEDGER)))["G4"]
    assert (item.wrong, item.timed, item.causes) == (1.0, 0.0, ((Cause.LEDGER, 1),))


def test_missed_notes_and_other_places_count_as_wrong():
    items = by_name(after(judged("F4 G4", [Verdict.MISSED, Verdict.OTHER_PLACE])))
    assert (items["F4"].wrong, items["F4"].strayed) == (1.0, 0)
    assert (items["G4"].wrong, items["G4"].strayed) == (1.0, 1)


def test_early_and_late_notes_were_found():
    items = by_name(after(judged("F4 G4", [Verdict.EARLY, Verdict.LATE], stage=Stage.TIME)))
    assert {item.right for item in items.values()} == {1.0}


@pytest.mark.parametrize("stage", [Stage.TIME, Stage.SIGHT])
def test_where_rhythm_was_asked_the_time_to_find_tells_nothing(stage):
    items = by_name(after(judged("F4 G4", stage=stage)))
    assert {item.timed for item in items.values()} == {0.0}


def test_a_take_marked_by_its_own_player_counts_half():
    item = by_name(after(judged("F4 G4", self_marked=True)))["G4"]
    assert (item.right, item.timed) == (NUMBERS.self_marked_trust, NUMBERS.self_marked_trust)


def test_a_note_without_a_home_is_left_out():
    assert set(by_name(after(judged("C2 F4")))) == {"F4"}


def test_a_time_too_short_to_be_a_search_is_held_at_the_shortest():
    item = by_name(after(judged("F4 G4", find_ms=1.0)))["G4"]
    assert isclose(exp(item.mean_log_s), NUMBERS.quickest_find_s)


def test_the_items_before_are_left_as_they_were():
    before = after(judged("F4 G4"))
    kept = dict(before)
    from game.coach.notes.note_reads import items_after, take_reads

    assert items_after(before, take_reads(judged("F4 A4", day=2))) != before
    assert before == kept


def test_a_judgement_of_other_notes_is_refused():
    take = judged("F4 G4")
    from dataclasses import replace

    with pytest.raises(ValueError, match="argument"):
        after(replace(take, expected=take.expected[:1]))
