"""A player at the desk, and takes that they play, for the tests of sessions."""

import sqlite3
from contextlib import closing

from game.coach.stages import Stage
from game.instrument.decoding.played import PlayedNote
from game.player.profiles import LOG_FILE
from game.practice.places_take import PlacesTake
from game.practice_log.rows.log_records import Terms
from tests.made import passage


def played_take(session, notes=2):
    """A take under way, of which so many notes were played, and where it is written down."""
    bars, neck_map = passage("F4 h, G4 h"), session.settings.neck_map()
    recorder = session.recorder(bars, neck_map, Terms(stage=Stage.PLACES), zero_s=100.0)
    take = PlacesTake(bars, neck_map, now_s=100.0, recorder=recorder)
    for at_s, note in enumerate(bars.notes[:notes], start=101):
        home = neck_map.home_of(note.sounding).place
        take.hear(PlayedNote(started_s=float(at_s), sounding=note.sounding, place=home))
    return take, recorder


def play_a_take(session):
    """What the coach says of a take."""
    take, recorder = played_take(session)
    return session.finish_take(take.end(), recorder)


def takes_in(player):
    with closing(sqlite3.connect(player.folder / LOG_FILE)) as log, log:
        return log.execute("SELECT count(*) FROM take").fetchone()[0]
