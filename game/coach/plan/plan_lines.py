"""The lines of a plan: in which key, of which notes, and whether as single notes or as a melody."""

from collections.abc import Collection, Mapping
from dataclasses import replace

from game.coach.notes.carried_over import expected_find_s
from game.coach.notes.item_estimate import cost_s
from game.coach.notes.items import UNREAD
from game.coach.notes.new_notes import keys_by_reach, notes_to_meet
from game.coach.notes.weights import (
    covering_keys,
    pitch_classes,
    pitch_weights,
    single_note_weights,
    slow_pitches,
)
from game.coach.numbers import NUMBERS, CoachNumbers
from game.coach.plan.plan_steps import PlannedLine, Situation
from game.music.keys import Key
from game.music.pitch import SEMITONES_OF_STEP
from game.neck.neck_map import NeckMap


def slow_notes_line(
    line: PlannedLine, situation: Situation, numbers: CoachNumbers = NUMBERS, *, in_tune: bool = False
) -> PlannedLine:
    """The line for a block on slow notes as things stand by now, in the key it has.

    While notes are over the limit, or are met today for the first time, it is single notes, for melodies seldom come by
    them; else, and now and then between (`in_tune`), it is a melody that brings the costlier notes more often. Of
    somebody who begins nothing comes but what was met, and what is met today.
    """
    items, neck_map = situation.items, situation.neck_map
    new = new_pitches(situation, numbers)
    wanted = pitch_weights(items, neck_map, due=situation.due_notes, numbers=numbers)
    line = replace(line, weights=_only_known(wanted, situation, new), single_notes=False)
    slow = {} if in_tune else {**slow_pitches(items, neck_map, numbers), **new}
    single = as_single_notes(line, slow, new, situation, numbers)
    return single if single.single_notes else melody_of_known(line, situation, numbers)


def warm_up_line(
    line: PlannedLine, sought: Mapping[int, float], situation: Situation, numbers: CoachNumbers = NUMBERS
) -> PlannedLine:
    """The line for the warm-up: the notes that are `sought`, one by one; where there are none, a melody."""
    new = new_pitches(situation, numbers)
    line = replace(line, weights=_only_known(line.weights, situation, new))
    single = as_single_notes(line, sought, new, situation, numbers)
    return single if single.single_notes else melody_of_known(line, situation, numbers)


def new_pitches(situation: Situation, numbers: CoachNumbers = NUMBERS) -> Mapping[int, float]:
    """The pitches that are met for the first time today, those met already among them: a new note has to come again.
    With the seconds each may cost for all that is known.
    """
    items, neck_map, met_today = situation.items, situation.neck_map, situation.met_today
    expected_s = expected_find_s(items, neck_map, numbers)
    return {
        sounding: cost_s(UNREAD, expected_s.get(sounding, numbers.usual_find_s), doubt=numbers.doubt, numbers=numbers)
        for sounding in (*sorted(met_today), *notes_to_meet(items, neck_map, met_today, numbers))
    }


def melody_of_known(line: PlannedLine, situation: Situation, numbers: CoachNumbers = NUMBERS) -> PlannedLine:
    """The line as a melody of what was met, for somebody who begins: at a lower level, or in another key, where its own
    has too few such notes side by side; where none has, single notes. For everybody else it stays what it is.
    """
    known = situation.known
    if known is None:
        return line
    weights = {pitch: weight if pitch in known else 0.0 for pitch, weight in line.weights.items()}
    key = melody_key(situation, line.level, line.key, numbers)
    if key is not None:
        level, in_key = key
        return replace(line, level=level, key=in_key, weights=weights)
    return replace(line, single_notes=True, weights=weights)


def melody_key(
    situation: Situation, level: int, first: Key | None = None, numbers: CoachNumbers = NUMBERS
) -> tuple[int, Key] | None:
    """The highest level up to this one, and a key, in which a line has room among the notes met: the `first` key where
    it has, else the keys take turns from day to day. None where there is not even room for five notes.
    """
    known, places = situation.known, situation.neck_map.places
    for lower in range(min(level, len(numbers.melody_spans)), 0, -1):
        span = numbers.melody_spans[lower - 1]
        keys = keys_of_level(lower, situation.neck_map, numbers)
        fitting = [key for key in keys if known is None or _has_room(key, span, known, places)]
        if fitting:
            return lower, first if first in fitting else fitting[situation.day % len(fitting)]
    return None


def _has_room(key: Key, span: int, known: Collection[int], places: Collection[int]) -> bool:
    """Whether so many neighbouring notes of a key, its key note among them, were all met."""
    inside = pitch_classes(key)
    tonic = (SEMITONES_OF_STEP[key.name[0]] + key.alter_of(key.name[0])) % 12
    scale = sorted(pitch for pitch in places if pitch % 12 in inside)
    windows = (scale[low : low + span] for low in range(len(scale) - span + 1))
    return any(
        all(pitch in known for pitch in window) and any(pitch % 12 == tonic for pitch in window) for window in windows
    )


def _only_known(weights: Mapping[int, float], situation: Situation, new: Collection[int]) -> Mapping[int, float]:
    known = situation.known
    if known is None:
        return weights
    return {pitch: weight if pitch in known or pitch in new else 0.0 for pitch, weight in weights.items()}


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
    strange = frozenset(range(12)).difference(
        *map(pitch_classes, keys_of_level(situation.level, situation.neck_map, numbers))
    )
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
    keys_known = keys_of_level(situation.level, situation.neck_map, numbers)
    keys = covering_keys(wanted, situation.neck_map, keys_known, numbers)
    return keys[turn % len(keys)]


def keys_of_level(level: int, neck_map: NeckMap, numbers: CoachNumbers = NUMBERS) -> tuple[Key, ...]:
    """The keys of a level, those first that cost fewest stretches on the map: as many as there are keys of the signs
    that a player of that level bears, and for an easier hand one sign more.
    """
    most = numbers.signs_at_first + level // 2
    signs = min(most + 1, numbers.signs_most)
    return keys_by_reach(neck_map, (Key(fifths) for fifths in range(-signs, signs + 1)))[: 2 * most + 1]
