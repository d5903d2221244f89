"""Where the hand is on a page: the positions that stand above its staff, as Roman numerals. Pure.

A page in the position of its map alone says nothing of it. One on which the hand shifts says where it is at its first
note, and at each note where it goes elsewhere or comes back; one that begins after a shift says where the hand is then.
All of it is found over the whole tune in order of play, so that a passage and the page it was cut from say the same.
"""

from collections.abc import Iterator, Sequence
from dataclasses import dataclass
from itertools import pairwise

from game.coach.stages import Stage
from game.music.order import order_of_play
from game.music.passage import Passage
from game.music.score import Bar, Note, Reading, Score
from game.music.written import HeadId
from game.neck.neck_map import NeckMap, roman
from game.neck.position_shifts import positions_in
from game.neck.tuning import Place
from game.practice.take_request import TakeRequest

# A hand that goes to and fro so often, for so few notes each time, has both numerals once: one at each note is not read
# (ours).
_FEWEST_BY_TURNS = 4
_MOST_NOTES_A_TURN = 3


@dataclass(frozen=True, slots=True)
class PagePosition:
    """From a notehead on the hand is in this position; by turns in both where there are two."""

    head: HeadId
    positions: tuple[int, ...]

    @property
    def numeral(self) -> str:
        """As it stands on the page: "V", "V/IX"."""
        return "/".join(map(roman, self.positions))


@dataclass(frozen=True, slots=True)
class _Fretted:
    """A notehead that a finger is wanted for, and whether the hand comes there from another position."""

    head: HeadId
    position: int
    shifts: bool


def numerals_on(request: TakeRequest) -> dict[HeadId, str]:
    """The numerals of the page that a request is laid out on, by the noteheads at which they stand; none in free
    reading, where the hand may be anywhere.
    """
    if request.free_reading:
        return {}
    if request.stage.once_through:
        return {one.head: one.numeral for one in positions_on_page(request.score, request.neck_map)}
    return numerals_of(request.passage, request.neck_map, request.stage)


def numerals_of(passage: Passage, neck_map: NeckMap, stage: Stage = Stage.TIME) -> dict[HeadId, str]:
    """The numerals of a passage written out; none in a stage in which no place is asked for."""
    if stage.named or not stage.pitch_counts:
        return {}
    return {one.head: one.numeral for one in positions_in_passage(passage, neck_map)}


def positions_in_passage(passage: Passage, neck_map: NeckMap) -> tuple[PagePosition, ...]:
    """What stands above the bars of a passage of a written-out score; its noteheads are numbered as on its page."""
    bars = passage.score.bars
    whole = list(_fretted(bars, range(len(bars)), passage.reading, neck_map))
    here = [
        _Fretted(HeadId(one.head.bar - passage.start, one.head.event), one.position, one.shifts)
        for one in whole
        if passage.start <= one.head.bar < passage.stop
    ]
    return _shown(here, neck_map, tune_shifts=any(one.shifts for one in whole))


def positions_on_page(score: Score, neck_map: NeckMap) -> tuple[PagePosition, ...]:
    """What stands above a tune as it is notated. Where bars are played again it is what holds the first time, and what
    the hand does at their beginning is marked when it comes back there from elsewhere.
    """
    order = order_of_play(score.bars)
    first: dict[HeadId, _Fretted] = {}
    for one in _fretted(score.bars, order, score.reading, neck_map):
        head = HeadId(order[one.head.bar], one.head.event)
        known = first.get(head)
        if known is None:
            first[head] = _Fretted(head, one.position, one.shifts)
        elif one.shifts and one.position == known.position:
            first[head] = _Fretted(head, known.position, shifts=True)
    here = [first[head] for head in sorted(first)]
    return _shown(here, neck_map, tune_shifts=any(one.shifts for one in here))


def places_without_home(passage: Passage, neck_map: NeckMap) -> dict[HeadId, Place]:
    """Where the hand takes the notes of a passage that have no home on the map, by their noteheads on its page."""
    homes, bars = neck_map.places, passage.score.bars
    if homes.keys() >= set(_noteheads(passage.bars, range(len(passage.bars)), passage.reading)[1]):
        return {}
    heads, soundings = _noteheads(bars, range(len(bars)), passage.reading)
    places = positions_in(soundings, neck_map).places
    return {
        HeadId(head.bar - passage.start, head.event): place
        for head, index in heads
        if passage.start <= head.bar < passage.stop
        and soundings[index] not in homes
        and (place := places[index]) is not None
    }


def highest_fret(request: TakeRequest) -> int:
    """The highest fret that the bars at hand ask for, in homes and beyond them; 0 where they ask for none."""
    homes, passage = request.neck_map.places, request.passage
    _, soundings = _noteheads(passage.bars, range(len(passage.bars)), passage.reading)
    at_home = (homes[sounding] for sounding in set(soundings) if sounding in homes)
    beyond = places_without_home(passage, request.neck_map).values()
    return max((place.fret for place in (*at_home, *beyond)), default=0)


def _fretted(bars: Sequence[Bar], order: Sequence[int], reading: Reading, neck_map: NeckMap) -> Iterator[_Fretted]:
    """The fretted noteheads of bars in order of play, bars being numbered in that order."""
    heads, soundings = _noteheads(bars, order, reading)
    found = positions_in(soundings, neck_map)
    shifts = {shift.index for shift in found.shifts}
    before = -1
    for head, index in heads:
        position = found.positions[index]
        if position is not None:
            yield _Fretted(head, position, shifts=index in shifts and index != before)
        before = index


def _noteheads(
    bars: Sequence[Bar], order: Sequence[int], reading: Reading
) -> tuple[list[tuple[HeadId, int]], list[int]]:
    """The noteheads of bars in order of play, each with the how-manieth of the sounding pitches it is part of, from 0;
    and these pitches. Graces are left out.
    """
    heads: list[tuple[HeadId, int]] = []
    soundings: list[int] = []
    for played, index in enumerate(order):
        for event, note in enumerate(bars[index].events):
            if not isinstance(note, Note) or note.grace:
                continue
            sounding = note.pitch.midi - 12 * reading.octaves_down
            if not (note.tied_from_previous and soundings and soundings[-1] == sounding):
                soundings.append(sounding)
            heads.append((HeadId(played, event), len(soundings) - 1))
    return heads, soundings


def _shown(here: Sequence[_Fretted], neck_map: NeckMap, *, tune_shifts: bool) -> tuple[PagePosition, ...]:
    if not here:
        return ()
    later = [
        (place, after)
        for place, (before, after) in enumerate(pairwise(here), start=1)
        if after.shifts or after.position != before.position
    ]
    start = here[0].position
    elsewhere = start not in neck_map.positions or (tune_shifts and start != neck_map.position)
    return tuple(_by_turns([(0, here[0]), *later])) if later or elsewhere else ()


def _by_turns(marks: Sequence[tuple[int, _Fretted]]) -> Iterator[PagePosition]:
    """The marks, of which each comes with how many fretted noteheads stand before it; both positions at once where the
    hand goes to and fro.
    """
    at = 0
    while at < len(marks):
        end = at
        while end + 1 < len(marks) and _goes_on(marks, at, end):
            end += 1
        first = marks[at][1]
        if end - at + 1 >= _FEWEST_BY_TURNS:
            both = tuple(sorted({first.position, marks[at + 1][1].position}))
            yield PagePosition(first.head, both)
            at = end
        else:
            yield PagePosition(first.head, (first.position,))
            at += 1


def _goes_on(marks: Sequence[tuple[int, _Fretted]], start: int, end: int) -> bool:
    """Whether the mark after `end` is a turn of the run from `start` on: soon, and back where the hand was before."""
    place, one = marks[end]
    next_place, after = marks[end + 1]
    if next_place - place > _MOST_NOTES_A_TURN or after.position == one.position:
        return False
    return end == start or after.position == marks[end - 1][1].position
