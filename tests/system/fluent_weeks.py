"""Days on which a map is read well, in the log of a game that is not started: by its own session, a note after another.

Nobody plays for weeks at a test. What is read is real: rows of notes at their homes, through the takes of the program,
judged by it; what follows from them is the coach's own.
"""

from collections.abc import Iterable
from datetime import datetime, timedelta
from pathlib import Path
from random import Random

from game.clock import HandClock
from game.coach.stages import Stage
from game.instrument.decoding.played import PlayedNote
from game.music.keys import Key, spelled
from game.neck.neck_map import NeckMap
from game.player.profiles import Profile
from game.player.session import Session, open_session
from game.practice.free_take import FreeTake
from game.practice.places_take import PlacesTake
from game.practice_log.rows.log_records import Terms
from tests.made import passage
from tests.system.game_on_screen import settings_of

_FOUND_S, _EIGHTH_S = 0.8, 0.5
_TIMES = 3
_EVENING = timedelta(hours=18)


def read_well(home: Path, neck_map: NeckMap, days: Iterable[datetime]) -> None:
    """On each of these days all homes of a map are found three times, and a row of eighths is read at first sight."""
    for number, day in enumerate(days):
        moment = day.replace(hour=0, minute=0) + _EVENING
        session = open_session(profile_of(home), clock := HandClock(), now=lambda moment=moment: moment)
        try:
            rng = Random(f"{neck_map.position} {number}")
            for _ in range(_TIMES):
                _find(session, clock, neck_map, rng)
            _read_in_time(session, clock, neck_map, rng)
        finally:
            session.close()


def profile_of(home: Path) -> Profile:
    """The player of a game whose home this is."""
    folder = home / "data" / "homefret"
    return Profile(name="", folder=folder, settings_path=settings_of(home))


def _row(neck_map: NeckMap, rng: Random) -> list[int]:
    pitches = [one.sounding for one in neck_map.homes]
    rng.shuffle(pitches)
    return pitches


def _names(pitches: Iterable[int], neck_map: NeckMap, value: str, a_bar: int) -> list[str]:
    up = 12 * neck_map.reading.octaves_down
    names = [f"{spelled(one + up, Key()).name} {value}" for one in pitches]
    return [", ".join(names[at : at + a_bar]) for at in range(0, len(names), a_bar)]


def _find(session: Session, clock: HandClock, neck_map: NeckMap, rng: Random) -> None:
    bars = passage(*_names(_row(neck_map, rng), neck_map, "q", 4))
    recorder = session.recorder(bars, neck_map, Terms(stage=Stage.PLACES), zero_s=clock.now_s())
    take = PlacesTake(bars, neck_map, now_s=clock.now_s(), recorder=recorder)
    _play(take, neck_map, [_FOUND_S] * len(bars.notes), clock)
    session.finish_take(take.end(), recorder)


def _read_in_time(session: Session, clock: HandClock, neck_map: NeckMap, rng: Random) -> None:
    bars = passage(*_names(_row(neck_map, rng)[:24], neck_map, "e", 8))
    recorder = session.recorder(bars, neck_map, Terms(stage=Stage.SIGHT), zero_s=clock.now_s())
    take = FreeTake(bars, neck_map, Stage.SIGHT, recorder=recorder)
    _play(take, neck_map, [_EIGHTH_S] * len(bars.notes), clock)
    session.finish_take(take.end(), recorder)


def _play(take: PlacesTake | FreeTake, neck_map: NeckMap, gaps_s: list[float], clock: HandClock) -> None:
    """Each note at its home, so long after the one before."""
    for note, gap_s in zip(take.expected, gaps_s, strict=True):
        clock.advance(gap_s)
        place = neck_map.places[note.sounding]
        take.hear(PlayedNote(started_s=clock.now_s(), sounding=note.sounding, place=place, source="pickup"))
