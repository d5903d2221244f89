"""The courses a take can run: stops, jumps, repairs, things left out. Each gives a script."""

from collections.abc import Callable, Iterable, Sequence
from dataclasses import replace
from random import Random

from game.judging.verdicts import EventKind
from tests.judging.made_takes import HIGHEST, LOWEST
from tests.judging.players.material import Material
from tests.judging.players.performed import NoRoomError, Step

OPEN_STRINGS = (40, 45, 50, 55, 59, 64)
WRONG_BY = (-12, -3, -2, -2, -1, -1, 1, 1, 2, 2, 3, 12)

Course = Callable[[Material, Random], list[Step]]
"""A script for a line. Raises `NoRoomError` where the line has no room for it."""


def plain(material: Material, indices: Iterable[int] | None = None) -> list[Step]:
    """Every note right, in order."""
    rows = range(len(material.line)) if indices is None else indices
    return [Step(index=index, sounding=material.line[index].sounding) for index in rows]


def with_faults(script: Sequence[Step], share: float, rng: Random) -> list[Step]:
    """Each of dropped, wrong and added at a `share` of the notes, each by itself. A jump's first note stays right."""
    return [_at_fault(step, share, rng) for step in script]


def _at_fault(step: Step, share: float, rng: Random) -> Step:
    fate = rng.random()
    if step.event is not None or step.sounding is None or step.repair is not None:
        return step
    if fate < share:
        return replace(step, sounding=None)
    if fate < 2 * share:
        return replace(step, sounding=step.sounding + rng.choice(WRONG_BY))
    return replace(step, extras=((rng.uniform(0.15, 0.85), added_pitch(step, rng)),)) if fate < 3 * share else step


def added_pitch(step: Step, rng: Random) -> int:
    """Of a note too many: near by, the same again, an open string or anything."""
    assert step.sounding is not None
    near = step.sounding + rng.choice((-2, -1, 1, 2))
    return rng.choice((near, near, step.sounding, rng.choice(OPEN_STRINGS), rng.randint(LOWEST, HIGHEST)))


def straight(material: Material, _rng: Random) -> list[Step]:
    return plain(material)


def _middle(material: Material, rng: Random, least: int = 4) -> int:
    count = len(material.line)
    return rng.randint(min(least, count // 3), max(count - 1 - least, count // 2))


def _waiting(material: Material, at: int, wait_s: float, event: EventKind | None = EventKind.STOP) -> list[Step]:
    script = plain(material)
    script[at] = replace(script[at], wait_s=wait_s, event=event)
    return script


def stop_on_beat(material: Material, rng: Random) -> list[Step]:
    """One to six whole beats lost."""
    return _waiting(material, _middle(material, rng), rng.randint(1, 6) * material.beat_s)


def stop_off_beat(material: Material, rng: Random) -> list[Step]:
    """Half a second to four seconds, at least a fifth of a beat off any beat."""
    beat_s = material.beat_s
    beats = int(rng.uniform(max(0.5, beat_s), 4.0) / beat_s) + rng.uniform(0.2, 0.8)
    return _waiting(material, _middle(material, rng), beats * beat_s)


def two_seconds(material: Material, rng: Random) -> list[Step]:
    return _waiting(material, _middle(material, rng), 2.0)


def beat_behind(material: Material, rng: Random) -> list[Step]:
    """A beat lost at once; the rest is read one beat behind."""
    return _waiting(material, _middle(material, rng), material.beat_s)


def beat_ahead(material: Material, rng: Random) -> list[Step]:
    """A rest or a long note left out by a beat: the rest is read one beat ahead."""
    due_s = material.grid.onsets_s
    long = [i for i in range(4, len(due_s) - 4) if due_s[i] - due_s[i - 1] > 1.4 * material.beat_s]
    if not long:
        raise NoRoomError
    return _waiting(material, rng.choice(long), -material.beat_s, None)


def gone_back(material: Material, to: int, at: int, wait_s: float) -> list[Step]:
    """At note `at` the player goes back to `to` and reads on from there."""
    first, again = plain(material, range(at)), plain(material, range(to, len(material.line)))
    kind = EventKind.RESTART
    again[0] = replace(again[0], wait_s=wait_s, event=kind)
    return [*first, *again]


def back_a_note(material: Material, rng: Random) -> list[Step]:
    at = _middle(material, rng)
    return gone_back(material, at - 1, at, _some_wait(material, rng))


def back_a_beat(material: Material, rng: Random) -> list[Step]:
    at = _middle(material, rng)
    onset = material.line[at].note.onset
    to = next(index for index in range(at + 1) if material.line[index].note.onset >= onset - 1)
    return gone_back(material, min(to, at - 1), at, _some_wait(material, rng))


def back_a_bar(material: Material, rng: Random) -> list[Step]:
    """From a bar line, or some notes after it, back to the start of the bar before or of this one."""
    starts = material.bar_starts
    if len(starts) < 3:
        raise NoRoomError
    bar = rng.randint(1, len(starts) - 2)
    at = starts[bar] if rng.random() < 0.5 else rng.randint(starts[bar], starts[bar + 1])
    return gone_back(material, starts[bar - (at == starts[bar])], max(at, 1), _some_wait(material, rng))


def from_the_top(material: Material, rng: Random) -> list[Step]:
    return gone_back(material, 0, _middle(material, rng), _some_wait(material, rng))


def false_start(material: Material, rng: Random) -> list[Step]:
    """The first notes played, then a pause and once more from the start."""
    return gone_back(material, 0, rng.randint(2, 4), rng.randint(1, 6) * material.beat_s)


def _some_wait(material: Material, rng: Random) -> float:
    """Nothing, whole beats, or any time up to two seconds."""
    return rng.choice((0.0, rng.randint(1, 3) * material.beat_s, rng.uniform(0.2, 2.0)))


def skipped_bar(material: Material, rng: Random) -> list[Step]:
    """A bar is left out, and the next played in its stead."""
    starts = (*material.bar_starts, len(material.line))
    if len(starts) < 4:
        raise NoRoomError
    bar = rng.randint(1, len(starts) - 3)
    return _without(material, starts[bar], starts[bar + 1])


def skipped_beat(material: Material, rng: Random) -> list[Step]:
    """The notes of one beat are left out, and the time with them."""
    at = _middle(material, rng)
    beat = int(material.line[at].note.onset)
    of_beat = [i for i, note in enumerate(material.line) if beat <= note.note.onset < beat + 1]
    return _without(material, of_beat[0], of_beat[-1] + 1)


def skipped_note(material: Material, rng: Random) -> list[Step]:
    """One note left out with its time: the next comes when it was due."""
    at = _middle(material, rng)
    return _without(material, at, at + 1)


def _without(material: Material, start: int, stop: int) -> list[Step]:
    before, after = plain(material, range(start)), plain(material, range(stop, len(material.line)))
    if after:
        after[0] = replace(after[0], event=EventKind.SKIP)
    return [*before, *after]


def silent_bar(material: Material, rng: Random) -> list[Step]:
    """A bar goes by without a note; the player joins in again at the next."""
    starts = (*material.bar_starts, len(material.line))
    script = plain(material)
    if len(starts) < 4:
        raise NoRoomError
    bar = rng.randint(1, len(starts) - 3)
    for at in range(starts[bar], starts[bar + 1]):
        script[at] = replace(script[at], sounding=None)
    return script


def last_left_out(material: Material, rng: Random) -> list[Step]:
    """The player is through some notes before the end."""
    return plain(material, range(len(material.line) - rng.randint(1, min(8, len(material.line) // 2))))


def repaired(material: Material, rng: Random) -> list[Step]:
    """Wrong, stopped, played right, and on: the time that took is lost."""
    at = _middle(material, rng)
    script = plain(material)
    wait_s = rng.uniform(0.3, 1.0)
    off = script[at].sounding + rng.choice((-2, -1, 1, 2))
    script[at] = replace(script[at], sounding=off, repair=(wait_s, script[at].sounding), lost_s=wait_s)
    script[at] = replace(script[at], event=EventKind.REPAIR)
    return script


JUMPS: dict[str, Course] = {
    "skipped bar": skipped_bar,
    "skipped beat": skipped_beat,
    "skipped note": skipped_note,
    "one beat behind": beat_behind,
    "one beat ahead": beat_ahead,
    "back a note": back_a_note,
    "back a beat": back_a_beat,
    "back a bar": back_a_bar,
    "from the top": from_the_top,
    "false start": false_start,
    "stop on the beat": stop_on_beat,
    "stop off the beat": stop_off_beat,
    "two seconds": two_seconds,
    "silent bar": silent_bar,
    "last notes left out": last_left_out,
    "repaired": repaired,
}
