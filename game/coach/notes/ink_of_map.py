"""The ink of one map: of each pitch its written notes, and its place on the neck, as staff and neck show them.

A place is ink when all usual spellings of its pitch are. A home that was moved begins in pencil where the note was met
at another home of the map: it is the way from the dot to the place that is learned.
"""

from collections.abc import Collection
from dataclasses import dataclass
from functools import cache

from game.coach.notes.ink import Ink, InkRecord, Inks, SpellingKey, spelling_key
from game.coach.notes.items import map_name
from game.coach.notes.mastery import Mastery, due_notes
from game.music.keys import Key, spelled
from game.music.pitch import Pitch, pitch
from game.neck.neck_map import Home, NeckMap
from game.neck.tuning import Place

USUAL_SIGNS = 3
"""Spellings are usual that stand in a major key of so many signs: F♯, C♯, B♭, E♭, and both A♭ and G♯. Ours."""

_USUAL = frozenset(
    (step, key.alter_of(step)) for key in map(Key, range(-USUAL_SIGNS, USUAL_SIGNS + 1)) for step in "CDEFGAB"
)


@dataclass(frozen=True, slots=True, kw_only=True)
class InkedSpelling:
    """A written note of the page ("Gb4"). `inked_day` is the day that made it ink, None before."""

    written: str
    ink: Ink
    usual: bool
    inked_day: int | None = None


@dataclass(frozen=True, slots=True, kw_only=True)
class InkedPitch:
    """A sounding pitch (MIDI number) with its home: the ink of the place, and of its spellings: all usual ones, and
    others that were met. `shown` is the one to write where there is room for one.
    """

    sounding: int
    place: Place
    ink: Ink
    spellings: tuple[InkedSpelling, ...]

    @property
    def shown(self) -> InkedSpelling:
        """Of the usual spellings the one that came farthest, else the plainest."""
        order = (Ink.INK, Ink.DUE, Ink.PENCIL, Ink.NOT_MET)
        return min((one for one in self.spellings if one.usual), key=lambda one: order.index(one.ink))

    @property
    def inked_day(self) -> int | None:
        """The day on which the place became ink, None before."""
        days = [one.inked_day for one in self.spellings if one.usual]
        return max((day or 0 for day in days), default=None) if None not in days else None


@dataclass(frozen=True, slots=True, kw_only=True)
class InkCounts:
    """How many pitches of a map are in ink, in pencil, and not met yet. `due` of those in ink should be looked at."""

    ink: int
    pencil: int
    not_met: int
    due: int

    @property
    def pitches(self) -> int:
        """All pitches of the map: thirty in position V."""
        return self.ink + self.pencil + self.not_met


@dataclass(frozen=True, slots=True, kw_only=True)
class InkOfMap:
    """The pitches of a map, from the lowest on."""

    pitches: tuple[InkedPitch, ...]

    @property
    def counts(self) -> InkCounts:
        """What the legend says, over pitches."""
        found = [one.ink for one in self.pitches]
        due = found.count(Ink.DUE)
        return InkCounts(
            ink=found.count(Ink.INK) + due, pencil=found.count(Ink.PENCIL), not_met=found.count(Ink.NOT_MET), due=due
        )

    def at(self, place: Place) -> Ink:
        """The ink of a place on the neck; not met where it is no home."""
        return next((one.ink for one in self.pitches if one.place == place), Ink.NOT_MET)

    def new_on(self, day: int) -> tuple[InkedPitch, ...]:
        """The pitches of which a spelling became ink on a day."""
        return tuple(one for one in self.pitches if any(each.inked_day == day for each in one.spellings))


def ink_of_map(mastery: Mastery, neck_map: NeckMap, day: int) -> InkOfMap:
    """The ink of a map on a day, counted as those of `mastery` are."""
    name = map_name(neck_map)
    met = {key: record for key, record in mastery.ink.items() if key.map_name == name}
    due = {spelling_key(key) for key in due_notes(mastery, day) if key.map_name == name}
    written = {key.written for key in met}
    return InkOfMap(
        pitches=tuple(_inked_pitch(home, met, written, due, neck_map.reading.octaves_down) for home in neck_map.homes)
    )


@cache
def usual_spellings(written_midi: int) -> tuple[Pitch, ...]:
    """How a pitch of the page, a MIDI number, is usually written: the plainest spelling first."""
    every = {spelled(written_midi, Key(fifths)) for fifths in range(-USUAL_SIGNS, USUAL_SIGNS + 1)}
    plainest = spelled(written_midi, Key())
    usual = (one for one in every if (one.step, one.alter) in _USUAL)
    return tuple(sorted(usual, key=lambda one: (one != plainest, one)))


def _inked_pitch(
    home: Home, met: Inks, written: Collection[str], due: Collection[SpellingKey], octaves_down: int
) -> InkedPitch:
    midi = home.sounding + 12 * octaves_down
    usual = [one.name for one in usual_spellings(midi)]
    others = sorted(name for name in written if name not in usual and pitch(name).midi == midi)
    spellings = tuple(_inked_spelling(name, home, met, due, usual=name in usual) for name in (*usual, *others))
    return InkedPitch(sounding=home.sounding, place=home.place, ink=_ink_of_place(spellings), spellings=spellings)


def _inked_spelling(name: str, home: Home, met: Inks, due: Collection[SpellingKey], *, usual: bool) -> InkedSpelling:
    here = next((key for key in met if key.written == name and key.place == home.place), None)
    if here is None:
        elsewhere = any(key.written == name for key in met)
        return InkedSpelling(written=name, ink=Ink.PENCIL if elsewhere else Ink.NOT_MET, usual=usual)
    return InkedSpelling(
        written=name, ink=_ink_of(met[here], is_due=here in due), usual=usual, inked_day=met[here].inked_day
    )


def _ink_of(record: InkRecord, *, is_due: bool) -> Ink:
    if record.inked_day is None:
        return Ink.PENCIL
    return Ink.DUE if is_due else Ink.INK


def _ink_of_place(spellings: tuple[InkedSpelling, ...]) -> Ink:
    usual = [one.ink for one in spellings if one.usual]
    if all(ink.inked for ink in usual):
        return Ink.DUE if Ink.DUE in usual else Ink.INK
    return Ink.NOT_MET if all(one.ink is Ink.NOT_MET for one in spellings) else Ink.PENCIL
