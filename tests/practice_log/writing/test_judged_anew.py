"""What a judge of today makes of takes that an older one judged, and which it leaves as they are."""

from dataclasses import replace
from random import Random

import pytest

from game.coach.stages import Pulse, Stage
from game.judging.free import judge_free
from game.judging.timed import judge_timed
from game.judging.timed_verdict import TimedRules
from game.judging.tolerance import timed_grid
from game.judging.verdicts import Cause, EventKind, Judgement, TakeEvent, Verdict
from game.practice_log.rows.log_records import RawTake, Terms
from game.practice_log.writing.judged_anew import LeftAsItWas, judged_anew, say_the_same
from tests.practice_log.logged_takes import begun, judged, notes_of
from tests.practice_log.old_takes import in_time_take, old_judgement, played_by


def words(judgement):
    return [verdict.verdict.value for verdict in judgement.verdicts]


def on_the_click(take, played, ended_s=None):
    notes, terms = take.asked.notes, take.terms
    grid = timed_grid([note.note for note in notes], tempo_bpm=terms.tempo_bpm, spans=take.asked.spans)
    return judge_timed(notes, played, grid, TimedRules(ended_s=ended_s))


def test_notes_that_an_old_judge_called_wrong_where_a_player_ran_ahead_are_right():
    take = in_time_take()
    played = played_by(take, faster=0.03)
    now = judged_anew(take, RawTake(played=played), old_judgement(take, played))
    assert set(words(now)) <= {"clean", "early"}
    assert EventKind.RAN_AHEAD in {event.kind for event in now.events}


@pytest.mark.parametrize("count", [64, 63, 40, 21, 3])
def test_a_take_that_is_told_the_same_is_left_as_it_was_wherever_the_player_ended_it(count):
    take = in_time_take()
    rng = Random(count)
    played = tuple(
        replace(note, started_s=round(note.started_s + rng.gauss(0.0, 0.012), 6)) for note in played_by(take)[:count]
    )
    # The player pressed a key some notes later, before which those notes were due and missed.
    ended_s = None if count >= 63 else played[-1].started_s + 1.6
    before = on_the_click(take, played, ended_s)
    assert judged_anew(take, RawTake(played=played), before) is LeftAsItWas.SAME


def test_in_free_time_what_is_told_the_same_is_left_as_it_was():
    take = in_time_take(terms=Terms(stage=Stage.TIME))
    played = played_by(take)
    before = judge_free(take.asked.notes, played, TimedRules(), spans=take.asked.spans).judgement
    assert judged_anew(take, RawTake(played=played), before) is LeftAsItWas.SAME


def test_where_the_page_waited_only_causes_are_told_anew():
    """A hand that lay a fret too high: the old judge looked at each note alone."""
    take = begun()
    played = notes_of(take, wrong={1, 2, 3})
    true = judged(take, played)
    old = replace(
        true, verdicts=tuple(replace(one, cause=one.cause and Cause.UNKNOWN, offset_ms=3.0) for one in true.verdicts)
    )
    now = judged_anew(take, RawTake(played=played), old)
    assert [one.cause for one in now.verdicts] == [one.cause for one in true.verdicts]
    assert [replace(one, cause=None) for one in now.verdicts] == [replace(one, cause=None) for one in old.verdicts]
    assert judged_anew(take, RawTake(played=played), true) is LeftAsItWas.SAME


def test_where_each_note_had_a_click_it_counts_when_they_came_and_not_their_rhythm():
    take = begun(Terms(stage=Stage.PLACES, pulse=Pulse.METRONOME, tempo_bpm=60.0))
    played = tuple(replace(note, started_s=note.started_s - 1.0) for note in notes_of(take))
    now = judged_anew(take, RawTake(played=played), old_judgement(take, played))
    assert words(now) == ["clean"] * 6
    assert [round(one.offset_ms) for one in now.verdicts] == [0] * 6


def test_what_nobody_heard_is_left_as_the_player_marked_it():
    before = old_judgement(begun(), notes_of(begun()))
    for terms in (Terms(stage=Stage.PLACES, self_marked=True), Terms(stage=Stage.LETTERS)):
        raw = RawTake(played=notes_of(begun()))
        assert judged_anew(begun(terms), raw, before) is LeftAsItWas.NOT_HEARD


def test_without_played_notes_or_with_verdicts_of_other_notes_nothing_can_be_judged():
    take = in_time_take()
    played = played_by(take)
    before = old_judgement(take, played)
    assert judged_anew(take, RawTake(played=()), before) is LeftAsItWas.NOTHING_PLAYED
    longer = replace(before, verdicts=(*before.verdicts, replace(before.verdicts[-1], n=65)))
    assert judged_anew(take, RawTake(played=played), longer) is LeftAsItWas.DAMAGED
    assert judged_anew(take, RawTake(played=played), Judgement(verdicts=())) is LeftAsItWas.DAMAGED


def test_a_take_in_which_the_player_went_back_is_left_for_what_came_before_is_no_part_of_it():
    take = in_time_take()
    played = played_by(take)
    again = (*played[:30], *played[16:])
    assert judged_anew(take, RawTake(played=again), old_judgement(take, played)) is LeftAsItWas.WENT_BACK
    # Back to bar 3, and no note came any more.
    before = old_judgement(take, played[:16])
    before = replace(before, events=(TakeEvent(kind=EventKind.RESTART, n=17, time_ms=15_000.0),))
    assert judged_anew(take, RawTake(played=played[:30]), before) is LeftAsItWas.WENT_BACK


def test_times_that_differ_by_less_than_a_millisecond_say_the_same():
    take = in_time_take()
    before = on_the_click(take, played_by(take))
    first = before.verdicts[0]

    def changed(**how):
        return replace(before, verdicts=(replace(first, **how), *before.verdicts[1:]))

    assert say_the_same(before, changed(offset_ms=first.offset_ms + 0.4))
    assert not say_the_same(before, changed(offset_ms=first.offset_ms + 2.0))
    assert not say_the_same(before, changed(offset_ms=None))
    assert not say_the_same(before, changed(verdict=Verdict.LATE))
    assert not say_the_same(before, changed(answers=()))
    assert not say_the_same(before, replace(before, events=(TakeEvent(kind=EventKind.STOP, n=2, time_ms=1.0),)))
    assert not say_the_same(before, replace(before, extra=first.answers))
