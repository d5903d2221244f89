"""A fresh line put on the desk: made for the player's map, in a key where it needs few stretches."""

from collections.abc import Mapping
from dataclasses import replace
from random import Random

from game.coach.plan.plan_lines import melody_of_known
from game.coach.plan.plan_steps import PlannedLine
from game.errors import TuneError
from game.lines.fingerprint import fingerprints
from game.lines.fresh_line import fresh_line
from game.lines.key_ladder import ladder_keys
from game.lines.levels import level_of
from game.lines.scale import key_named
from game.lines.siblings import sibling
from game.music.keys import Key
from game.music.score import Score
from game.neck.neck_map import NeckMap
from game.practice.take_request import TakeRequest, request_for
from game.screens.context import ScreenContext

BARS = 8


def fresh_line_request(context: ScreenContext, chance: Random, key: str = "") -> TakeRequest:
    """A line of the level that is set, with the notes in it that the player is slow to find, in a key of that name or
    in any that suits: for somebody who begins, one of notes that were met, while there are enough of them for a line.

    Raises `TuneError` where the map holds too little of the key.
    """
    level = context.settings.line_level
    neck_map = context.settings.neck_map()
    weights = context.session.notes.weights(neck_map)
    if key:
        return line_request(context, level, key_named(key), chance, weights=weights)
    line = melody_of_known(PlannedLine(level=level, weights=weights), context.session.plan.situation())
    if line.key is None or line.single_notes:
        return line_request(context, level, key_for_level(level, neck_map, chance), chance, weights=weights)
    return line_request(context, line.level, line.key, chance, weights=line.weights)


def line_request(
    context: ScreenContext,
    level: int,
    key: Key,
    chance: Random,
    *,
    bars: int = BARS,
    weights: Mapping[int, float] | None = None,
    neck_map: NeckMap | None = None,
) -> TakeRequest:
    """A line that this player has not met, on a map, theirs where none is told; where none of its kind is left, one
    they may have met long ago.

    Raises `TuneError` where the map holds too little of the key.
    """
    neck_map, facts = neck_map or context.settings.neck_map(), context.session.log.facts

    def made(seen: frozenset[str] | None) -> Score:
        return fresh_line(level_of(level), neck_map, key=key, bars=bars, rng=chance, weights=weights or None, seen=seen)

    try:
        score = made(facts.met_lines)
    except TuneError:
        score = made(None)
    facts.meet_line(fingerprints(score))
    return replace(request_for(score, neck_map), fresh=True)


def sibling_request(context: ScreenContext, request: TakeRequest, chance: Random) -> TakeRequest:
    """A sibling of the passage at hand. Raises `TuneError` where it has none on its map."""
    neck_map, facts = request.neck_map, context.session.log.facts
    seed = chance.randrange(1_000_000)
    try:
        score = sibling(request.passage, neck_map, seed=seed, seen=facts.met_lines)
    except TuneError:
        score = sibling(request.passage, neck_map, seed=seed)
    facts.meet_line(fingerprints(score))
    made = request_for(replace(score, composer=""), neck_map)
    return replace(made, fresh=True, planned=request.planned, map_name=request.map_name, assigned=request.assigned)


def key_for_level(level: int, neck_map: NeckMap, chance: Random) -> Key:
    """The key of a line that may be in any: an easy one at first."""
    return chance.choice(ladder_keys(level, neck_map))


def keys_of_level(level: int, neck_map: NeckMap) -> tuple[str, ...]:
    """The names of the keys that lines of a level are made in."""
    return tuple(key.name for key in ladder_keys(level, neck_map))
