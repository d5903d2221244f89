"""A map written by playing it once: each played place becomes the home of its pitch. Pure.

What a pickup tells is not always what was played, so all of it is kept as it came, and what it comes to is worked out
anew with each note: a ghost that is withdrawn leaves no trace, and what it seemed to move is back where it was.

- A pitch played again at another place moves there; at the same place again it is the same home.
- Notes plucked together are a chord, of which nobody can tell which was meant: none of them is a home.
- A note that turns out within a moment to be another is that other one: a slide into the place, or a pickup that made
  up its mind. What is bent or slid to later was no new home.
- The open lowest string takes back what came last, unless it is a home itself, or nothing has been written yet: whoever
  begins with it means it.
"""

from collections.abc import Iterable
from dataclasses import dataclass, replace
from typing import Final

from game.instrument.decoding.played import PlayedNote
from game.instrument.decoding.ringing import TOGETHER_S
from game.judging.extra_notes import ARRIVAL_S
from game.neck.hand import FrettingHand
from game.neck.neck_map import NeckMap, Reach, standard_map
from game.neck.tuning import Place, Tuning

TWICE_TOLD_S: Final = 0.12
"""No hand plucks a string again so soon to take back once more: it is one pluck, told twice (ours)."""


@dataclass(frozen=True, slots=True)
class _Told:
    """Something that was played, or that takes back what came before it."""

    note: PlayedNote | None
    takes_back: bool = False


@dataclass(frozen=True, slots=True)
class PlayedPlaces:
    """All that was played so far on the strings of a tuning. Begin with `PlayedPlaces(tuning)`."""

    tuning: Tuning
    told: tuple[_Told, ...] = ()

    def hear(self, note: PlayedNote) -> "PlayedPlaces":
        """Another note; one without a place is none here."""
        if note.place is None:
            return self
        takes_back = self.is_taking_back(note.place)
        last = self.told[-1] if self.told else None
        before_s = last.note.started_s if last and last.takes_back and last.note else float("-inf")
        if takes_back and note.started_s - before_s < TWICE_TOLD_S:
            return self
        return replace(self, told=(*self.told, _Told(note, takes_back)))

    def revise(self, before: PlayedNote, after: PlayedNote | None) -> "PlayedPlaces":
        """What was told turns out to be another note, or none."""
        told = list(self.told)
        number = next((at for at, one in enumerate(told) if one.note == before), None)
        if number is None:
            found_out = before.place is None and after is not None and after.place is not None
            return self._with_late(after) if found_out and after is not None else self
        if after is None or after.place is None:
            del told[number]
        elif _arrived_at_once(before, after):
            told[number] = _Told(after, replace(self, told=tuple(told[:number])).is_taking_back(after.place))
        return replace(self, told=tuple(told))

    def _with_late(self, note: PlayedNote) -> "PlayedPlaces":
        """A note whose place was told late stands where it was played: an octave too low at first, it lay below its
        string.
        """
        number = sum(one.note is None or one.note.started_s <= note.started_s for one in self.told)
        heard = replace(self, told=self.told[:number]).hear(note)
        return replace(self, told=(*heard.told, *self.told[number:]))

    def take_back(self) -> "PlayedPlaces":
        """What was written last was a mistake."""
        return replace(self, told=(*self.told, _Told(None, takes_back=True))) if self.written else self

    def is_taking_back(self, place: Place) -> bool:
        """Whether a place played now takes back."""
        return place == self.free and bool(self.written)

    @property
    def free(self) -> Place | None:
        """The open string that takes back once something is written; None where it is a home itself."""
        lowest = Place(len(self.tuning.open_strings), 0)
        return None if lowest in self.homes.values() else lowest

    @property
    def written(self) -> tuple[Place, ...]:
        """The places that became homes, in the order in which they did. One that was a home already is none anew."""
        stack: list[Place] = []
        for number, one in enumerate(self.told):
            if self._in_chord(number):
                continue
            if one.takes_back:
                del stack[-1:]
            elif (place := one.note.place if one.note else None) and place not in self._homes(stack).values():
                stack.append(place)
        return tuple(stack)

    @property
    def homes(self) -> dict[int, Place]:
        """Sounding pitch to its place, the place played last."""
        return self._homes(self.written)

    def _homes(self, places: Iterable[Place]) -> dict[int, Place]:
        return {self.tuning.sounding(place): place for place in places}

    @property
    def newest(self) -> Place | None:
        """What was written last."""
        return next(iter(self.written[::-1]), None)

    @property
    def ends_in_chord(self) -> bool:
        """Whether what was played last were several notes at once."""
        return bool(self.told) and self._in_chord(len(self.told) - 1)

    def _in_chord(self, number: int) -> bool:
        note = self.told[number].note
        near = (one.note for one in self.told[max(0, number - 6) : number + 7])
        return note is not None and any(
            other is not None and _together(note, other) for other in near if other is not note
        )


def _together(one: PlayedNote, other: PlayedNote) -> bool:
    apart_s = abs(one.started_s - other.started_s)
    return (
        apart_s <= TOGETHER_S
        and one.place is not None
        and other.place is not None
        and (one.place.string != other.place.string)
    )


def _arrived_at_once(before: PlayedNote, after: PlayedNote) -> bool:
    arrived_s = after.started_s if after.arrived_s is None else after.arrived_s
    return arrived_s - before.started_s <= ARRIVAL_S


@dataclass(frozen=True, slots=True)
class WrittenMap:
    """The map that was played. `outlying` of its played homes lie outside the position; `filled` are the pitches
    between the lowest and the highest played that were not played and keep what the position gives them, `missing`
    those there that it does not give either.
    """

    neck_map: NeckMap
    outlying: tuple[int, ...]
    filled: tuple[int, ...]
    missing: tuple[int, ...]


def written_map(homes: dict[int, Place], like: NeckMap) -> WrittenMap:
    """The map of these homes in the position whose hand takes most of them without a shift, with the tuning, frets,
    octave and hand of another map; of positions that take as many that with fewest stretches, then the lowest. Pitches
    that were not played have the homes of that position. Raises `MapError` where a place is off the neck.
    """
    highest = like.highest_position
    tried = [_in_position(homes, position, like) for position in range(1, highest + 1)]
    best = min(tried, key=lambda neck_map: _awkward(neck_map, homes))
    pitches = range(min(homes), max(homes) + 1)
    given = best.places
    return WrittenMap(
        neck_map=best,
        outlying=tuple(one.sounding for one in best.homes if one.outlying and one.sounding in homes),
        filled=tuple(sounding for sounding in pitches if sounding in given and sounding not in homes),
        missing=tuple(sounding for sounding in pitches if sounding not in given),
    )


def _in_position(homes: dict[int, Place], position: int, like: NeckMap) -> NeckMap:
    """Only what the position does not give by itself is a choice."""
    by_itself = _plain(position, like.tuning, like.frets, like.hand)
    return standard_map(
        position=position,
        tuning=like.tuning,
        frets=like.frets,
        reading=like.reading,
        hand=like.hand,
        choices={sounding: place for sounding, place in sorted(homes.items()) if by_itself.get(sounding) != place},
    )


def _plain(position: int, tuning: Tuning, frets: int, hand: FrettingHand) -> dict[int, Place]:
    return standard_map(position=position, tuning=tuning, frets=frets, hand=hand).places


def _awkward(neck_map: NeckMap, homes: dict[int, Place]) -> tuple[int, int, int]:
    played = [home.reach for home in neck_map.homes if home.sounding in homes]
    return played.count(Reach.OUTLYING), played.count(Reach.STRETCH), neck_map.position
