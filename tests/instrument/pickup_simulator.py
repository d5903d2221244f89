"""A pickup for tests and demos: what a guitarist plays becomes a MIDI mode 4 stream, with what pickups do wrong.

What was meant goes in, so that what is made of the stream can be compared with it. Pure; chance is passed in. How often
real devices do each of these is nowhere published: the usual shares are ours, from common complaint.
"""

from collections.abc import Iterable, Iterator, Mapping, Sequence
from dataclasses import dataclass, field, replace
from enum import Enum
from random import Random

from game.instrument.decoding.channel import FULL_BEND
from game.instrument.decoding.delay import Delay
from game.instrument.decoding.played import PlayedNote
from game.instrument.decoding.stamped import StampedMessage
from game.instrument.decoding.strings_setup import StringsSetup
from game.neck.tuning import Place

SOURCE = "simulated pickup"


class Fault(Enum):
    """What the stream holds besides the notes."""

    SLIDE_BY_NOTES = "slide, told as notes"
    SLIDE_BY_BEND = "slide, told as a bend"
    VIBRATO = "vibrato"
    SOFT_GHOST = "soft ghost"
    SHORT_GHOST = "short ghost"
    WRONG_ATTACK = "an octave off at first"
    FLICKER = "octave flicker"
    CROSS_TALK = "cross-talk"
    DOUBLED = "double trigger"
    NO_NOTE_OFF = "no note-off"


USUAL_SHARES: Mapping[Fault, float] = {
    Fault.SLIDE_BY_NOTES: 0.03,
    Fault.SLIDE_BY_BEND: 0.03,
    Fault.VIBRATO: 0.10,
    Fault.SOFT_GHOST: 0.05,
    Fault.SHORT_GHOST: 0.05,
    Fault.WRONG_ATTACK: 0.03,
    Fault.FLICKER: 0.03,
    Fault.CROSS_TALK: 0.03,
    Fault.DOUBLED: 0.03,
    Fault.NO_NOTE_OFF: 0.05,
}
CLEAN: Mapping[Fault, float] = {}

# One of these at most happens to a note: they are all about how it begins.
_BEGINNINGS = (Fault.SLIDE_BY_NOTES, Fault.SLIDE_BY_BEND, Fault.WRONG_ATTACK, Fault.DOUBLED)
_OCTAVE = 12


@dataclass(frozen=True, slots=True, kw_only=True)
class Pickup:
    """`shares` say how often each fault happens to a note, 0 to 1. `delay` is how late notes are told, with
    `jitter_s` the standard deviation beside it. `tells_range` sends the range of the bend first (RPN 0).
    """

    setup: StringsSetup = field(default_factory=StringsSetup)
    shares: Mapping[Fault, float] = field(default_factory=lambda: USUAL_SHARES)
    delay: Delay = field(default_factory=Delay)
    jitter_s: float = 0.001
    tells_range: bool = True


def stream(pickup: Pickup, notes: Sequence[PlayedNote], rng: Random) -> tuple[StampedMessage, ...]:
    """The messages for notes at their places, in order of time.

    Each note lasts until shortly before the next on its string, at most a second. Raises `ValueError` for a note
    without a place.
    """
    events: list[tuple[float, int, bytes]] = []
    if pickup.tells_range:
        first_s = min((note.started_s for note in notes), default=0.0) - 0.1
        events += [(first_s, 0, message) for message in _range_of(pickup.setup)]
    for index, note in enumerate(notes):
        if note.place is None:
            raise ValueError(f"a pickup plays places: note {index + 1} has none")
        events += _note(pickup, note, _lasts_s(notes, index), rng)
    # At the same moment what ends comes first, then bends, then what begins.
    events.sort(key=lambda event: event[:2])
    return tuple(StampedMessage(at_s, 0.0, message, SOURCE) for at_s, _, message in events)


def _range_of(setup: StringsSetup) -> Iterator[bytes]:
    for channel in setup.channels:
        for controller, setting in ((101, 0), (100, 0), (6, int(setup.bend_semitones)), (101, 127), (100, 127)):
            yield bytes((0xB0 | channel - 1, controller, setting))


def _lasts_s(notes: Sequence[PlayedNote], index: int) -> float:
    note = notes[index]
    assert note.place is not None
    for later in notes[index + 1 :]:
        if later.place is not None and later.place.string == note.place.string:
            return max(0.1, min(1.0, later.started_s - note.started_s - 0.005))
    return 1.0


@dataclass(frozen=True, slots=True)
class _Told:
    """A note as the device tells it: from `on_s` to `off_s` (None: it never tells) on a channel."""

    channel: int
    number: int
    on_s: float
    off_s: float | None
    velocity: int

    @property
    def events(self) -> Iterable[tuple[float, int, bytes]]:
        yield self.on_s, 2, bytes((0x90 | self.channel - 1, self.number, self.velocity))
        if self.off_s is not None:
            yield self.off_s, 0, bytes((0x80 | self.channel - 1, self.number, 0))


def _note(pickup: Pickup, note: PlayedNote, lasts_s: float, rng: Random) -> Iterator[tuple[float, int, bytes]]:
    setup, place = pickup.setup, note.place
    assert place is not None
    channel = setup.channels[place.string - 1]
    on_s = note.started_s + pickup.delay.of(note.sounding) + abs(rng.gauss(0, pickup.jitter_s))
    off_s = None if _happens(pickup, Fault.NO_NOTE_OFF, rng) else on_s + lasts_s * rng.uniform(0.8, 0.97)
    told = _Told(channel, note.sounding, on_s, off_s, note.velocity)
    beginning = next((fault for fault in _BEGINNINGS if _happens(pickup, fault, rng)), None)
    yield on_s - 0.001, 1, _bend(channel, 0.0, setup)
    yield from _begins(setup, place, told, beginning, rng)
    ends_s = on_s + lasts_s
    if beginning is None and lasts_s > 0.25:
        if _happens(pickup, Fault.VIBRATO, rng):
            yield from _vibrato(told, ends_s, setup, rng)
        elif _happens(pickup, Fault.FLICKER, rng):
            yield from _flicker(told, on_s + rng.uniform(0.1, lasts_s - 0.1), rng)
    for fault in (Fault.SOFT_GHOST, Fault.SHORT_GHOST, Fault.CROSS_TALK):
        if _happens(pickup, fault, rng):
            yield from _on_another_string(setup, place, told, fault, rng)


def _happens(pickup: Pickup, fault: Fault, rng: Random) -> bool:
    return rng.random() < pickup.shares.get(fault, 0.0)


def _begins(
    setup: StringsSetup, place: Place, told: _Told, beginning: Fault | None, rng: Random
) -> Iterator[tuple[float, int, bytes]]:
    """How a note begins, and its end."""
    frets = 2 if place.fret >= 2 else -2
    start = told.number - frets
    if beginning is Fault.SLIDE_BY_NOTES:
        middle_s = told.on_s + rng.uniform(0.020, 0.050)
        arrival_s = middle_s + rng.uniform(0.020, 0.050)
        yield from _Told(told.channel, start, told.on_s, middle_s, told.velocity).events
        yield from _Told(told.channel, (start + told.number) // 2, middle_s, arrival_s, told.velocity).events
        yield from replace(told, on_s=arrival_s).events
    elif beginning is Fault.SLIDE_BY_BEND:
        yield from replace(told, number=start).events
        lasts_s = rng.uniform(0.05, 0.12)
        for step in range(1, 11):
            yield told.on_s + lasts_s * step / 10, 1, _bend(told.channel, frets * step / 10, setup)
    elif beginning is Fault.WRONG_ATTACK:
        right_s = told.on_s + rng.uniform(0.012, 0.045)
        yield from _Told(told.channel, told.number + _OCTAVE, told.on_s, right_s, told.velocity).events
        yield from replace(told, on_s=right_s).events
    elif beginning is Fault.DOUBLED:
        yield from _Told(told.channel, told.number, told.on_s, None, told.velocity).events
        yield from replace(told, on_s=told.on_s + rng.uniform(0.008, 0.035)).events
    else:
        yield from told.events


def _vibrato(told: _Told, ends_s: float, setup: StringsSetup, rng: Random) -> Iterator[tuple[float, int, bytes]]:
    """Five or six times a second, up to half a semitone, on a note that has begun to sound."""
    at_s, up = told.on_s + 0.15, True
    half_s, depth = 0.5 / rng.uniform(4.5, 6.5), rng.uniform(0.15, 0.5)
    while at_s < ends_s - 0.02:
        yield at_s, 1, _bend(told.channel, depth if up else 0.0, setup)
        at_s, up = at_s + half_s, not up
    yield ends_s - 0.01, 1, _bend(told.channel, 0.0, setup)


def _flicker(told: _Told, at_s: float, rng: Random) -> Iterator[tuple[float, int, bytes]]:
    """An octave up for a moment and back, with or without note-offs between."""
    back_s = at_s + rng.uniform(0.012, 0.050)
    with_offs = rng.random() < 0.5
    if with_offs:
        yield at_s - 0.0001, 0, bytes((0x80 | told.channel - 1, told.number, 0))
    up = _Told(told.channel, told.number + _OCTAVE, at_s, back_s if with_offs else None, told.velocity)
    yield from up.events
    yield from _Told(told.channel, told.number, back_s, None, told.velocity).events


def _on_another_string(
    setup: StringsSetup, place: Place, told: _Told, fault: Fault, rng: Random
) -> Iterator[tuple[float, int, bytes]]:
    """A string that was brushed, or that sounds along."""
    others = [string for string in (place.string - 1, place.string + 1) if 1 <= string <= len(setup.channels)]
    string = rng.choice(others)
    open_string = setup.tuning.open_strings[string - 1]
    channel = setup.channels[string - 1]
    if fault is Fault.CROSS_TALK:
        if 0 <= told.number - open_string <= setup.frets:
            on_s = told.on_s + rng.uniform(0.001, 0.010)
            softer = max(1, round(told.velocity * rng.uniform(0.2, 0.7)))
            yield from _Told(channel, told.number, on_s, on_s + rng.uniform(0.02, 0.12), softer).events
        return
    number = open_string + rng.randint(0, 12)
    on_s = told.on_s + rng.uniform(-0.03, 0.05)
    if fault is Fault.SOFT_GHOST:
        yield from _Told(channel, number, on_s, on_s + rng.uniform(0.01, 0.2), rng.randint(1, 9)).events
    else:
        yield from _Told(channel, number, on_s, on_s + rng.uniform(0.003, 0.030), rng.randint(10, 70)).events


def _bend(channel: int, semitones: float, setup: StringsSetup) -> bytes:
    bend = round(semitones / setup.bend_semitones * FULL_BEND) + FULL_BEND
    bend = min(2 * FULL_BEND - 1, max(0, bend))
    return bytes((0xE0 | channel - 1, bend & 0x7F, bend >> 7))
