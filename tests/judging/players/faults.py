"""Single faults by name, and how they are strewn over a line: what a player does instead of a step as written."""

from collections.abc import Callable
from dataclasses import replace
from random import Random

from game.neck.tuning import Place
from tests.judging.made_takes import played_note
from tests.judging.players.material import Material
from tests.judging.players.performed import Step
from tests.judging.players.scripts import OPEN_STRINGS, WRONG_BY, plain

_ROOM_S = 0.5
"""Where the next note is nearer, there is no putting right and keeping the pulse."""


def dropped(step: Step, _rng: Random) -> Step:
    return replace(step, sounding=None)


def wrong(step: Step, rng: Random) -> Step:
    return replace(step, sounding=_of(step) + rng.choice(WRONG_BY))


def added(step: Step, rng: Random) -> Step:
    return replace(step, extras=((rng.uniform(0.2, 0.8), _of(step) + rng.choice(WRONG_BY)),))


def plucked_twice(step: Step, rng: Random) -> Step:
    return replace(step, extras_s=((rng.uniform(0.05, 0.12), _of(step)),))


def open_string(step: Step, rng: Random) -> Step:
    return replace(step, extras=((rng.uniform(0.1, 0.9), rng.choice([x for x in OPEN_STRINGS if x != step.sounding])),))


def two_at_once(step: Step, rng: Random) -> Step:
    """Another string sounds within 40 ms."""
    return replace(
        step, extras_s=((rng.choice((-1, 1)) * rng.uniform(0.002, 0.035), _of(step) + rng.choice((-5, 5, 4))),)
    )


def early_touch(step: Step, rng: Random) -> Step:
    """The fretting finger sounds a note just before, a fourth below or two frets off."""
    return replace(step, extras_s=((-rng.uniform(0.04, 0.08), _of(step) + rng.choice((-2, -5, 7))),))


def slid_into(step: Step, rng: Random) -> Step:
    """A fret or two off on the same string, then the right one within a fifth of a second: no fault."""
    home = played_note(_of(step), 0.0).place
    assert home is not None
    frets = rng.choice((-2, -1, 1, 2)) if home.fret > 2 else rng.choice((1, 2))
    pluck = (-rng.uniform(0.04, 0.09), _of(step) + frets)
    return replace(step, slide=(*pluck, Place(string=home.string, fret=home.fret + frets)))


def put_right(step: Step, rng: Random) -> Step:
    """Wrong, then right a quarter of a second later and more, the pulse kept."""
    right = _of(step)
    wrong_pitch = right + rng.choice((-4, -3, -2, -1, 1, 2, 3, 4))
    return replace(step, sounding=wrong_pitch, repair=(rng.uniform(0.25, 0.35), right))


def played_early(step: Step, rng: Random) -> Step:
    return replace(step, aside_s=-rng.uniform(0.05, 0.09))


def _of(step: Step) -> int:
    assert step.sounding is not None
    return step.sounding


SINGLE_FAULTS: dict[str, Callable[[Step, Random], Step]] = {
    "dropped": dropped,
    "wrong": wrong,
    "added": added,
    "plucked twice": plucked_twice,
    "open string": open_string,
    "two at once": two_at_once,
    "early touch": early_touch,
    "slid into": slid_into,
    "put right": put_right,
    "played early": played_early,
}


def strewn(material: Material, fault: Callable[[Step, Random], Step], rng: Random, every: int = 8) -> list[Step]:
    """One fault of a kind now and then, at least five notes apart and none in the first or last two."""
    script = plain(material)
    at = rng.randint(2, every)
    while at < len(script) - 2:
        if fault is not put_right or _room_s(material, at) > _ROOM_S:
            script[at] = fault(script[at], rng)
        at += rng.randint(max(5, every - 3), every + 4)
    return script


def _room_s(material: Material, at: int) -> float:
    return material.grid.onsets_s[at + 1] - material.grid.onsets_s[at]
