"""A take's beginning, put together from what the app has in hand."""

from datetime import datetime

from game.judging.expected import expected_notes
from game.judging.graces import graces_before
from game.judging.tolerance import bar_spans
from game.music.passage import Passage
from game.neck.neck_map import NeckMap
from game.practice_log.database.identity import Identity
from game.practice_log.rows.log_records import Asked, Bars, InstrumentUsed, Sighting, TakeBegun, Terms
from game.practice_log.rows.passage_key import passage_key


def bars_of(passage: Passage) -> Bars:
    """Which music a passage is."""
    first, last = passage.bar_numbers
    return Bars(
        title=passage.score.title,
        passage_key=passage_key(passage),
        first=first,
        last=last,
        start=passage.start,
        stop=passage.stop,
    )


def asked_in(passage: Passage, neck_map: NeckMap) -> Asked:
    """The notes of a passage as judging wants them. Onsets count from the start of the passage."""
    return Asked(
        notes=expected_notes(passage.notes, neck_map),
        spans=bar_spans(passage.bars),
        graces=graces_before(passage.bars, passage.notes, passage.reading),
    )


def take_begun(
    passage: Passage,
    neck_map: NeckMap,
    terms: Terms,
    *,
    started_at: datetime,
    player: Identity,
    instrument: InstrumentUsed,
    sighting: Sighting,
) -> TakeBegun:
    """The take of a passage, ready for `PracticeLog.begin_take`."""
    return TakeBegun(
        started_at=started_at,
        player=player,
        bars=bars_of(passage),
        terms=terms,
        asked=asked_in(passage, neck_map),
        neck_map=neck_map,
        instrument=instrument,
        sighting=sighting,
    )
