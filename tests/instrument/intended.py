"""What a guitarist means to play, and how far what was decoded is from it."""

from game.instrument.decoding.played import PlayedNote
from game.neck.tuning import STANDARD

_NEAR_S = 0.030


def intended(places, count, rng):
    """`count` notes at random places, in sixteenths to half notes at 120."""
    at_s, notes = 0.5, []
    for _ in range(count):
        place = rng.choice(places)
        notes.append(
            PlayedNote(started_s=at_s, sounding=STANDARD.sounding(place), place=place, velocity=rng.randint(40, 115))
        )
        at_s += rng.choice((0.125, 0.25, 0.25, 0.5))
    return notes


def by_place(note):
    """What makes two notes the same on a guitar that tells strings."""
    return note.place


def by_pitch(note):
    """What makes two notes the same where no strings are told."""
    return note.sounding


def compared(meant, notes, same=by_place):
    """The notes that were meant and not found at their place and time, and those found that nobody meant."""
    left, missed = list(notes), []
    for note in meant:
        found = next((other for other in left if same(other) == same(note) and _near(other, note)), None)
        if found is None:
            missed.append(note)
        else:
            left.remove(found)
    return missed, left


def swallowed(missed, notes):
    """How many of the notes that were missed began while another note of their string was taken to sound: their pitch
    is there, but as where that note came to, and at another time.
    """
    return sum(
        any(
            other.place == note.place and other.started_s < note.started_s - _NEAR_S <= _came_s(other) + 0.25
            for other in notes
        )
        for note in missed
    )


def _came_s(note):
    return note.arrived_s if note.arrived_s is not None else note.started_s


def _near(heard, meant):
    times = (heard.started_s, heard.arrived_s if heard.arrived_s is not None else heard.started_s)
    return any(abs(time_s - meant.started_s) <= _NEAR_S for time_s in times)
