"""A take out of a log or an export, found by its day and number as a report names it, with all that was played."""

import zipfile
from collections.abc import Iterator, Sequence
from contextlib import closing, contextmanager
from dataclasses import dataclass
from datetime import date
from pathlib import Path
from typing import Any
from uuid import UUID

from game.coach.stages import Stage
from game.errors import LogError
from game.instrument.played import PlayedNote
from game.judging.verdicts import Judgement
from game.judging.version import JUDGE_VERSION
from game.practice_log.export import players_in, read_export
from game.practice_log.opening import log_in_memory, opened_log, player_meant
from game.practice_log.reading import judgement_of, raw_take
from game.practice_log.records import RawTake
from game.practice_log.resuming import judged_again
from game.practice_log.summaries import LOCAL
from game.report import words
from game.report.numbered import NumberedTake, takes_of_days

MOST_S = 3_600.0
"""A take is no longer than this. Ours: an hour without end is a broken file."""

MOST_STRINGS = 16
"""As many as MIDI has channels."""

_NONSENSE = (ValueError, TypeError, KeyError, IndexError, AttributeError, ArithmeticError, RecursionError)


@dataclass(frozen=True, slots=True, kw_only=True)
class KeptTake:
    """A take, what was played in it (seconds from its time 0), and the latest judgement; one that was cut short and
    never judged is judged now. `judge` is the version of the judge.
    """

    numbered: NumberedTake
    raw: RawTake
    judgement: Judgement
    judge: int


def take_in_log(log: Path, name: str, day: date, number: int) -> KeptTake:
    """A take of a player of this computer, out of their own log. Raises `LogError` for none of that day and number."""
    with opened_log(log) as connection:
        player = player_meant(connection, log, name)
        return _found(connection, player.uuid, LOCAL, day, number)


def take_handed_over(path: Path, day: date, number: int) -> KeptTake:
    """A take out of an export, or out of a log from elsewhere (that of whoever played last there). Raises `LogError`
    for a file that cannot be read or makes no sense, or none of that day and number.
    """
    with making_sense(path), _handed_over(path) as (log, player, zone):
        return _found(log, player, zone, day, number)


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
        raise LogError(
            f"{path.name} holds rows that make no sense ({type(error).__name__}): ask for it again"
        ) from error


@contextmanager
def _handed_over(path: Path) -> Iterator[tuple[Any, UUID, str]]:
    """The open log, the player meant, and the zone of their days."""
    if zipfile.is_zipfile(path) or path.suffix.lower() == ".zip":
        connection, contents = read_export(path)
        with closing(connection):
            yield connection, contents.player.uuid, contents.zone
        return
    with log_in_memory(path) as connection:
        known = players_in(connection)
        if not known:
            raise LogError(f"{path.name} holds no take: name another file")
        yield connection, known[0].uuid, LOCAL


def _found(log: Any, player: UUID, zone: str, day: date, number: int) -> KeptTake:
    try:
        return _read(log, takes_of_days(log, player, day, day, zone=zone), day, number)
    except log.Error as error:
        raise LogError(f"the practice log makes no sense ({error}): restore it, or ask for it again") from error


def _read(log: Any, takes: Sequence[NumberedTake], day: date, number: int) -> KeptTake:
    if not takes:
        raise LogError(f"nothing was played on {words.day_said(day)}: give a day that the report names with --day")
    if not 1 <= number <= len(takes):
        there = "take 1" if len(takes) == 1 else f"takes 1 to {len(takes)}"
        raise LogError(f"{words.day_said(day)} has {there}, not {number}: give one of them with --number")
    take = takes[number - 1]
    if take.logged.begun.terms.stage is Stage.LETTERS:
        raise LogError(f"take {number} of {words.day_said(day)} holds no played notes: its notes were named")
    raw = raw_take(log, take.logged.take)
    if not all(_can_be_played(note) for note in raw.played):
        raise LogError(f"take {number} of {words.day_said(day)} holds notes that nobody can play: its log is broken")
    judgement = judgement_of(log, take.logged.take)
    if judgement is None:
        return KeptTake(numbered=take, raw=raw, judgement=judged_again(take.logged.begun, raw), judge=JUDGE_VERSION)
    return KeptTake(numbered=take, raw=raw, judgement=judgement, judge=take.logged.judge or JUDGE_VERSION)


def _can_be_played(note: PlayedNote) -> bool:
    """Whether MIDI 1.0 can say it, within an hour."""
    in_range = 0 <= note.sounding <= 127 and 0 <= note.velocity <= 127
    on_string = note.place is None or 1 <= note.place.string <= MOST_STRINGS
    return in_range and on_string and -MOST_S <= note.started_s <= MOST_S
