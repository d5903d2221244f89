"""What goes into the log comes out of it, exactly."""

from datetime import timedelta
from fractions import Fraction

import pytest
from hypothesis import given
from hypothesis import strategies as st

from game.coach.stages import Pulse, Stage
from game.instrument.decoding.played import PlayedNote
from game.judging.letters import NamedNote
from game.judging.untimed import HintStep
from game.judging.verdicts import Cause, EventKind, Judgement, NoteVerdict, TakeEvent, Verdict
from game.music.meter import Meter
from game.music.names import Spelling
from game.music.passage import whole_tune
from game.music.score import Reading, Score
from game.neck.neck_map import standard_map
from game.neck.tuning import Place, Tuning
from game.practice_log.database.store import open_store
from game.practice_log.rows.judgement_rows import judgement_of, named_of, put_ending
from game.practice_log.rows.log_records import HelpGiven, NameGiven, Outcome, Sighting, Terms
from game.practice_log.rows.played_rows import put_help, put_name, put_played, raw_take
from game.practice_log.rows.take_rows import put_take, takes_where
from tests.made import bar
from tests.practice_log.logged_takes import DEVICE, MORNING, begun, ended, judged, notes_of

MS = st.floats(min_value=-1e5, max_value=1e5)
TIMES_S = st.integers(min_value=-(10**6), max_value=10**10).map(lambda at_us: at_us / 1_000_000)
PLACE = st.none() | st.builds(Place, st.integers(1, 6), st.integers(0, 30))
NOTE = st.builds(
    PlayedNote,
    started_s=TIMES_S,
    sounding=st.integers(0, 127),
    place=PLACE,
    velocity=st.integers(1, 127),
    source=st.text(max_size=8),
)
NOTES = st.lists(NOTE, max_size=12, unique_by=lambda note: note.started_s).map(tuple)
TERMS = st.builds(
    Terms,
    stage=st.sampled_from(Stage),
    pulse=st.sampled_from(Pulse),
    tempo_bpm=st.none() | st.floats(20, 400),
    beat_length=st.sampled_from([Fraction(1), Fraction(3, 2), Fraction(1, 2)]),
    swing=st.floats(1, 3),
    waits=st.booleans(),
    wants_home=st.booleans(),
    pitch_counts=st.booleans(),
    window_ms=st.none() | st.floats(1, 500),
    settling=st.booleans(),
    self_marked=st.booleans(),
)
SIGHTING = st.builds(Sighting, nth=st.integers(1, 99), heard=st.booleans(), known_by_ear=st.none() | st.booleans())
EVENT = st.builds(TakeEvent, kind=st.sampled_from(EventKind), n=st.none() | st.integers(1, 99), time_ms=MS)


@pytest.fixture(name="log", scope="module")
def in_memory():
    log = open_store(None, now_utc=MORNING)
    yield log
    log.close()


def back(log, number):
    (take,) = takes_where(log, "take.take = ?", (number,))
    return take


@given(terms=TERMS, sighting=SIGHTING, minutes=st.integers(0, 10**6))
def test_a_take_comes_back_as_it_began(log, terms, sighting, minutes):
    take = begun(terms, sighting=sighting, minutes=minutes)
    number = put_take(log, take, DEVICE)
    logged = back(log, number)
    assert logged.begun == take
    assert (logged.outcome, logged.judge, logged.ended_utc) == (None, None, None)


def test_pickup_bars_compound_metres_triplets_graces_ties_and_notes_off_the_map_come_back(log):
    bars = (
        bar("C5 e", number="0", meter=Meter(6, 8), pickup=True),
        bar("gD5 e, C5 q., A4 q ~, ~A4 e", number="1", meter=Meter(6, 8), key=3),
        bar("F#6 q., E4 q.", number="1a", meter=Meter(6, 8), key=3),
    )
    tune = whole_tune(Score(title="Élan & <Sel>", reading=Reading.GUITAR, bars=bars))
    take = begun(tune=tune)
    assert [note.home is None for note in take.asked.notes] == [False, False, False, True, False]
    assert take.asked.graces == {2: (62,)}
    number = put_take(log, take, DEVICE)
    assert back(log, number).begun == take


def test_a_map_of_the_players_own_comes_back(log):
    neck_map = standard_map(
        position=7,
        tuning=Tuning("drop-d", (64, 59, 55, 50, 45, 38)),
        frets=19,
        reading=Reading.CONCERT,
        choices={64: Place(1, 0)},
    )
    take = begun(neck_map=neck_map)
    number = put_take(log, take, DEVICE)
    assert back(log, number).begun.neck_map == neck_map


@given(notes=NOTES)
def test_played_notes_come_back_in_the_order_in_which_they_came(log, notes):
    number = put_take(log, begun(), DEVICE)
    for note in notes:
        put_played(log, number, note)
    assert raw_take(log, number).played == notes


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
    put_ending(log, number, ended(judgement))
    assert judgement_of(log, number) == judgement


def test_a_keyboards_answers_come_back_in_the_octave_in_which_they_were_judged(log):
    number = put_take(log, begun(), DEVICE)
    came = PlayedNote(started_s=1.5, sounding=65, place=None, source="keys")
    put_played(log, number, came)
    lowered = PlayedNote(started_s=1.5, sounding=53, place=None, source="keys")
    put_ending(log, number, ended(Judgement(verdicts=(NoteVerdict(n=1, verdict=Verdict.CLEAN, answers=(lowered,)),))))
    assert judgement_of(log, number).verdicts[0].answers == (lowered,)
    assert raw_take(log, number).played == (came,)


def test_an_answer_that_was_not_logged_as_it_came_is_logged_with_its_judgement(log):
    take = begun()
    number = put_take(log, take, DEVICE)
    played = notes_of(take)
    for note in played[:-1]:
        put_played(log, number, note)
    put_ending(log, number, ended(judged(take, played)))
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
    put_ending(log, number, ended(outcome=Outcome.BROKEN_OFF, named=named))
    assert named_of(log, number) == named
    raw = raw_take(log, number)
    assert (raw.names, raw.helped) == (names, (helped,))


def test_a_take_judged_again_keeps_both_judgements_and_the_later_one_stands(log):
    take = begun()
    number = put_take(log, take, DEVICE)
    first, second = judged(take, notes_of(take, wrong={2})), judged(take, notes_of(take))
    put_ending(log, number, ended(first, outcome=Outcome.CUT_SHORT))
    put_ending(log, number, ended(second, minutes=9))
    assert judgement_of(log, number) == second
    logged = back(log, number)
    assert (logged.outcome, logged.ended_utc) == (Outcome.FINISHED, MORNING + timedelta(minutes=9))
    (count,) = log.execute("SELECT count(*) FROM judgement WHERE take = ?", (number,)).fetchone()
    assert count == 2


def test_the_same_notes_asked_again_stand_in_the_log_once(log):
    def rows():
        return log.execute("SELECT (SELECT count(*) FROM asked_note), (SELECT count(*) FROM bars)").fetchone()

    put_take(log, begun(), DEVICE)
    before = rows()
    put_take(log, begun(minutes=30), DEVICE)
    assert rows() == before
