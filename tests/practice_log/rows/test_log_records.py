"""What a take in the log tells of itself."""

from dataclasses import replace
from datetime import UTC, datetime

from game.coach.stages import Stage
from game.instrument.sources.note_sources import PlayedOn
from game.neck.neck_map import standard_map
from game.practice_log.rows.log_records import InstrumentUsed, Sighting, Terms
from game.practice_log.rows.take_beginning import take_begun
from tests.made import passage
from tests.practice_log.logged_takes import PLAYER

MAP = standard_map()


def begun(row, asked_on):
    """A take of a row of notes, asked on a map, while that of the player is `MAP`."""
    return take_begun(
        passage(row),
        asked_on,
        Terms(stage=Stage.TIME),
        started_at=datetime(2026, 11, 30, 9, tzinfo=UTC),
        player=PLAYER,
        instrument=InstrumentUsed(name="test guitar", kind=PlayedOn.GUITAR),
        sighting=Sighting(),
    )


def test_notes_asked_without_the_homes_of_their_map_were_read_in_any_place():
    """As it is read out of the log: with the map of the player, whose homes stand nowhere but are made again."""
    assert replace(begun("C5 q, D5 q, E5 h", MAP.without_homes), neck_map=MAP).free_on == MAP


def test_a_take_at_the_homes_is_no_free_reading_though_a_note_has_none():
    assert begun("C5 q, D5 q, E6 h", MAP).free_on is None
    assert begun("E6 w", MAP).free_on is None
