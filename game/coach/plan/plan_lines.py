"""The lines of a plan that are for certain notes: in which key, and whether as single notes or as a melody."""

from collections.abc import Mapping
from dataclasses import replace

from game.coach.notes.weights import keys_in_turn, never_met, over_limit, row_weights, sounds_in, weights
from game.coach.numbers import NUMBERS, CoachNumbers
from game.coach.plan.plan_steps import LineWish, Situation
from game.music.keys import Key


def slow_line_now(wish: LineWish, situation: Situation, numbers: CoachNumbers = NUMBERS) -> LineWish:
    """The wish of a block on slow notes as things stand by now, in the key it has.

    While notes are over the limit, or were never met, it is a row of single notes, for melodies seldom come by them;
    else it is a melody that brings the costlier notes more often.
    """
    items, neck_map = situation.items, situation.neck_map
    wanted = weights(items, neck_map, due=situation.due_notes, numbers=numbers)
    unmet = never_met(items, neck_map, numbers)
    slow = {**over_limit(items, neck_map, numbers), **unmet}
    wish = replace(wish, weights=wanted, row=False)
    return in_row(wish, slow, unmet, situation, numbers)


def in_row(
    wish: LineWish,
    slow: Mapping[int, float],
    unmet: Mapping[int, float],
    situation: Situation,
    numbers: CoachNumbers = NUMBERS,
) -> LineWish:
    """The wish as a row of the `slow` pitches, by their seconds, and of others of its key; as it is where none is slow.

    Pitches outside of the key come only where they are slow and were met before, or where nothing is left to be met but
    pitches that no key of the level has.
    """
    key = wish.key or Key()
    inside = sounds_in(key)
    strange = frozenset(range(12)).difference(*map(sounds_in, bearable_keys(situation.level, numbers)))
    if all(pitch % 12 in strange for pitch in unmet):
        inside |= strange
    others = {pitch: weight for pitch, weight in wish.weights.items() if pitch % 12 in inside}
    sought = {pitch: cost for pitch, cost in slow.items() if pitch not in unmet or pitch % 12 in inside}
    if not sought:
        return wish
    return replace(wish, row=True, weights=row_weights(others, sought, numbers))


def key_in_turn(turn: int, sought: Mapping[int, float], situation: Situation, numbers: CoachNumbers = NUMBERS) -> Key:
    """The key of that turn: of those that together hold the pitches that are `sought`, one after the other."""
    wanted = dict.fromkeys(situation.neck_map.places, numbers.weight_least)
    wanted |= dict.fromkeys(sought, numbers.weight_most)
    keys = keys_in_turn(wanted, situation.neck_map, bearable_keys(situation.level, numbers), numbers)
    return keys[turn % len(keys)]


def bearable_keys(level: int, numbers: CoachNumbers = NUMBERS) -> tuple[Key, ...]:
    """The keys of no more signs than a player of that level bears."""
    most = numbers.signs_at_first + level // 2
    return tuple(Key(fifths) for fifths in range(-most, most + 1))
