"""How figures are written on the report's pages."""

from datetime import date

from game.message import Message, message
from game.music.keys import Key, spelled
from game.music.names import NoteNames, name_in, spelling_of
from game.music.pitch import pitch

_MONTHS = "January February March April May June July August September October November December".split()
CAUSES = {
    "signature": "the key signature",
    "accidental": "an accidental earlier in the bar",
    "neighbour": "a line or space off",
    "ledger": "the ledger lines",
    "octave": "another octave",
    "slip": "the hand, a fret or string off",
    "unknown": "no cause to be told",
}
_NOTHING = "–"


def day_said(day: date) -> str:
    """A day for people: 3 March 2026."""
    return f"{day.day} {_MONTHS[day.month - 1]} {day.year}"


def short_day(day: date) -> str:
    """A day under a picture, without its year: 3 Mar."""
    return f"{day.day} {_MONTHS[day.month - 1][:3]}"


def note_said(written: str, names: NoteNames) -> str:
    """A written note with its octave in the player's own names: "F♯4"."""
    note = pitch(written)
    return f"{name_in(spelling_of(note), names)}{note.octave}"


def played_said(sounding: int | None, octaves_down: int, names: NoteNames) -> str:
    """What was played, as it would stand on the page."""
    if sounding is None:
        return "nothing"
    note = spelled(sounding + 12 * octaves_down, Key(0))
    return f"{name_in(spelling_of(note), names)}{note.octave}"


def share_said(share: float | None) -> str:
    """A share in per cent."""
    return _NOTHING if share is None else f"{share:.0%}"


def seconds_said(seconds: float | None) -> str:
    """A time to find."""
    return _NOTHING if seconds is None else f"{seconds:.1f} s"


def tempo_said(tempo_bpm: float | None) -> str:
    """A tempo in beats a minute."""
    return _NOTHING if tempo_bpm is None else f"{tempo_bpm:.0f}"


def minutes_said(minutes: float) -> str:
    """Some minutes: whole ones, but never "0" for a short practice."""
    return "under 1" if 0 < minutes < 0.5 else f"{minutes:.0f}"


def causes_said(causes: tuple[tuple[str, int], ...]) -> str:
    """Causes with how often each came."""
    return ", ".join(f"{CAUSES.get(cause, cause)} ({times})" for cause, times in causes) or _NOTHING


def bars_said(first: str, last: str) -> Message:
    """Which bars, by their printed numbers."""
    return message("bars.one", number=first) if first == last else message("bars.several", first=first, last=last)


def counted(number: int, one: str) -> str:
    """A number with its noun: "1 day", "3 days"."""
    return f"{number:,} {one}" if number == 1 else f"{number:,} {one}s"
