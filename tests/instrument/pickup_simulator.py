"""A pickup for tests and demos: what a guitarist plays becomes a MIDI mode 4 stream, with what pickups do wrong.

What was meant goes in, so that what is made of the stream can be compared with it. Pure; chance is passed in. How often
real devices do each of these is nowhere published: the usual shares are ours, from common complaint.
"""

from collections.abc import Iterator, Mapping, Sequence
from dataclasses import dataclass, field, replace
from random import Random

from game.instrument.decoding.delay import Delay
from game.instrument.decoding.played import PlayedNote
from game.instrument.decoding.stamped import StampedMessage
from game.instrument.decoding.strings_setup import StringsSetup
from game.neck.tuning import Place
from tests.instrument import pickup_faults
from tests.instrument.pickup_faults import Fault, Sent, Told, bend_message

SOURCE = "simulated pickup"

USUAL_SHARES: Mapping[Fault, float] = {
    Fault.SLIDE_BY_NOTES: 0.03,
    Fault.SLIDE_BY_BEND: 0.03,
    Fault.VIBRATO: 0.10,
    Fault.SOFT_GHOST: 0.05,
    Fault.SHORT_GHOST: 0.05,
    Fault.WRONG_ATTACK: 0.03,
    Fault.LATE_OCTAVE: 0.03,
    Fault.FLICKER: 0.03,
    Fault.LONG_FLICKER: 0.03,
    Fault.CROSS_TALK: 0.03,
    Fault.DOUBLED: 0.03,
    Fault.NO_NOTE_OFF: 0.05,
    Fault.FAINT_SECOND: 0.03,
    Fault.RINGS_ALONG: 0.03,
    Fault.TRACKED_ANEW: 0.03,
}
CLEAN: Mapping[Fault, float] = {}

# One of these at most happens to a note: they are all about how it begins, or how it goes on.
_BEGINNINGS = (Fault.SLIDE_BY_NOTES, Fault.SLIDE_BY_BEND, Fault.WRONG_ATTACK, Fault.LATE_OCTAVE, Fault.DOUBLED)
_GOING_ON = (Fault.VIBRATO, Fault.FLICKER, Fault.LONG_FLICKER, Fault.FAINT_SECOND, Fault.TRACKED_ANEW)
_ELSEWHERE = (Fault.SOFT_GHOST, Fault.SHORT_GHOST, Fault.CROSS_TALK)


@dataclass(frozen=True, slots=True, kw_only=True)
class Pickup:
    """`shares` say how often each fault happens to a note, 0 to 1. `delay` is how late notes are told, with
    `jitter_s` the standard deviation beside it. `tells_range` sends the range of the bend first (RPN 0). `slides` are
    the frets that are slid over, one of them by chance; a note too low on its string for it is slid down to.
    """

    setup: StringsSetup = field(default_factory=StringsSetup)
    shares: Mapping[Fault, float] = field(default_factory=lambda: USUAL_SHARES)
    delay: Delay = field(default_factory=Delay)
    jitter_s: float = 0.001
    tells_range: bool = True
    slides: tuple[int, ...] = (2,)


def stream(pickup: Pickup, notes: Sequence[PlayedNote], rng: Random) -> tuple[StampedMessage, ...]:
    """The messages for notes at their places, in order of time.

    Each note lasts until shortly before the next on its string, at most a second. Raises `ValueError` for a note
    without a place.
    """
    events: list[Sent] = []
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
            return max(0.02, min(1.0, later.started_s - note.started_s - 0.005))
    return 1.0


def _note(pickup: Pickup, note: PlayedNote, lasts_s: float, rng: Random) -> Iterator[Sent]:
    setup, place = pickup.setup, note.place
    assert place is not None
    channel = setup.channels[place.string - 1]
    on_s = note.started_s + pickup.delay.of(note.sounding) + abs(rng.gauss(0, pickup.jitter_s))
    off_s = None if _happens(pickup, Fault.NO_NOTE_OFF, rng) else on_s + lasts_s * rng.uniform(0.8, 0.97)
    told = Told(channel, note.sounding, on_s, off_s, note.velocity)
    beginning = next((fault for fault in _BEGINNINGS if _happens(pickup, fault, rng)), None)
    going_on = next((fault for fault in _GOING_ON if _happens(pickup, fault, rng)), None) if lasts_s > 0.25 else None
    if beginning is None and going_on is Fault.TRACKED_ANEW and off_s is not None:
        told = replace(told, off_s=on_s + lasts_s * rng.uniform(0.5, 0.7))
    yield on_s - 0.001, 1, bend_message(channel, 0.0, setup)
    yield from _begins(pickup, place, told, beginning, lasts_s, rng)
    if beginning is None and going_on is not None:
        yield from _goes_on(setup, told, going_on, lasts_s, rng)
    for fault in _ELSEWHERE:
        if _happens(pickup, fault, rng):
            yield from pickup_faults.on_another_string(setup, place, told, fault, rng)
    if _happens(pickup, Fault.RINGS_ALONG, rng):
        yield from pickup_faults.rings_along(setup, place, told, rng)


def _happens(pickup: Pickup, fault: Fault, rng: Random) -> bool:
    return rng.random() < pickup.shares.get(fault, 0.0)


def _begins(
    pickup: Pickup, place: Place, told: Told, beginning: Fault | None, lasts_s: float, rng: Random
) -> Iterator[Sent]:
    """How a note begins, and its end."""
    if beginning in (Fault.SLIDE_BY_NOTES, Fault.SLIDE_BY_BEND):
        frets = rng.choice(pickup.slides)
        frets = frets if place.fret >= frets else -frets
        if beginning is Fault.SLIDE_BY_NOTES:
            yield from pickup_faults.slide_by_notes(told, frets, rng)
        else:
            yield from pickup_faults.slide_by_bend(told, frets, pickup.setup, rng)
    elif beginning is Fault.WRONG_ATTACK:
        yield from pickup_faults.wrong_octave(told, min(rng.uniform(0.012, 0.045), 0.7 * lasts_s), rng)
    elif beginning is Fault.LATE_OCTAVE and lasts_s > 0.11:
        with_offs = rng.random() < 0.5
        late_s = min(rng.gauss(0.095, 0.006), 0.8 * lasts_s - 0.001)
        yield from pickup_faults.wrong_octave(told, late_s, rng, with_offs=with_offs)
    elif beginning is Fault.DOUBLED:
        yield from pickup_faults.doubled(told, rng)
    else:
        yield from told.events


def _goes_on(setup: StringsSetup, told: Told, fault: Fault, lasts_s: float, rng: Random) -> Iterator[Sent]:
    """What happens to a note that sounds for a while."""
    ends_s = told.on_s + lasts_s
    sounds_s = (told.off_s or ends_s) - told.on_s
    if fault is Fault.VIBRATO:
        yield from pickup_faults.vibrato(told, ends_s, setup, rng)
    elif fault is Fault.FLICKER:
        at_s = told.on_s + rng.uniform(0.1, sounds_s - 0.06)
        yield from pickup_faults.flicker(told, at_s, rng.uniform(0.012, 0.050), rng)
    elif fault is Fault.LONG_FLICKER:
        at_s = told.on_s + rng.uniform(0.03, sounds_s - 0.11)
        yield from pickup_faults.flicker(told, at_s, rng.uniform(0.070, 0.105), rng)
    elif fault is Fault.FAINT_SECOND:
        yield from pickup_faults.faint_second(told, lasts_s, rng)
    elif fault is Fault.TRACKED_ANEW and told.off_s is not None:
        yield from pickup_faults.tracked_anew(told, ends_s - 0.02, rng)
