"""What guitarists play that looks like a pickup's dirt, and is none: each as the notes meant and the messages of them.

Nothing here is dirt: whatever is not found again was swallowed, whatever is found besides was invented.
"""

from collections.abc import Callable, Iterator, Sequence
from random import Random

from game.instrument.decoding.played import PlayedNote
from game.instrument.decoding.stamped import StampedMessage
from game.neck.tuning import STANDARD, Place
from tests.instrument.pickup_faults import Told

SOURCE = "simulated pickup"
# A quick hand is so regular (standard deviation; trade: tapping studies find 5 to 10 ms at such rates, mem).
_UNEVEN_S = 0.004

Struck = tuple[PlayedNote, float]
"""A note, and for how long it sounds."""
Piece = tuple[tuple[PlayedNote, ...], tuple[StampedMessage, ...]]


def _note(at_s: float, place: Place, velocity: int) -> PlayedNote:
    velocity = max(10, min(127, velocity))
    return PlayedNote(started_s=at_s, sounding=STANDARD.sounding(place), place=place, velocity=velocity)


def _as_messages(struck: Sequence[Struck]) -> Piece:
    """A stroke on the pitch that sounds ends it before."""
    sent = []
    for index, (note, lasts_s) in enumerate(struck):
        assert note.place is not None
        off_s = note.started_s + lasts_s
        if index + 1 < len(struck) and struck[index + 1][0].place == note.place:
            off_s = min(off_s, struck[index + 1][0].started_s - 0.002)
        sent += list(Told(note.place.string, note.sounding, note.started_s, off_s, note.velocity).events)
    sent.sort(key=lambda event: event[:2])
    notes = tuple(sorted((note for note, _ in struck), key=lambda note: note.started_s))
    return notes, tuple(StampedMessage(at_s, 0.0, message, SOURCE) for at_s, _, message in sent)


def _row(rng: Random, every_s: float, count: int) -> Iterator[float]:
    for number in range(count):
        yield 0.5 + number * every_s + max(-0.012, min(0.012, rng.gauss(0, _UNEVEN_S)))


def tremolo(rng: Random) -> Piece:
    """One pitch sixteen times a second, at any loudness, now and then louder; a stroke sounds half its time or more."""
    place = Place(rng.randint(1, 6), rng.randint(0, 12))
    loud = rng.choice((20, 30, 60, 100))
    times = list(_row(rng, 1 / 16, 48))
    lasts = rng.uniform(0.55, 0.95)
    return _as_messages([(_note(at_s, place, round(loud * rng.uniform(0.8, 1.3))), lasts / 16) for at_s in times])


def run_on_one_string(rng: Random) -> Piece:
    """Twelve plucked notes a second up and down a string."""
    string, loud = rng.randint(1, 6), rng.choice((30, 70, 100))
    frets = [5, 7, 8, 7, 5, 7, 9, 7] * 4
    return _as_messages(
        [
            (_note(at_s, Place(string, fret), round(loud * rng.uniform(0.85, 1.15))), rng.uniform(0.6, 0.9) / 12)
            for at_s, fret in zip(_row(rng, 1 / 12, len(frets)), frets, strict=True)
        ]
    )


def soft_after_loud(rng: Random) -> Piece:
    """Quarters to eighths, loud for a while, then as soft as a device tells, and loud again."""
    at_s, struck = 0.5, []
    for number in range(60):
        loud = (100, 30)[number // 6 % 2]
        place = Place(rng.randint(1, 6), rng.randint(0, 8))
        gap_s = rng.choice((0.25, 0.5))
        struck.append((_note(at_s, place, round(loud * rng.uniform(0.85, 1.1))), gap_s * rng.uniform(0.7, 0.98)))
        at_s += gap_s
    return _as_messages(struck)


def all_soft(rng: Random) -> Piece:
    """Everything as soft as a device tells."""
    at_s, struck = 0.5, []
    for _ in range(60):
        place = Place(rng.randint(1, 6), rng.randint(0, 12))
        gap_s = rng.choice((0.125, 0.25, 0.5))
        struck.append((_note(at_s, place, rng.randint(11, 26)), gap_s * rng.uniform(0.75, 0.98)))
        at_s += gap_s
    return _as_messages(struck)


def soft_hammer_ons(rng: Random) -> Piece:
    """Plucks, each with a hammer-on or a pull-off an eighth to a sixteenth later, far softer, as the string goes on."""
    at_s, struck = 0.5, []
    for _ in range(30):
        string, fret, apart = rng.randint(1, 6), rng.randint(3, 9), rng.choice((-2, -1, 1, 2, 3))
        half_s = rng.choice((0.11, 0.15, 0.25))
        overlaps_s = rng.choice((0.0, 0.0, 0.008, 0.02))
        loud = rng.randint(70, 110)
        struck.append((_note(at_s, Place(string, fret), loud), half_s + overlaps_s))
        softly = rng.randint(14, 40)
        struck.append((_note(at_s + half_s, Place(string, fret + apart), softly), half_s * rng.uniform(0.8, 0.97)))
        at_s += 2 * half_s
    return _as_messages(struck)


def octave_leaps(rng: Random) -> Piece:
    """Octaves in eighths, over two strings and on one; there and back again."""
    at_s, struck = 0.5, []
    for number in range(48):
        string, fret = rng.choice(((6, 3), (5, 2), (4, 2), (3, 2)))
        low, over = Place(string, fret), Place(string, fret + 12)
        if rng.random() < 0.5:
            over = Place(string - 2, fret + (2 if string >= 5 else 3))
        every_s = rng.choice((0.15, 0.2, 0.25))
        for place in ((low, over), (over, low))[number % 2]:
            struck.append((_note(at_s, place, rng.randint(50, 110)), every_s * rng.uniform(0.8, 1.0)))
            at_s += every_s
    return _as_messages(struck)


def repeats_that_ring(rng: Random) -> Piece:
    """The same pitch in quarters, loud and softer in turn, each ringing until the next."""
    place = Place(rng.randint(1, 6), rng.randint(0, 9))
    loud, soft = rng.randint(80, 110), rng.randint(30, 60)
    times = list(_row(rng, 0.4, 24))
    return _as_messages([(_note(at_s, place, (loud, soft)[n % 2]), 0.37) for n, at_s in enumerate(times)])


PIECES: dict[str, Callable[[Random], Piece]] = {
    "tremolo, 16 a second": tremolo,
    "run on one string, 12 a second": run_on_one_string,
    "soft after loud": soft_after_loud,
    "all as soft as can be": all_soft,
    "soft hammer-ons and pull-offs": soft_hammer_ons,
    "octave leaps": octave_leaps,
    "repeats, loud and soft": repeats_that_ring,
}
