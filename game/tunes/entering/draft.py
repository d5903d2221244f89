"""A tune under way: its pitches in order, and beside them where they begin. Pure.

Pitches and rhythm are two rows: the first onset is that of the first pitch, and so on. A bar that is tapped again with
one note more moves the pitches after it along, which is what is wanted where a tap was forgotten. Times are in quarter
notes from the first bar line, those of a pickup bar are negative.
"""

from dataclasses import dataclass, replace
from fractions import Fraction

from game.music.chords import ChordSymbol
from game.music.keys import Key
from game.music.meter import Meter
from game.music.score import Reading

MOST_PITCHES = 2000
"""More than any lead sheet has: somebody left an instrument on the desk."""
USUAL_BPM = 80
_C_MAJOR, _COMMON_TIME = Key(), Meter()


@dataclass(frozen=True, slots=True, kw_only=True)
class DraftPitch:
    """A pitch by its MIDI number as it was heard. `respelled` takes another spelling than the key and the line ask for.

    `heard` are the notes of the stroke it was heard in, with their times, none for one from a file: the highest stands,
    and the others are there in case it turns out that nobody played it. `stood` is what it was played over, None where
    it is new.
    """

    sounding: int
    respelled: bool = False
    heard: tuple[tuple[int, float], ...] = ()
    stood: int | None = None


@dataclass(frozen=True, slots=True, kw_only=True)
class DraftOnset:
    """Where a note begins. It lasts until the next one, or to `rest_at`, from where on there is a rest."""

    at: Fraction
    rest_at: Fraction | None = None


@dataclass(frozen=True, slots=True, kw_only=True)
class BarSigns:
    """What steers the order of play in one bar: repeat signs, and the ending it stands under (0 for none)."""

    repeat_start: bool = False
    repeat_end: bool = False
    ending: int = 0


@dataclass(frozen=True, slots=True, kw_only=True)
class Draft:
    """A tune as far as it was entered.

    `settled` is the bar line up to which there is a rhythm. `chords` have their onsets from the first bar line, and
    `signs` their bars counted from there: -1 is the pickup bar. `octaves` are added to all pitches. `kept_as` is the
    file it was written to, empty for none.
    """

    title: str = ""
    composer: str = ""
    key: Key = _C_MAJOR
    meter: Meter = _COMMON_TIME
    pickup: Fraction = Fraction(0)
    swung: bool | None = None
    tempo_bpm: int = USUAL_BPM
    reading: Reading = Reading.GUITAR
    octaves: int = 0
    pitches: tuple[DraftPitch, ...] = ()
    onsets: tuple[DraftOnset, ...] = ()
    settled: Fraction = Fraction(0)
    chords: tuple[ChordSymbol, ...] = ()
    signs: tuple[tuple[int, BarSigns], ...] = ()
    kept_as: str = ""

    @property
    def start(self) -> Fraction:
        """Where the music begins: at the first bar line, or before it where there is a pickup bar."""
        return -self.pickup

    @property
    def begins_early(self) -> bool:
        """Whether the page has a pickup bar: where nothing was tapped before the first bar line it has none."""
        return bool(self.pickup) and (not self.onsets or self.onsets[0].at < 0)

    @property
    def timed(self) -> int:
        """How many of the pitches have their place in time."""
        return min(len(self.onsets), len(self.pitches))

    @property
    def complete(self) -> bool:
        """Whether every pitch has one."""
        return bool(self.pitches) and self.timed == len(self.pitches)

    def bar_of(self, at: Fraction) -> int:
        """The bar at a time, counted from 0 at the first bar line; -1 for the pickup bar."""
        return int(at // self.meter.bar_length)

    def bar_start(self, bar: int) -> Fraction:
        """Where a bar begins."""
        return max(self.start, bar * self.meter.bar_length) if bar < 0 else bar * self.meter.bar_length

    def end_of(self, index: int) -> Fraction:
        """Where a note with a place in time ends. A place that still waits for its pitch is a rest."""
        onset = self.onsets[index]
        if onset.rest_at is not None:
            return onset.rest_at
        return self.onsets[index + 1].at if index + 1 < len(self.onsets) else max(self.settled, onset.at)

    def signs_of(self, bar: int) -> BarSigns:
        """The signs of a bar."""
        return dict(self.signs).get(bar, BarSigns())

    def with_signs(self, bar: int, signs: BarSigns) -> "Draft":
        """The draft with other signs in a bar."""
        rest = [(other, kept) for other, kept in self.signs if other != bar]
        return replace(self, signs=tuple(sorted([*rest, (bar, signs)] if signs != BarSigns() else rest)))


def moved_to_pickup(draft: Draft, pickup: Fraction) -> Draft:
    """The draft with a pickup bar of another length: what is tapped keeps its distances, and begins with the pickup."""
    by = draft.pickup - pickup
    if not draft.onsets:
        return replace(draft, pickup=pickup, settled=-pickup)
    onsets = tuple(
        replace(onset, at=onset.at + by, rest_at=None if onset.rest_at is None else onset.rest_at + by)
        for onset in draft.onsets
    )
    chords = tuple(replace(chord, onset=chord.onset + by) for chord in draft.chords)
    moved = replace(draft, pickup=pickup, onsets=onsets, chords=chords)
    return replace(moved, settled=bar_line_from(moved, draft.settled + by))


def bar_line_from(draft: Draft, at: Fraction) -> Fraction:
    """The first bar line at or after a time."""
    return -(-at // draft.meter.bar_length) * draft.meter.bar_length
