"""Players whose takes are full of trouble, as those of beginners are. Each gives a script."""

from collections.abc import Callable
from dataclasses import replace
from itertools import pairwise
from random import Random

from game.judging.verdicts import EventKind
from tests.judging.players.material import Material
from tests.judging.players.performed import NoRoomError, Step
from tests.judging.players.scripts import Course, plain

_LEAP = 5


def waits_at_leaps(material: Material, rng: Random) -> list[Step]:
    """Looks for the fret before each leap of a fourth and more, a fifth of a second to a second; the click goes on."""
    script = plain(material)
    for before, after in pairwise(range(len(script))):
        leap = abs(material.line[after].sounding - material.line[before].sounding) >= _LEAP
        if leap and rng.random() < 0.6:
            script[after] = replace(script[after], wait_s=rng.uniform(0.2, 1.0))
    return script


def bar_by_bar(material: Material, rng: Random) -> list[Step]:
    """Reads a bar, looks at the next for half a second to two, reads on."""
    script = plain(material)
    for at in material.bar_starts[1:]:
        script[at] = replace(script[at], wait_s=rng.uniform(0.5, 2.0), event=EventKind.STOP)
    return script


def each_bar_twice(material: Material, rng: Random) -> list[Step]:
    """Each bar at once again."""
    script: list[Step] = []
    stops = (*material.bar_starts[1:], len(material.line))
    for start, stop in zip(material.bar_starts, stops, strict=True):
        bar = plain(material, range(start, stop))
        wait_s = rng.choice((0.0, 0.0, material.beat_s))
        script += [*bar, replace(bar[0], event=EventKind.RESTART, wait_s=wait_s), *bar[1:]]
    return script


def stumbles(material: Material, rng: Random) -> list[Step]:
    """Every six to twelve notes: a stop, a note or a beat gone over, a wrong note searched for, a note left out."""
    script: list[Step] = []
    index, until, count = 0, rng.randint(4, 10), len(material.line)
    while index < count:
        step = Step(index=index, sounding=material.line[index].sounding)
        if index == until and 0 < index < count - 1:
            until = index + rng.randint(6, 12)
            trouble = rng.choice(_TROUBLES)
            index, steps = trouble(material, step, rng)
            script += steps
        else:
            script.append(step)
        index += 1
    return script


Trouble = Callable[[Material, Step, Random], tuple[int, list[Step]]]
"""What happens at a step; the note read last."""


def _stops(_material: Material, step: Step, rng: Random) -> tuple[int, list[Step]]:
    return step.index, [replace(step, wait_s=rng.uniform(0.3, 3.0), event=EventKind.STOP)]


def _goes_back(material: Material, step: Step, rng: Random) -> tuple[int, list[Step]]:
    to = max(0, step.index - rng.randint(1, 4))
    first, *rest = plain(material, range(to, step.index + 1))
    return step.index, [replace(first, wait_s=rng.uniform(0.2, 1.2), event=EventKind.RESTART), *rest]


def _searches(_material: Material, step: Step, rng: Random) -> tuple[int, list[Step]]:
    """A wrong note, another wrong one, the right one, and only then on."""
    assert step.sounding is not None
    took_s = rng.uniform(0.5, 1.5)
    off = step.sounding + rng.choice((-2, -1, 1, 2))
    more = ((took_s / 2, step.sounding + rng.choice((-3, 3))),) if rng.random() < 0.5 else ()
    found = replace(
        step, sounding=off, repair=(took_s, step.sounding), extras_s=more, lost_s=took_s, event=EventKind.REPAIR
    )
    return step.index, [found]


def _leaves_out(_material: Material, step: Step, _rng: Random) -> tuple[int, list[Step]]:
    return step.index, [replace(step, sounding=None)]


def _plays_wrong(_material: Material, step: Step, rng: Random) -> tuple[int, list[Step]]:
    assert step.sounding is not None
    return step.index, [replace(step, sounding=step.sounding + rng.choice((-2, -1, 1, 2)))]


_TROUBLES: tuple[Trouble, ...] = (_stops, _goes_back, _searches, _leaves_out, _plays_wrong)


def begins_late(material: Material, rng: Random) -> list[Step]:
    """Begins some beats after the count-in."""
    script = plain(material)
    script[0] = replace(script[0], wait_s=rng.uniform(1, 6) * material.beat_s)
    return script


def joins_in(material: Material, _rng: Random) -> list[Step]:
    """Is not ready, and joins in at the second bar."""
    starts = material.bar_starts
    if len(starts) < 3:
        raise NoRoomError
    return [replace(step, sounding=None) if step.index < starts[1] else step for step in plain(material)]


def reads_otherwise(by: int) -> Course:
    """A whole take in another octave or a fret off: tuning, capo, octave. Every pitch is wrong."""

    def course(material: Material, _rng: Random) -> list[Step]:
        return [replace(step, sounding=material.line[step.index].sounding + by) for step in plain(material)]

    return course


def lost_for_a_while(material: Material, rng: Random) -> list[Step]:
    """Six to ten notes running are a third off, as when a clef is mistaken."""
    script = plain(material)
    start = rng.randint(2, max(3, len(script) - 12))
    by = rng.choice((-4, -3, 3, 4))
    for at in range(start, min(start + rng.randint(6, 10), len(script))):
        script[at] = replace(script[at], sounding=material.line[at].sounding + by)
    return script


def many_wrong(material: Material, rng: Random) -> list[Step]:
    """A fifth of the notes wrong."""
    return [
        replace(step, sounding=material.line[step.index].sounding + rng.choice((-2, -1, 1, 2)))
        if rng.random() < 0.2
        else step
        for step in plain(material)
    ]


def each_note_twice(material: Material, _rng: Random) -> list[Step]:
    """Plucks down and up on every note."""
    return [replace(step, extras=((0.5, material.line[step.index].sounding),)) for step in plain(material)]


def evens_out(material: Material, _rng: Random) -> list[Step]:
    """Every note as long as the next: the rhythm is not read."""
    onsets_s = material.grid.onsets_s
    each_s = (onsets_s[-1] - onsets_s[0]) / max(1, len(onsets_s) - 1)
    return [replace(step, aside_s=onsets_s[0] + step.index * each_s - onsets_s[step.index]) for step in plain(material)]


def tries_before(material: Material, rng: Random) -> list[Step]:
    """Tries the guitar in the count-in: notes of the beginning or any."""
    script = plain(material)
    count = rng.randint(3, 6)
    tried = [rng.choice((material.line[k % len(script)].sounding, rng.randint(45, 70))) for k in range(count)]
    beat_s = material.beat_s
    extras = tuple(((k - count - 1) * beat_s * rng.uniform(0.4, 0.5) - beat_s, p) for k, p in enumerate(tried))
    script[0] = replace(script[0], extras_s=extras)
    return script


def plays_on(material: Material, _rng: Random) -> list[Step]:
    """Begins again from the top after the end."""
    again = plain(material, range(min(8, len(material.line) // 2)))
    return [*plain(material), replace(again[0], event=EventKind.RESTART), *again[1:]]


BEGINNERS: dict[str, Course] = {
    "waits at leaps": waits_at_leaps,
    "bar by bar": bar_by_bar,
    "each bar twice": each_bar_twice,
    "stumbles": stumbles,
    "begins late": begins_late,
    "joins in": joins_in,
    "an octave up": reads_otherwise(12),
    "a fret off": reads_otherwise(1),
    "lost for a while": lost_for_a_while,
    "many wrong": many_wrong,
    "each note twice": each_note_twice,
    "evens out": evens_out,
    "tries before": tries_before,
    "plays on": plays_on,
}
