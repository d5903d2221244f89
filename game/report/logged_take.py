"""A take out of a log or an export, found by its day and number as a report names it, with all that was played."""

from collections.abc import Iterator
from contextlib import closing, contextmanager
from dataclasses import dataclass
from datetime import date
from pathlib import Path
from typing import Any
from uuid import UUID

from game.errors import LogError
from game.judging.summary import summary_of
from game.judging.verdicts import Judgement
from game.judging.version import JUDGE_VERSION
from game.practice_log.database.opening import log_in_memory, log_owner, opened_log, players_in
from game.practice_log.foreign.plain_files import is_packed
from game.practice_log.foreign.read_export import read_export
from game.practice_log.rows.judgement_rows import judgement_of
from game.practice_log.rows.log_records import RawTake
from game.practice_log.rows.played_rows import raw_take
from game.practice_log.transfer.contents import ENDING
from game.practice_log.writing.cut_short import judged_again
from game.report.numbered import NumberedTake, takes_of_days

MOST_S = 3_600.0
"""A take is no longer than this. Ours: an hour without end is a broken file."""

MOST_STRINGS = 16
"""As many as MIDI has channels."""

_NONSENSE = (ValueError, TypeError, KeyError, IndexError, AttributeError, ArithmeticError, RecursionError)


@dataclass(frozen=True, slots=True, kw_only=True)
class ReplayedTake:
    """A take, what was played in it (seconds from its time 0), and the latest judgement; one that was cut short and
    never judged is judged now. `judge` is the version of the judge.
    """

    numbered: NumberedTake
    raw: RawTake
    judgement: Judgement
    judge: int


@dataclass(frozen=True, slots=True, kw_only=True)
class PlayersLog:
    """An open log, and whose takes are meant."""

    log: Any
    player: UUID


@dataclass(frozen=True, slots=True, kw_only=True)
class TakeOfDay:
    """A take in the list of a day. `clean_share` is None for one without a judgement, or in which nothing was read."""

    numbered: NumberedTake
    clean_share: float | None


@contextmanager
def own_takes(log: Path, name: str) -> Iterator[PlayersLog]:
    """The log of a player of this computer. Raises `LogError` for one that cannot be read."""
    with opened_log(log) as connection:
        player = log_owner(connection, log, name)
        with _said(connection):
            yield PlayersLog(log=connection, player=player.uuid)


@contextmanager
def takes_handed_over(path: Path) -> Iterator[PlayersLog]:
    """An export, or a log from elsewhere: the takes of whoever played last there. Raises `LogError` for a file that
    cannot be read, or whose rows make no sense to what is done with them.
    """
    with making_sense(path):
        if path.suffix.lower() == ENDING or is_packed(path):
            connection, contents = read_export(path)
            with closing(connection), _said(connection):
                yield PlayersLog(log=connection, player=contents.player.uuid)
            return
        with log_in_memory(path) as connection, _said(connection):
            known = players_in(connection)
            if not known:
                raise LogError("report.no_take_there", name=path.name)
            yield PlayersLog(log=connection, player=known[0].uuid)


@contextmanager
def making_sense(path: Path | None) -> Iterator[None]:
    """Around what is done with rows out of a file from elsewhere: where they make no sense, `LogError` says so. With
    None they are our own, and a fault is a fault.
    """
    try:
        yield
    except _NONSENSE as error:
        if path is None:
            raise
        raise LogError("report.rows_without_sense", name=path.name, fault=type(error).__name__) from error


@contextmanager
def _said(log: Any) -> Iterator[None]:
    try:
        yield
    except log.Error as error:
        raise LogError("report.log_without_sense", error=error) from error


def takes_on(found: PlayersLog, day: date) -> tuple[TakeOfDay, ...]:
    """The takes of a day in their order. Raises `LogError` for a day on which nothing was played."""
    takes = []
    for take in _of_day(found, day):
        judgement = judgement_of(found.log, take.logged.take, with_answers=False)
        judged = judgement is not None and judgement.verdicts
        begun = take.logged.begun
        summary = summary_of(judgement, begun.asked.notes, free_on=begun.free_on) if judgement and judged else None
        share = None if summary is None else summary.clean_share
        takes.append(TakeOfDay(numbered=take, clean_share=share))
    return tuple(takes)


def replayed_take(found: PlayersLog, day: date, number: int) -> ReplayedTake:
    """A take by its day and number. Raises `LogError` for none of these, or one in which nothing could be played."""
    takes = _of_day(found, day)
    if not 1 <= number <= len(takes):
        raise LogError("report.no_such_number", count=len(takes), number=number, day=day)
    take = takes[number - 1]
    if take.logged.begun.terms.stage.named:
        raise LogError("report.take_was_named", number=number, day=day)
    raw = raw_take(found.log, take.logged.take)
    if not _can_be_played(raw):
        raise LogError("report.take_cannot_be_played", number=number, day=day)
    judgement = judgement_of(found.log, take.logged.take)
    if judgement is None:
        return ReplayedTake(numbered=take, raw=raw, judgement=judged_again(take.logged.begun, raw), judge=JUDGE_VERSION)
    return ReplayedTake(numbered=take, raw=raw, judgement=judgement, judge=take.logged.judge or JUDGE_VERSION)


def _of_day(found: PlayersLog, day: date) -> tuple[NumberedTake, ...]:
    takes = takes_of_days(found.log, found.player, day, day)
    if not takes:
        raise LogError("report.nothing_played", day=day)
    return takes


def _can_be_played(raw: RawTake) -> bool:
    """Whether MIDI 1.0 can say all notes of a take, within an hour."""
    return all(
        note.sounding in range(128)
        and note.velocity in range(128)
        and (note.place is None or note.place.string in range(1, MOST_STRINGS + 1))
        and -MOST_S <= note.started_s <= MOST_S
        for note in raw.played
    )
