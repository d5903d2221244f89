"""Takes for the tests of the log: a tune of our own, a player, and a clock on the wall that is set by hand."""

from datetime import UTC, datetime, timedelta
from uuid import UUID

from game.coach.stages import Stage
from game.instrument.decoding.played import PlayedNote
from game.instrument.sources.note_sources import PlayedOn
from game.judging.untimed import begin, finish, hear
from game.judging.version import JUDGE_VERSION
from game.neck.neck_map import standard_map
from game.practice_log.database.identity import Identity
from game.practice_log.rows.entry_rows import Recorded
from game.practice_log.rows.log_records import InstrumentUsed, Outcome, Sighting, TakeEnded, Terms
from game.practice_log.rows.shared_rows import put_device, put_player
from game.practice_log.rows.take_beginning import take_begun
from game.practice_log.rows.take_rows import takes_where
from tests.made import passage

MAP = standard_map()
TUNE = passage("F4 q, G4 q, A4 q, Bb4 q", "C5 h, F#4 h", key=-1)
PLAYER = Identity(uuid=UUID("5a0c5b36-6d3c-4d8f-9d53-0c1d7a5f2e11"), name="Ada")
DEVICE = Identity(uuid=UUID("c7b0a1de-2f43-4f0e-8a57-6a9f0f3b7d22"), name="the old laptop")
MORNING = datetime(2026, 11, 25, 7, 30, tzinfo=UTC)
PICKUP = InstrumentUsed(name="pickup", kind=PlayedOn.GUITAR)
PLACES = Terms(stage=Stage.PLACES)


def recorded(log, at=MORNING):
    """By whom and when something is recorded."""
    return Recorded(put_device(log, DEVICE), put_player(log, PLAYER), at)


def utc_now() -> datetime:
    return MORNING


def begun(terms=PLACES, *, minutes=0, tune=TUNE, sighting=None, neck_map=MAP, player=PLAYER):
    return take_begun(
        tune,
        neck_map,
        terms,
        started_at=MORNING + timedelta(minutes=minutes),
        player=player,
        instrument=PICKUP,
        sighting=sighting or Sighting(),
    )


def notes_of(take, *, zero_s=0.0, gap_s=1.0, wrong=(), unsure=()):
    """The notes of a take played one every `gap_s` seconds at their homes; those numbered `wrong` a fret too high
    and then right, those numbered `unsure` heard unsurely.
    """
    at_s, played = zero_s, []
    for note in take.asked.notes:
        place = note.home.place
        for fret in (1, 0) if note.n in wrong else (0,):
            at_s += gap_s
            played.append(
                PlayedNote(
                    started_s=at_s,
                    sounding=note.sounding + fret,
                    place=type(place)(place.string, place.fret + fret),
                    source="pickup",
                    sure=note.n not in unsure,
                )
            )
    return tuple(played)


def judged(take, played, *, zero_s=0.0):
    """The untimed judgement of played notes."""
    state = begin(take.asked.notes, now_s=zero_s)
    for note in played:
        state, _ = hear(state, note)
    return finish(state)


def ended(judgement=None, *, outcome=Outcome.FINISHED, minutes=1, **changes):
    return TakeEnded(
        ended_at=MORNING + timedelta(minutes=minutes),
        outcome=outcome,
        judge=JUDGE_VERSION,
        judgement=judgement,
        **changes,
    )


def takes_of_bars(connection, player, passage_key):
    """A player's takes of the bars that have this key, in whatever tune they stood."""
    return takes_where(connection, "player.uuid = ? AND bars.passage_key = ?", (str(player), passage_key))
