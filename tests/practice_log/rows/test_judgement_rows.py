"""Judgements, into the log and back."""

from datetime import timedelta

from hypothesis import given
from hypothesis import strategies as st

from game.coach.stages import Stage
from game.instrument.decoding.played import PlayedNote
from game.judging.letters import NamedNote
from game.judging.untimed import HintStep
from game.judging.verdicts import Cause, Judgement, NoteVerdict, Verdict
from game.music.names import Spelling
from game.practice_log.rows.judgement_rows import judgement_of, put_ending
from game.practice_log.rows.log_records import HelpGiven, NameGiven, Outcome, Terms
from game.practice_log.rows.played_rows import put_help, put_name, put_played, raw_take
from game.practice_log.rows.take_rows import put_take, takes_where
from tests.practice_log.logged_takes import DEVICE, MORNING, begun, ended, judged, notes_of
from tests.practice_log.read_back import named_of
from tests.practice_log.strategies import EVENT, MS, NOTES


def back(log, number):
    (take,) = takes_where(log, "take.take = ?", (number,))
    return take


@given(notes=NOTES, drawn=st.data())
def test_a_judgement_comes_back_with_what_answered_each_note(log, notes, drawn):
    number = put_take(log, begun(), DEVICE)
    for note in notes:
        put_played(log, number, note)
    cuts = sorted(drawn.draw(st.lists(st.integers(0, len(notes)), min_size=6, max_size=6)))
    verdicts = tuple(
        NoteVerdict(
            n=n,
            verdict=drawn.draw(st.sampled_from(Verdict)),
            answers=notes[start:stop],
            octave_off=drawn.draw(st.booleans()),
            cause=drawn.draw(st.none() | st.sampled_from(Cause)),
            offset_ms=drawn.draw(st.none() | MS),
            time_to_find_ms=drawn.draw(st.none() | MS),
        )
        for n, (start, stop) in enumerate(zip([0, *cuts], cuts, strict=False), start=1)
    )
    events = tuple(drawn.draw(st.lists(EVENT, max_size=3)))
    judgement = Judgement(verdicts=verdicts, extra=notes[cuts[-1] :], events=events)
    put_ending(log, number, ended(judgement), DEVICE)
    assert judgement_of(log, number) == judgement


def test_a_keyboards_answers_come_back_in_the_octave_in_which_they_were_judged(log):
    number = put_take(log, begun(), DEVICE)
    came = PlayedNote(started_s=1.5, sounding=65, place=None, source="keys")
    put_played(log, number, came)
    lowered = PlayedNote(started_s=1.5, sounding=53, place=None, source="keys")
    put_ending(
        log, number, ended(Judgement(verdicts=(NoteVerdict(n=1, verdict=Verdict.CLEAN, answers=(lowered,)),))), DEVICE
    )
    assert judgement_of(log, number).verdicts[0].answers == (lowered,)
    assert raw_take(log, number).played == (came,)


def test_an_answer_that_was_not_logged_as_it_came_is_logged_with_its_judgement(log):
    take = begun()
    number = put_take(log, take, DEVICE)
    played = notes_of(take)
    for note in played[:-1]:
        put_played(log, number, note)
    put_ending(log, number, ended(judged(take, played)), DEVICE)
    assert raw_take(log, number).played == played
    assert judgement_of(log, number) == judged(take, played)


def test_names_and_help_come_back_and_the_names_stand_with_their_notes(log):
    number = put_take(log, begun(Terms(stage=Stage.LETTERS)), DEVICE)
    names = (
        NameGiven(n=1, name=Spelling("G", 0), at_s=0.5),
        NameGiven(n=1, name=Spelling("F", 0), at_s=1.25),
        NameGiven(n=2, name=None, at_s=2.0, said_right=True),
    )
    for name in names:
        put_name(log, number, name)
    helped = HelpGiven(n=2, step=HintStep.LETTER, at_s=1.75)
    put_help(log, number, helped)
    named = (
        NamedNote(
            n=1,
            verdict=Verdict.WRONG_PITCH,
            given=(Spelling("G", 0), Spelling("F", 0)),
            cause=Cause.NEIGHBOUR,
            time_to_find_ms=1250.0,
        ),
        NamedNote(n=2, verdict=Verdict.CLEAN, self_marked=True),
        *(NamedNote(n=n, verdict=Verdict.UNREAD) for n in range(3, 7)),
    )
    put_ending(log, number, ended(outcome=Outcome.BROKEN_OFF, named=named), DEVICE)
    assert named_of(log, number) == named
    raw = raw_take(log, number)
    assert (raw.names, raw.helped) == (names, (helped,))


def test_a_take_judged_again_keeps_both_judgements_and_the_later_one_stands(log):
    take = begun()
    number = put_take(log, take, DEVICE)
    first, second = judged(take, notes_of(take, wrong={2})), judged(take, notes_of(take))
    put_ending(log, number, ended(first, outcome=Outcome.CUT_SHORT), DEVICE)
    put_ending(log, number, ended(second, minutes=9), DEVICE)
    assert judgement_of(log, number) == second
    logged = back(log, number)
    assert (logged.outcome, logged.ended_at) == (Outcome.FINISHED, MORNING + timedelta(minutes=9))
    (count,) = log.execute("SELECT count(*) FROM judgement WHERE take = ?", (number,)).fetchone()
    assert count == 2
