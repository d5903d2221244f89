"""How figures are written on the report's pages, with the names, signs and days of the language."""

from datetime import date

from game.coach.certainty import wilson_lower, wilson_upper
from game.coach.marks import Mark
from game.judging.verdicts import Cause, Verdict
from game.message import Message, Value, message, verbatim
from game.music.keys import Key, spelled
from game.music.names import NoteNames, name_in, spelling_of
from game.music.pitch import pitch
from game.neck.neck_map import NeckMap, roman
from game.practice_log.queries.figure_records import INTERVAL_Z
from game.text.catalogue import in_figures, on_day, say

_TITLES = ("title", "text", "assignment")
"""What these values of messages hold came out of files."""

NOTHING = "–"
"""Stands where there is nothing to tell."""

_NEAR_DAYS = 300
_LONGEST = 48
"""Characters of a title."""

_MARKS = frozenset(mark.value for mark in Mark)
_CAUSES = frozenset(cause.value for cause in Cause)
_VERDICTS = {verdict.value: verdict.name.lower() for verdict in Verdict}


def day_said(day: date) -> str:
    """A day for people: 3 March 2026."""
    return on_day(day)


def short_day(day: date) -> str:
    """A day under a picture, without its year: 3 Mar."""
    return on_day(day, "short")


def near_day(day: date, today: date) -> str:
    """A day in a narrow column: without its year where nobody can take another one for it."""
    return short_day(day) if abs((today - day).days) <= _NEAR_DAYS else day_said(day)


def note_said(written: str, names: NoteNames) -> str:
    """A written note with its octave in the player's own names: "F♯4"."""
    note = pitch(written)
    return f"{name_in(spelling_of(note), names)}{note.octave}"


def played_said(sounding: int | None, octaves_down: int, names: NoteNames) -> str:
    """What was played, as it would stand on the page."""
    if sounding is None:
        return say("report.played_nothing")
    note = spelled(sounding + 12 * octaves_down, Key(0))
    return f"{name_in(spelling_of(note), names)}{note.octave}"


def share_said(share: float | None) -> str:
    """A share in per cent."""
    return NOTHING if share is None else in_figures(share, ".0%")


def seconds_said(seconds: float | None) -> str:
    """A time to find."""
    return NOTHING if seconds is None else say("report.seconds", seconds=seconds)


def tempo_said(tempo_bpm: float | None) -> str:
    """A tempo in beats a minute."""
    return NOTHING if tempo_bpm is None else in_figures(tempo_bpm, ".0f")


def pace_said(notes_a_second: float | None) -> str:
    """Notes found a second."""
    return NOTHING if notes_a_second is None else in_figures(notes_a_second, ".2f")


def minutes_said(minutes: float) -> str:
    """Some minutes: whole ones, but never "0" for a short practice."""
    return say("report.under_a_minute") if 0 < minutes < 0.5 else in_figures(minutes, ".0f")


def cause_said(cause: str) -> Message:
    """Why a note went wrong; a word out of a log that is none of ours stands as it is."""
    return message(f"report.cause.{cause}") if cause in _CAUSES else verbatim(cause)


def causes_said(causes: tuple[tuple[str, int], ...]) -> str:
    """Causes with how often each came."""
    told = (say("report.so_often", what=cause_said(cause), times=times) for cause, times in causes)
    return ", ".join(told) or NOTHING


def verdict_said(verdict: str) -> str:
    """A verdict; a word out of a log that is none of ours stands as it is."""
    return say(f"verdict.{_VERDICTS[verdict]}") if verdict in _VERDICTS else verdict


def mark_said(mark: str) -> Message:
    """A mark that a passage has earned; a word out of a log that is none of ours stands as it is."""
    return message(f"book.{mark}") if mark in _MARKS else verbatim(mark)


def shortened(text: str) -> str:
    """What has room on a line or two: titles come out of files."""
    return text if len(text) <= _LONGEST else f"{text[: _LONGEST - 1].rstrip()}…"


def briefly(said: Message) -> Message:
    """A message with its titles shortened; sentences stay as they are."""
    return Message(said.key, tuple((name, _brief(name, value)) for name, value in said.values))


def _brief(name: str, value: Value) -> Value:
    if isinstance(value, Message):
        return briefly(value)
    if isinstance(value, str):
        return shortened(value) if name in _TITLES else value
    return tuple(_brief(name, one) for one in value) if isinstance(value, tuple) else value


def bars_said(first: str, last: str) -> Message:
    """Which bars, by their printed numbers."""
    return message("bars.one", number=first) if first == last else message("bars.several", first=first, last=last)


def place_said(string: int, fret: int) -> str:
    """A place on the neck: "string 5 fret 7"."""
    return say("report.place", string=string, fret=fret)


def sight_said(read: int, clean: int) -> str:
    """A first-sight score with its interval."""
    if not read:
        return NOTHING
    low, high = wilson_lower(clean, read, INTERVAL_Z), wilson_upper(clean, read, INTERVAL_Z)
    return say("report.share_between", share=clean / read, low=low, high=high)


def on_map(neck_map: NeckMap) -> str:
    """Which map notes are of, where a player reads several."""
    key = f"chart.title.{neck_map.reading.value}"
    return say(key, position="–".join(map(roman, neck_map.positions)), tuning=neck_map.tuning.told)
