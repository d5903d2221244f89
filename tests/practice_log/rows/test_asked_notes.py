"""The notes asked for, into the log and back."""

from dataclasses import replace

from game.neck.neck_map import standard_map
from game.practice_log.rows.asked_notes import asked_of, put_asked
from game.practice_log.rows.take_beginning import asked_in
from game.practice_log.rows.take_rows import put_take
from tests.made import passage
from tests.practice_log.logged_takes import DEVICE, MAP, begun


def test_the_same_notes_asked_again_stand_in_the_log_once(log):
    def rows():
        return log.execute("SELECT (SELECT count(*) FROM asked_note), (SELECT count(*) FROM bars)").fetchone()

    put_take(log, begun(), DEVICE)
    before = rows()
    put_take(log, begun(minutes=30), DEVICE)
    assert rows() == before


def test_notes_come_back_with_homes_accidentals_ties_graces_and_bars(log):
    tune = passage("gG4 e, F#4 q, F4 q, r q, C7 q ~", "~C7 h, Bb4 h", key=-1)
    asked = asked_in(tune, MAP)
    assert {note.home is None for note in asked.notes} == {True, False}
    assert asked.graces
    assert asked_of(log, put_asked(log, asked)) == asked


def test_notes_that_differ_in_anything_that_is_judged_stand_apart(log):
    plain = asked_in(passage("F4 h, G4 h"), MAP)
    numbers = [
        put_asked(log, asked)
        for asked in (
            plain,
            asked_in(passage("F4 h, G4 q, r q"), MAP),
            asked_in(passage("F4 h, G4 h"), standard_map(position=9)),
            replace(plain, graces={1: (57,)}),
            replace(plain, spans=()),
        )
    ]
    assert len(set(numbers)) == len(numbers)
