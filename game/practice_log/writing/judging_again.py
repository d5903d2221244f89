"""Takes of long ago judged by the judge of today: its judgements stand beside the old ones, and are those that count.

First all takes are gone through, and nothing is written into the log; then it gets what came of that, in small commits.
Ended anywhere, it goes on where it was, and no take is judged twice. Each computer judges the takes that it recorded,
and those of computers that have recorded nothing for a month: should two do so at once, they say the same.
"""

import sqlite3
from collections.abc import Iterator, Sequence
from contextlib import contextmanager, suppress
from dataclasses import dataclass
from datetime import datetime
from pathlib import Path
from time import monotonic, sleep

from game.errors import HomefretError, LogError
from game.judging.verdicts import Judgement
from game.judging.version import JUDGE_VERSION
from game.practice_log.database.identity import Identity
from game.practice_log.database.migrations import transaction
from game.practice_log.database.own_device import OwnDevice
from game.practice_log.documents.take_in import gatherings
from game.practice_log.rows.judgement_rows import judgement_of, put_ending
from game.practice_log.rows.log_records import LoggedTake, Outcome, TakeEnded
from game.practice_log.rows.played_rows import raw_take
from game.practice_log.rows.row_values import json_array
from game.practice_log.rows.take_rows import takes_where
from game.practice_log.writing.judged_anew import LeftAsItWas, judged_anew
from game.practice_log.writing.judged_file import DUE, FOLD, GoneThrough, JudgedFile, Waiting
from game.practice_log.writing.writer import why_not_written

_READ_AT_ONCE, _WRITTEN_AT_ONCE = 50, 5
"""Takes between two looks at the file, and in one commit: whoever writes beside it waits for a few hundredths."""

# What rows that were written by something else, or by nobody, may do to whoever reads them.
_MAKES_NO_SENSE = (HomefretError, ValueError, TypeError, LookupError, ArithmeticError, AssertionError)

_LEAST_REST_S = 0.02
_RETIRED_AFTER_US = 30 * 86_400_000_000
_THROUGH = "through"
_OLD = "SELECT 1 FROM judgement WHERE judge < ? LIMIT 1"
_KEYS = "SELECT row, uuid || ' ' || sequence || ' ' || at_us FROM entry JOIN device USING (device) WHERE kind = 'take'"
_TO_JUDGE = """
SELECT entry.row FROM entry
WHERE entry.kind = 'take'
    AND (SELECT MAX(judge) FROM judgement WHERE judgement.take = entry.row) < :judge
    AND entry.device IN (SELECT value FROM json_each(:devices))
ORDER BY entry.moment_us DESC
"""
_DEVICES = """
SELECT device, uuid, MAX(moment_us) FROM entry JOIN device USING (device) GROUP BY device
"""
_STANDS = """
SELECT judge, outcome FROM judgement WHERE take = ? ORDER BY judge DESC, judgement DESC LIMIT 1
"""


@dataclass(frozen=True, slots=True, kw_only=True)
class JudgedAgain:
    """What came of it: how many judgements went into the log this time, and of all takes that were ever gone through
    how many came to what, by its word.
    """

    added: int
    came_to: dict[str, int]


def anything_to_judge(connection: sqlite3.Connection, log: Path) -> bool:
    """Whether takes may be left that an older judge judged last, or what is made of the log is to be made anew since.
    Where nobody knows, nothing is. It costs next to nothing to ask.
    """
    try:
        if connection.execute(_OLD, (JUDGE_VERSION,)).fetchone() is None:
            return False
        with JudgedFile(log, JUDGE_VERSION) as file:
            return file.noted(_THROUGH) != _state(connection) or file.noted(FOLD) == DUE
    except sqlite3.Error:
        return False


def judge_again(connection: sqlite3.Connection, log: Path, device: OwnDevice, now: datetime) -> JudgedAgain:
    """Judge again what older judges judged in a log that is open. `now` knows the zone. Raises `LogError` where
    the log or the disk refuses: what was there before is there still.
    """
    with refused_in_a_sentence(), JudgedFile(log, JUDGE_VERSION, checked=True) as file:
        state = _state(connection)
        keys = dict(connection.execute(_KEYS))
        known = file.known(keys)
        left = [take for take in _takes_to_judge(connection, device) if take not in known]
        for numbers in _portions(left):
            found = _gone_through(connection, numbers)
            file.keep(GoneThrough(take, keys[take], found[take]) for take in numbers)
        added = _deliver(connection, file, device, now)
        file.note(_THROUGH, state)
        return JudgedAgain(added=added, came_to=file.counts())


def fold_due(log: Path) -> bool:
    """Whether what is made of the log is to be made anew, for other judgements stand there now. Raises `LogError`."""
    with refused_in_a_sentence(), JudgedFile(log, JUDGE_VERSION) as file:
        return file.noted(FOLD) == DUE


def note_folded(log: Path) -> None:
    """It was made anew. Raises `LogError`."""
    with refused_in_a_sentence(), JudgedFile(log, JUDGE_VERSION) as file:
        file.note(FOLD, "")


@contextmanager
def refused_in_a_sentence() -> Iterator[None]:
    """What the disk or the log refuses, as one sentence: a `LogError`."""
    try:
        yield
    except (sqlite3.Error, OSError) as error:
        raise LogError("log.not_judged_again", reason=why_not_written(error)) from error


def _state(connection: sqlite3.Connection) -> str:
    """Changes whenever takes of before may have come from elsewhere."""
    return str(gatherings(connection))


def _takes_to_judge(connection: sqlite3.Connection, device: OwnDevice) -> list[int]:
    """The numbers of takes that only older judges judged, the newest first."""
    devices = connection.execute(_DEVICES).fetchall()
    retired_us = max((last_us for *_, last_us in devices), default=0) - _RETIRED_AFTER_US
    own = {str(uuid) for uuid in device.uuids}
    here = [number for number, uuid, last_us in devices if uuid in own or last_us < retired_us]
    values = {"judge": JUDGE_VERSION, "devices": json_array(here)}
    return [take for (take,) in connection.execute(_TO_JUDGE, values)]


def _portions(takes: Sequence[int]) -> Iterator[Sequence[int]]:
    for start in range(0, len(takes), _READ_AT_ONCE):
        yield takes[start : start + _READ_AT_ONCE]


def _gone_through(connection: sqlite3.Connection, takes: Sequence[int]) -> dict[int, Judgement | str]:
    """What came of each of these: its judgement, or the word for why it keeps the one it has."""
    found: dict[int, Judgement | str] = dict.fromkeys(takes, LeftAsItWas.DAMAGED.value)
    try:
        logged = _logged(connection, takes)
    except _MAKES_NO_SENSE:
        # One of them: each is tried by itself.
        logged = [one for take in takes for one in _one_logged(connection, take)]
    for one in logged:
        with suppress(*_MAKES_NO_SENSE):
            found[one.take] = _found(connection, one)
    return found


def _logged(connection: sqlite3.Connection, takes: Sequence[int]) -> Sequence[LoggedTake]:
    return takes_where(connection, "take.take IN (SELECT value FROM json_each(?))", (json_array(takes),))


def _one_logged(connection: sqlite3.Connection, take: int) -> Sequence[LoggedTake]:
    try:
        return _logged(connection, [take])
    except _MAKES_NO_SENSE:
        return ()


def _found(connection: sqlite3.Connection, logged: LoggedTake) -> Judgement | str:
    before = judgement_of(connection, logged.take)
    assert before is not None, "a take that was judged"
    found = judged_anew(logged.begun, raw_take(connection, logged.take), before)
    return found.value if isinstance(found, LeftAsItWas) else found


def _deliver(connection: sqlite3.Connection, file: JudgedFile, device: Identity, now: datetime) -> int:
    """Let the log have what waits for it; returns how many judgements that were."""
    added, any_waited = 0, False
    while waiting := file.waiting(_WRITTEN_AT_ONCE):
        any_waited, began_s = True, monotonic()
        # Whatever ends it after the commit: what is in the log by then is not added again.
        with transaction(connection):
            added += sum(_put(connection, one, device, now) for one in waiting)
        file.delivered([one.take for one in waiting])
        # Whoever waits for the log looks again and again, further and further apart: it must find it free.
        sleep(max(monotonic() - began_s, _LEAST_REST_S))
    if any_waited:
        file.tidy()
    return added


def _put(connection: sqlite3.Connection, waiting: Waiting, device: Identity, now: datetime) -> bool:
    """Add a judgement, where no judge as new has judged the take since. Whether it was added."""
    judge, outcome = connection.execute(_STANDS, (waiting.take,)).fetchone()
    if judge >= JUDGE_VERSION:
        return False
    ended = TakeEnded(ended_at=now, outcome=Outcome(outcome), judge=JUDGE_VERSION, judgement=waiting.judgement)
    put_ending(connection, waiting.take, ended, device)
    return True
