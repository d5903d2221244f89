"""The lines of a plan that are for certain notes: in which key, and whether as single notes or as a melody."""

from collections.abc import Mapping
from dataclasses import replace

from game.coach.notes.weights import (
    covering_keys,
    pitch_classes,
    pitch_weights,
    single_note_weights,
    slow_pitches,
    unmet_pitches,
)
from game.coach.numbers import NUMBERS, CoachNumbers
from game.coach.plan.plan_steps import PlannedLine, Situation
from game.music.keys import Key


def slow_notes_line(line: PlannedLine, situation: Situation, numbers: CoachNumbers = NUMBERS) -> PlannedLine:
    """The line for a block on slow notes as things stand by now, in the key it has.

    While notes are over the limit, or were never met, it is single notes, for melodies seldom come by them;
    else it is a melody that brings the costlier notes more often.
    """
    items, neck_map = situation.items, situation.neck_map
    wanted = pitch_weights(items, neck_map, due=situation.due_notes, numbers=numbers)
    unmet = unmet_pitches(items, neck_map, numbers)
    slow = {**slow_pitches(items, neck_map, numbers), **unmet}
    line = replace(line, weights=wanted, single_notes=False)
    return as_single_notes(line, slow, unmet, situation, numbers)


def as_single_notes(
    line: PlannedLine,
    slow: Mapping[int, float],
    unmet: Mapping[int, float],
    situation: Situation,
    numbers: CoachNumbers = NUMBERS,
) -> PlannedLine:
    """The line as single notes: `slow` pitches, by their seconds, and others of its key; as it is where none is slow.

    Pitches outside of the key come only where they are slow and were met before, or where nothing is left to be met but
    pitches that no key of the level has.
    """
    key = line.key or Key()
    inside = pitch_classes(key)
    strange = frozenset(range(12)).difference(*map(pitch_classes, keys_of_level(situation.level, numbers)))
    if all(pitch % 12 in strange for pitch in unmet):
        inside |= strange
    others = {pitch: weight for pitch, weight in line.weights.items() if pitch % 12 in inside}
    sought = {pitch: cost for pitch, cost in slow.items() if pitch not in unmet or pitch % 12 in inside}
    if not sought:
        return line
    return replace(line, single_notes=True, weights=single_note_weights(others, sought, numbers))


def key_in_turn(turn: int, sought: Mapping[int, float], situation: Situation, numbers: CoachNumbers = NUMBERS) -> Key:
    """The key of that turn: of those that together hold the pitches that are `sought`, one after the other."""
    wanted = dict.fromkeys(situation.neck_map.places, numbers.weight_least)
    wanted |= dict.fromkeys(sought, numbers.weight_most)
    keys = covering_keys(wanted, situation.neck_map, keys_of_level(situation.level, numbers), numbers)
    return keys[turn % len(keys)]


def keys_of_level(level: int, numbers: CoachNumbers = NUMBERS) -> tuple[Key, ...]:
    """The keys of no more signs than a player of that level bears."""
    most = numbers.signs_at_first + level // 2
    return tuple(Key(fifths) for fifths in range(-most, most + 1))
