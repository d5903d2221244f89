"""What a pickup tells besides the note that was played, or instead of it: each fault as messages. Chance is passed in.

How often, how loud and how long is nowhere published: the ranges are ours, from common complaint.
"""

from collections.abc import Iterable, Iterator
from dataclasses import dataclass, replace
from enum import Enum
from random import Random

from game.instrument.decoding.channel import FULL_BEND
from game.instrument.decoding.strings_setup import StringsSetup
from game.neck.tuning import Place

Sent = tuple[float, int, bytes]
"""When, what goes first at one moment (0 ends, 1 bends, 2 begins), and the message."""

_OCTAVE = 12
# How far above an open string, or below, what makes it ring along: unisons, octaves, fifths, in any octave.
_RINGS_ALONG = (0, 5, 7)


class Fault(Enum):
    """What the stream holds besides the notes."""

    SLIDE_BY_NOTES = "slide, told as notes"
    SLIDE_BY_BEND = "slide, told as a bend"
    VIBRATO = "vibrato"
    SOFT_GHOST = "soft ghost"
    SHORT_GHOST = "short ghost"
    WRONG_ATTACK = "an octave off at first"
    LATE_OCTAVE = "an octave off for 95 ms"
    FLICKER = "octave flicker"
    LONG_FLICKER = "octave flicker of 95 ms"
    CROSS_TALK = "cross-talk"
    DOUBLED = "double trigger"
    NO_NOTE_OFF = "no note-off"
    FAINT_SECOND = "faint second note"
    RINGS_ALONG = "open string ringing along"
    TRACKED_ANEW = "decaying note tracked anew"


@dataclass(frozen=True, slots=True)
class Told:
    """A note as the device tells it: from `on_s` to `off_s` (None: it never tells) on a channel."""

    channel: int
    number: int
    on_s: float
    off_s: float | None
    velocity: int

    @property
    def events(self) -> Iterable[Sent]:
        yield self.on_s, 2, bytes((0x90 | self.channel - 1, self.number, self.velocity))
        if self.off_s is not None:
            yield self.off_s, 0, bytes((0x80 | self.channel - 1, self.number, 0))


def slide_by_notes(told: Told, frets: int, rng: Random) -> Iterator[Sent]:
    """A slide over so many frets, each pitch a note of its own."""
    start = told.number - frets
    middle_s = told.on_s + rng.uniform(0.020, 0.050)
    arrival_s = middle_s + rng.uniform(0.020, 0.050)
    yield from Told(told.channel, start, told.on_s, middle_s, told.velocity).events
    yield from Told(told.channel, (start + told.number) // 2, middle_s, arrival_s, told.velocity).events
    yield from replace(told, on_s=arrival_s).events


def slide_by_bend(told: Told, frets: int, setup: StringsSetup, rng: Random) -> Iterator[Sent]:
    """The same as one note that is bent up or down."""
    yield from replace(told, number=told.number - frets).events
    lasts_s = rng.uniform(0.05, 0.12)
    for step in range(1, 11):
        yield told.on_s + lasts_s * step / 10, 1, bend_message(told.channel, frets * step / 10, setup)


def wrong_octave(told: Told, lasts_s: float, rng: Random, *, with_offs: bool = True) -> Iterator[Sent]:
    """The device guesses the octave and puts it right after `lasts_s`: mostly it took an overtone for the note."""
    right_s = told.on_s + lasts_s
    apart = _OCTAVE if rng.random() < 0.8 else -_OCTAVE
    off_s = right_s if with_offs else None
    yield from Told(told.channel, told.number + apart, told.on_s, off_s, told.velocity).events
    yield from replace(told, on_s=right_s).events


def doubled(told: Told, rng: Random) -> Iterator[Sent]:
    """One pluck told twice."""
    yield from replace(told, off_s=None).events
    yield from replace(told, on_s=told.on_s + rng.uniform(0.008, 0.035)).events


def vibrato(told: Told, ends_s: float, setup: StringsSetup, rng: Random) -> Iterator[Sent]:
    """Five or six times a second, up to half a semitone, on a note that has begun to sound."""
    at_s, up = told.on_s + 0.15, True
    half_s, depth = 0.5 / rng.uniform(4.5, 6.5), rng.uniform(0.15, 0.5)
    while at_s < ends_s - 0.02:
        yield at_s, 1, bend_message(told.channel, depth if up else 0.0, setup)
        at_s, up = at_s + half_s, not up
    yield ends_s - 0.01, 1, bend_message(told.channel, 0.0, setup)


def flicker(told: Told, at_s: float, lasts_s: float, rng: Random) -> Iterator[Sent]:
    """An octave up for a moment and back, with or without note-offs between."""
    back_s = at_s + lasts_s
    with_offs = rng.random() < 0.5
    if with_offs:
        yield at_s - 0.0001, 0, bytes((0x80 | told.channel - 1, told.number, 0))
    up = Told(told.channel, told.number + _OCTAVE, at_s, back_s if with_offs else None, told.velocity)
    yield from up.events
    yield from Told(told.channel, told.number, back_s, None, told.velocity).events


def faint_second(told: Told, lasts_s: float, rng: Random) -> Iterator[Sent]:
    """A faint note on the same channel while the first stands, of any pitch: an overtone, or the string brushed."""
    on_s = told.on_s + rng.uniform(0.005, 0.6) * lasts_s
    off_s = on_s + rng.uniform(0.01, 0.3) * lasts_s
    number = told.number + rng.choice((-12, -5, -2, -1, 1, 2, 3, 7, 12, 19))
    velocity = rng.randint(10, max(11, round(min(30, 0.4 * told.velocity))))
    yield from Told(told.channel, number, on_s, off_s, velocity).events


def tracked_anew(told: Told, until_s: float, rng: Random) -> Iterator[Sent]:
    """The device loses the dying note and hears it again, as it is or an octave up; the first has its note-off."""
    assert told.off_s is not None
    on_s = told.off_s + rng.uniform(0.0, 0.1)
    number = told.number + rng.choice((0, 0, _OCTAVE))
    velocity = rng.randint(10, max(11, round(min(23, 0.28 * told.velocity))))
    yield from Told(told.channel, number, on_s, max(on_s + 0.02, until_s), velocity).events


def rings_along(setup: StringsSetup, place: Place, told: Told, rng: Random) -> Iterator[Sent]:
    """An open string that shares overtones with the note rings with it, faintly and long."""
    others = [
        string
        for string, sounding in enumerate(setup.tuning.open_strings, 1)
        if string != place.string and (told.number - sounding) % _OCTAVE in _RINGS_ALONG
    ]
    if not others:
        return
    string = rng.choice(others)
    on_s = told.on_s + rng.uniform(0.02, 0.08)
    velocity = rng.randint(10, max(11, round(min(23, 0.28 * told.velocity))))
    number = setup.tuning.open_strings[string - 1]
    yield from Told(setup.channels[string - 1], number, on_s, on_s + rng.uniform(0.1, 0.8), velocity).events


def on_another_string(setup: StringsSetup, place: Place, told: Told, fault: Fault, rng: Random) -> Iterator[Sent]:
    """A string that was brushed, or that sounds along."""
    others = [string for string in (place.string - 1, place.string + 1) if 1 <= string <= len(setup.channels)]
    string = rng.choice(others)
    open_string = setup.tuning.open_strings[string - 1]
    channel = setup.channels[string - 1]
    if fault is Fault.CROSS_TALK:
        if 0 <= told.number - open_string <= setup.frets:
            on_s = told.on_s + rng.uniform(0.001, 0.010)
            softer = max(1, round(told.velocity * rng.uniform(0.2, 0.7)))
            yield from Told(channel, told.number, on_s, on_s + rng.uniform(0.02, 0.12), softer).events
        return
    number = open_string + rng.randint(0, 12)
    on_s = told.on_s + rng.uniform(-0.03, 0.05)
    if fault is Fault.SOFT_GHOST:
        yield from Told(channel, number, on_s, on_s + rng.uniform(0.01, 0.2), rng.randint(1, 9)).events
    else:
        yield from Told(channel, number, on_s, on_s + rng.uniform(0.003, 0.030), rng.randint(10, 70)).events


def bend_message(channel: int, semitones: float, setup: StringsSetup) -> bytes:
    """A bend by so many semitones on a device of that range."""
    bend = round(semitones / setup.bend_semitones * FULL_BEND) + FULL_BEND
    bend = min(2 * FULL_BEND - 1, max(0, bend))
    return bytes((0xE0 | channel - 1, bend & 0x7F, bend >> 7))
