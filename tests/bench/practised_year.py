"""A year of practice in a log as the game itself writes it: takes of fresh lines, judged, heard of by the coach."""

from datetime import timedelta
from pathlib import Path
from random import Random

from game.coach.coach import advance
from game.coach.events import PassageFacts, PassageOpened
from game.coach.records import CoachState
from game.practice_log.database.identity import Identity
from game.practice_log.database.migrations import transaction
from game.practice_log.database.store import open_store
from game.practice_log.rows.decision_rows import coach_result, put_decision
from game.practice_log.rows.entry_rows import Recorded
from game.practice_log.rows.judgement_rows import put_ending
from game.practice_log.rows.log_records import Sighting
from game.practice_log.rows.played_rows import put_played
from game.practice_log.rows.shared_rows import put_device, put_player
from game.practice_log.rows.take_rows import put_take
from tests.made import passage
from tests.practice_log.logged_takes import DEVICE, MORNING, PLAYER, begun, ended, judged, notes_of

DAYS, TAKES_A_DAY, TAKES_OF_ONE = 330, 6, 9
_NAMES = "C4 D4 E4 F4 G4 A4 B4 C5 D5 E5 F5 G5".split()


def write_year(path: Path, *, days: int = DAYS, device: Identity = DEVICE, seed: int = 1) -> int:
    """Write it, and return how many notes were played."""
    rng = Random(seed)
    connection = open_store(path, now_utc=MORNING)
    connection.execute("PRAGMA synchronous = OFF")
    state, notes, take_number = CoachState(), 0, 0
    for day in range(days):
        with transaction(connection):
            for of_day in range(TAKES_A_DAY):
                if take_number % TAKES_OF_ONE == 0:
                    tune = _line(rng)
                    facts = PassageFacts(name=f"line {take_number}", notes_per_beat=2.0, usual_note_beats=0.5)
                    state = _heard(
                        connection, device, state, PassageOpened(passage=facts, day=day), None, 1440 * day + 5 * of_day
                    )
                minutes = 1440 * day + 5 * of_day
                take_number += 1
                notes += _take(connection, rng, device, (tune, facts, minutes, take_number % TAKES_OF_ONE + 1))
    connection.execute("PRAGMA wal_checkpoint(TRUNCATE)")
    connection.close()
    return notes


def _line(rng):
    return passage(*(", ".join(f"{rng.choice(_NAMES)} e" for _ in range(8)) for _ in range(3)))


def _take(connection, rng, device, what):
    tune, facts, minutes, nth = what
    take = begun(minutes=minutes, tune=tune, sighting=Sighting(nth=nth))
    number = put_take(connection, take, device)
    played = notes_of(take, gap_s=0.4, wrong={note.n for note in take.asked.notes if rng.random() < 0.1})
    for note in played:
        put_played(connection, number, note)
    judgement = judged(take, played)
    put_ending(connection, number, ended(judgement, minutes=minutes + 1), device)
    result = coach_result(take, facts, day=minutes // 1440, judgement=judgement)
    _heard(connection, device, CoachState(), result, number, minutes + 1)
    return len(played)


def _heard(connection, device, state, event, take, minutes):
    state, decision = advance(state, event)
    at = MORNING + timedelta(minutes=minutes)
    recorded = Recorded(put_device(connection, device), put_player(connection, PLAYER), at)
    put_decision(connection, recorded, event, decision, take)
    return state
