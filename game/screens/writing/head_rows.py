"""The head of the page, row by row: what it says of a draft, and what another value makes of it."""

from collections.abc import Callable
from dataclasses import dataclass, replace
from fractions import Fraction

from game.music.keys import MAX_FIFTHS, Key
from game.music.meter import Meter
from game.music.names import NoteNames, Spelling, name_in
from game.screens.reading.page_heading import beat_in_words
from game.text.catalogue import say
from game.tunes.entering.draft import Draft, moved_to_pickup
from game.tunes.entering.entering import Entering, with_draft

LONGEST_TITLE = 80
METERS = tuple(
    Meter(*one)
    for one in ((4, 4), (3, 4), (2, 4), (2, 2), (3, 8), (6, 8), (9, 8), (12, 8), (5, 4), (6, 4), (7, 8), (5, 8))
)
# Of the eighths: nothing is said, straight, swung.
_FEELS = (None, False, True)
_TEMPO_STEP, _SLOWEST, _FASTEST = 4, 30, 240
_MOST_OCTAVES = 2
_EIGHTH = Fraction(1, 2)


@dataclass(frozen=True, slots=True, kw_only=True)
class HeadRow:
    """A row: what it is called, its value in words, and the draft with the next value or the one before. In a row of
    text `text` is what is typed there.
    """

    name: str
    words: Callable[[Draft, NoteNames], str]
    stepped: Callable[[Draft, int], Draft] | None = None
    text: Callable[[Draft], str] | None = None
    typed: Callable[[Draft, str], Draft] | None = None


def typed_in(state: Entering, row: HeadRow, text: str) -> Entering:
    """The state with another text in a row; rows without text stay."""
    if row.typed is None:
        return state
    return with_draft(state, lambda draft: row.typed(draft, text[:LONGEST_TITLE]) if row.typed else draft)


def stepped_in(state: Entering, row: HeadRow, by: int) -> Entering:
    """The state with the next value in a row, or the one before."""
    return with_draft(state, lambda draft: row.stepped(draft, by) if row.stepped else draft)


def key_in_words(key: Key, names: NoteNames) -> str:
    """The key by the player's own names of notes."""
    letter, sign = key.name.removesuffix("m")[0], key.name.removesuffix("m")[1:]
    tonic = name_in(Spelling(letter, {"#": 1, "b": -1}.get(sign, 0)), names)
    return say("writing.minor" if key.minor else "writing.major", tonic=tonic)


def head_in_words(draft: Draft, names: NoteNames) -> str:
    """The head of the page in one line, below its title."""
    pickup = say("writing.with_pickup", length=pickup_in_words(draft)) if draft.pickup else ""
    parts = (key_in_words(draft.key, names), draft.meter.text, pickup, tempo_in_words(draft))
    return say("writing.head_line", parts=tuple(filter(None, parts)))


def pickup_in_words(draft: Draft) -> str:
    """The length of the pickup bar, in eighths or in the beats they come to."""
    if not draft.pickup:
        return say("writing.no_pickup")
    if draft.meter.unit <= 4 and draft.pickup.denominator == 1:
        return say("writing.pickup_quarters", count=int(draft.pickup))
    return say("writing.pickup_eighths", count=int(draft.pickup / _EIGHTH))


def tempo_in_words(draft: Draft) -> str:
    """The tempo of the click, in the beat of the metre."""
    return say("writing.tempo", beat=beat_in_words(draft.meter), bpm=draft.tempo_bpm)


def _key_stepped(draft: Draft, by: int) -> Draft:
    fifths = max(-MAX_FIFTHS, min(MAX_FIFTHS, draft.key.fifths + by))
    return replace(draft, key=Key(fifths, minor=draft.key.minor))


def _meter_stepped(draft: Draft, by: int) -> Draft:
    at = METERS.index(draft.meter) if draft.meter in METERS else 0
    draft = replace(draft, meter=METERS[(at + by) % len(METERS)])
    if draft.pickup >= draft.meter.bar_length:
        draft = moved_to_pickup(draft, Fraction(0))
    return moved_to_pickup(draft, draft.pickup)


def _pickup_stepped(draft: Draft, by: int) -> Draft:
    pickup = draft.pickup + by * _EIGHTH
    return moved_to_pickup(draft, pickup) if 0 <= pickup < draft.meter.bar_length else draft


def _feel_stepped(draft: Draft, by: int) -> Draft:
    return replace(draft, swung=_FEELS[(_FEELS.index(draft.swung) + by) % len(_FEELS)])


def _tempo_stepped(draft: Draft, by: int) -> Draft:
    return replace(draft, tempo_bpm=max(_SLOWEST, min(_FASTEST, draft.tempo_bpm + by * _TEMPO_STEP)))


def _octave_stepped(draft: Draft, by: int) -> Draft:
    return replace(draft, octaves=max(-_MOST_OCTAVES, min(_MOST_OCTAVES, draft.octaves + by)))


def _mode_turned(draft: Draft, _by: int) -> Draft:
    return replace(draft, key=Key(draft.key.fifths, minor=not draft.key.minor))


def _feel_words(draft: Draft, _names: NoteNames) -> str:
    return say({None: "writing.unsaid", False: "writing.straight", True: "writing.swung"}[draft.swung])


def _octave_words(draft: Draft, _names: NoteNames) -> str:
    if not draft.octaves:
        return say("writing.as_played")
    return say("writing.octaves_up" if draft.octaves > 0 else "writing.octaves_down", count=abs(draft.octaves))


def _signs_words(draft: Draft, _names: NoteNames) -> str:
    signs = "♯" if draft.key.fifths > 0 else "♭"
    return f"{abs(draft.key.fifths)} {signs}" if draft.key.fifths else say("writing.no_signs")


HEAD_ROWS = (
    HeadRow(
        name="writing.row.title",
        words=lambda draft, _names: draft.title,
        text=lambda draft: draft.title,
        typed=lambda draft, text: replace(draft, title=text),
    ),
    HeadRow(
        name="writing.row.composer",
        words=lambda draft, _names: draft.composer,
        text=lambda draft: draft.composer,
        typed=lambda draft, text: replace(draft, composer=text),
    ),
    HeadRow(name="writing.row.signs", words=_signs_words, stepped=_key_stepped),
    HeadRow(name="writing.row.key", words=lambda draft, names: key_in_words(draft.key, names), stepped=_mode_turned),
    HeadRow(name="writing.row.meter", words=lambda draft, _names: draft.meter.text, stepped=_meter_stepped),
    HeadRow(name="writing.row.pickup", words=lambda draft, _names: pickup_in_words(draft), stepped=_pickup_stepped),
    HeadRow(name="writing.row.eighths", words=_feel_words, stepped=_feel_stepped),
    HeadRow(name="writing.row.tempo", words=lambda draft, _names: tempo_in_words(draft), stepped=_tempo_stepped),
    HeadRow(name="writing.row.octave", words=_octave_words, stepped=_octave_stepped),
)
"""From the top of the page down."""
