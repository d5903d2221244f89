"""A take that was cut short is judged as it would have been at its end."""

from dataclasses import replace
from random import Random

import pytest

from game.coach.stages import Pulse, Stage
from game.instrument.decoding.played import PlayedNote
from game.instrument.sources.note_sources import PlayedOn
from game.judging.free import judge_free
from game.judging.timed import judge_timed
from game.judging.timed_verdict import TimedRules
from game.judging.tolerance import timed_grid
from game.judging.untimed import HintStep, UntimedRules, begin, finish, hear, hint
from game.judging.verdicts import Verdict
from game.music.names import Spelling
from game.practice_log.rows.log_records import HelpGiven, NameGiven, Outcome, RawTake, Terms
from game.practice_log.writing.cut_short import ending_of, judged_again, named_again
from tests.practice_log.logged_takes import MORNING, begun, judged, notes_of


def words(verdicts):
    return [verdict.verdict.value for verdict in verdicts]


def in_time(take, quarter_s, *, off_s=0.0, chance=None):
    return tuple(
        PlayedNote(
            started_s=float(note.note.onset) * quarter_s + off_s + (chance.gauss(0, 0.02) if chance else 0.0),
            sounding=note.sounding,
            place=note.home.place,
        )
        for note in take.asked.notes
    )


def test_an_untimed_take_is_judged_as_far_as_it_went():
    take = begun()
    played = notes_of(take, wrong={2})[:4]
    judgement = judged_again(take, RawTake(played=played))
    assert judgement == judged(take, played)
    assert words(judgement.verdicts) == ["clean", "wrong pitch", "clean", "unread", "unread", "unread"]


@pytest.mark.parametrize("waits", [True, False])
def test_help_is_remembered_at_its_time_whether_the_page_waits_or_not(waits):
    take = begun(Terms(stage=Stage.PLACES, waits=waits))
    played = notes_of(take)
    state = begin(take.asked.notes, now_s=0.0, rules=UntimedRules(waits=waits))
    for index, note in enumerate(played[:4]):
        if index == 2:
            state = hint(state, HintStep.LETTER)
        state, _ = hear(state, note)
    raw = RawTake(played=played[:4], helped=(HelpGiven(n=3, step=HintStep.LETTER, at_s=2.5),))
    assert judged_again(take, raw) == finish(state)
    assert words(judged_again(take, raw).verdicts)[2] == "hinted"


def test_a_timed_take_is_judged_under_its_tempo_beat_swing_and_window():
    terms = Terms(stage=Stage.TIME, pulse=Pulse.METRONOME, tempo_bpm=60.0, swing=1.6, window_ms=40.0)
    take = begun(terms)
    played = in_time(take, 1.0, off_s=0.05)
    grid = timed_grid(
        [note.note for note in take.asked.notes], tempo_bpm=60, spans=take.asked.spans, swing=1.6, window_ms=40.0
    )
    again = judged_again(take, RawTake(played=played))
    assert again == judge_timed(take.asked.notes, played, grid)
    assert words(again.verdicts) == ["late"] * 6


def test_notes_due_after_the_program_was_killed_are_unread_not_missed():
    take = begun(Terms(stage=Stage.TIME, pulse=Pulse.METRONOME, tempo_bpm=60.0))
    again = judged_again(take, RawTake(played=in_time(take, 1.0)[:4]))
    assert words(again.verdicts) == ["clean"] * 4 + ["unread"] * 2


def test_a_take_in_free_time_is_judged_by_its_own_pulse():
    take = begun(Terms(stage=Stage.TIME))
    played = in_time(take, 0.8, off_s=3.0, chance=Random(3))
    rules = TimedRules(ended_s=played[-1].started_s)
    expected = judge_free(take.asked.notes, played, rules, spans=take.asked.spans).judgement
    assert judged_again(take, RawTake(played=played)) == expected
    assert words(expected.verdicts) == ["clean"] * 6


def test_the_rhythm_alone_is_judged_on_any_note():
    take = begun(Terms(stage=Stage.RHYTHM, pulse=Pulse.METRONOME, tempo_bpm=60.0, pitch_counts=False))
    played = tuple(PlayedNote(started_s=note.started_s, sounding=60, place=None) for note in in_time(take, 1.0))
    assert words(judged_again(take, RawTake(played=played)).verdicts) == ["clean"] * 6


def test_a_keyboard_played_an_octave_up_is_understood():
    take = begun()
    played = tuple(
        PlayedNote(started_s=note.started_s, sounding=note.sounding + 12, place=None) for note in notes_of(take)
    )
    assert words(judged_again(take, RawTake(played=played)).verdicts) == ["clean"] * 6


def test_a_take_in_which_nothing_was_played_is_unread_throughout():
    for terms in (
        Terms(stage=Stage.PLACES),
        Terms(stage=Stage.TIME),
        Terms(stage=Stage.TIME, pulse=Pulse.METRONOME, tempo_bpm=90.0),
    ):
        judgement = judged_again(begun(terms), RawTake(played=()))
        assert {verdict.verdict for verdict in judgement.verdicts} == {Verdict.UNREAD}, terms


def test_names_are_judged_as_they_were_given_said_or_revealed():
    take = begun(Terms(stage=Stage.LETTERS))
    raw = RawTake(
        played=(),
        names=(
            NameGiven(n=1, name=Spelling("E", 0), at_s=1.0),
            NameGiven(n=1, name=Spelling("F", 0), at_s=2.0),
            NameGiven(n=2, name=None, at_s=3.0, said_right=True),
            NameGiven(n=3, name=Spelling("A", 0), at_s=4.5),
        ),
        helped=(HelpGiven(n=3, step=HintStep.LETTER, at_s=4.0),),
    )
    named = named_again(take, raw)
    assert words(named) == ["wrong pitch", "clean", "hinted", "unread", "unread", "unread"]
    assert named[0].given == (Spelling("E", 0), Spelling("F", 0))
    assert [note.self_marked for note in named[:3]] == [False, True, False]
    assert named[2].time_to_find_ms == 1500.0


def test_its_ending_says_that_it_was_cut_short():
    ending = ending_of(begun(), RawTake(played=notes_of(begun())[:2]), ended_at=MORNING)
    assert (ending.outcome, ending.named) == (Outcome.CUT_SHORT, ())
    assert words(ending.judgement.verdicts)[:3] == ["clean", "clean", "unread"]
    letters = ending_of(begun(Terms(stage=Stage.LETTERS)), RawTake(played=()), ended_at=MORNING)
    assert (letters.judgement, len(letters.named)) == (None, 6)


def test_a_guitar_that_was_heard_is_taken_where_it_sounded():
    take = begun()
    take = replace(take, instrument=replace(take.instrument, kind=PlayedOn.HEARD))
    played = tuple(
        PlayedNote(started_s=note.started_s, sounding=note.sounding + 12, place=None) for note in notes_of(take)
    )
    assert words(judged_again(take, RawTake(played=played)).verdicts)[0] == "wrong pitch"
