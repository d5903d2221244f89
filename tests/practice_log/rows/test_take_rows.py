"""Takes as they begin, into the log and back."""

from dataclasses import replace

from hypothesis import given
from hypothesis import strategies as st

from game.music.meter import Meter
from game.music.passage import whole_tune
from game.music.score import Reading, Score
from game.neck.neck_map import standard_map
from game.neck.tuning import Place, Tuning
from game.practice_log.rows.log_records import Sighting
from game.practice_log.rows.take_rows import put_take, takes_where
from tests.made import bar
from tests.practice_log.logged_takes import DEVICE, begun
from tests.practice_log.strategies import SIGHTING, TERMS


def back(log, number):
    (take,) = takes_where(log, "take.take = ?", (number,))
    return take


@given(
    terms=TERMS, minutes=st.integers(0, 10**6), tune=st.none() | st.text("0123456789abcdef", min_size=32, max_size=32)
)
def test_a_take_comes_back_as_it_began(log, terms, minutes, tune):
    take = replace(begun(terms, minutes=minutes), tune=tune)
    number = put_take(log, take, DEVICE)
    logged = back(log, number)
    assert logged.begun == take
    assert (logged.outcome, logged.judge, logged.ended_at) == (None, None, None)


@given(sighting=SIGHTING)
def test_a_take_does_not_say_of_itself_how_often_its_bars_were_met(log, sighting):
    """It is folded from all takes: what is true on one computer is not when those of another come in."""
    number = put_take(log, begun(sighting=sighting), DEVICE)
    assert back(log, number).begun.sighting == Sighting()


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
