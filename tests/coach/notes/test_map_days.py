"""Days on a map: what was right at first sight at the pace of a fluent map, and how long notes took to be found."""

from math import log

import pytest

from game.coach.notes.map_days import MapDay, PacedNote, is_at_pace, map_days_after
from game.coach.notes.map_identity import map_key
from game.coach.notes.mastery import Mastery, mastery_after
from game.coach.notes.note_reads import JudgedTake, day_on_map, take_reads
from game.coach.numbers import NUMBERS
from game.coach.stages import Stage
from game.judging.expected import expected_notes
from game.judging.verdicts import Judgement, NoteVerdict, Verdict
from game.neck.neck_map import standard_map
from tests.coach.judged_takes import MAP, judged
from tests.made import passage

EIGHTHS = ("F4 e, G4 e, A4 e, Bb4 e, C5 q, A4 q", "G4 e, F4 e, G4 e, A4 e, F4 h")
QUARTERS = ("F4 q, G4 q, A4 q, Bb4 q", "C5 q, A4 q, F4 h")


def sight(rows=EIGHTHS, *, bpm=60.0, wrong=(), neck_map=MAP, **changes):
    """Music met for the first time, played evenly at so many quarter notes a minute."""
    notes = expected_notes(passage(*rows, key=-1).notes, neck_map)
    verdicts, before = [], None
    for note in notes:
        since = None if before is None else float(note.note.onset - before) * 60_000 / bpm
        verdict = Verdict.WRONG_PITCH if note.n in wrong else Verdict.CLEAN
        verdicts.append(NoteVerdict(n=note.n, verdict=verdict, time_to_find_ms=since))
        before = note.note.onset
    changes = {"stage": Stage.SIGHT, "day": 1} | changes
    return JudgedTake(judgement=Judgement(verdicts=tuple(verdicts)), expected=notes, neck_map=neck_map, **changes)


@pytest.mark.parametrize(("bpm", "at_pace"), [(40.0, False), (55.0, False), (58.0, True), (60.0, True), (96.0, True)])
def test_music_is_at_the_pace_of_a_fluent_map_when_its_quarters_go_at_sixty(bpm, at_pace):
    assert take_reads(sight(bpm=bpm)).at_pace is at_pace


def test_music_without_eighths_is_not_at_that_pace_however_fast_it_goes():
    assert not take_reads(sight(QUARTERS, bpm=100.0)).at_pace


def test_only_the_first_sighting_in_time_counts_and_nothing_heard_or_known_by_ear():
    assert take_reads(sight(stage=Stage.TIME)).at_pace
    for changes in ({"sighting": 2}, {"heard": True}, {"known_by_ear": True}, {"stage": Stage.PLACES}):
        assert not day_on_map(take_reads(sight(**changes))).asked


def test_a_wrong_note_or_one_left_out_does_not_change_the_pace():
    assert take_reads(sight(wrong={2, 3, 7})).at_pace


def test_nothing_answered_is_no_pace():
    assert not is_at_pace([PacedNote(None, None, False), PacedNote(0.5, None, False), PacedNote(0.5, None, False)])


def test_a_day_counts_what_was_right_of_what_was_asked_and_the_times_of_notes_found():
    mastery = mastery_after(Mastery(), take_reads(sight(wrong={3})))
    mastery = mastery_after(mastery, take_reads(judged("F4 G4 A4", find_ms=800.0)))
    ((key, (day,)),) = mastery.map_days.items()
    assert key == map_key(MAP)
    assert (day.day, day.asked, day.right) == (1, 11, 10)
    assert day.found == 2
    assert day.log_s == pytest.approx(2 * log(0.8))
    assert day.squares == pytest.approx(2 * log(0.8) ** 2)


def test_what_players_mark_themselves_adds_nothing_to_a_day():
    assert day_on_map(take_reads(sight(self_marked=True))) == MapDay(1)


def test_each_map_has_days_of_its_own_and_only_the_newest_are_kept():
    days = {}
    for day in range(1, NUMBERS.map_days_kept + 6):
        days = map_days_after(days, "V", MapDay(day, asked=20, right=20))
    days = map_days_after(days, "IX", MapDay(3, found=4, log_s=1.0))
    assert [len(of_map) for of_map in days.values()] == [NUMBERS.map_days_kept, 1]
    assert days["V"][-1].day == NUMBERS.map_days_kept + 5


def test_a_day_on_which_places_were_not_told_says_so():
    days = map_days_after({}, "V", MapDay(1, asked=20, right=20, placed=True))
    days = map_days_after(days, "V", MapDay(1, found=3, log_s=0.0, placed=False))
    assert days["V"][0].placed, "only what was read at first sight counts for it"
    days = map_days_after(days, "V", MapDay(1, asked=5, right=5, placed=False))
    assert not days["V"][0].placed


def test_a_joined_map_and_the_map_of_its_lower_region_have_days_apart():
    moved = standard_map(choices=dict(standard_map(position=9).places))
    mastery = mastery_after(Mastery(), take_reads(sight()))
    mastery = mastery_after(mastery, take_reads(sight(neck_map=moved)))
    assert len(mastery.map_days) == 2
