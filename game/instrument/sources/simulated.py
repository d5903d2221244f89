"""A simulated player: plays written notes at their homes, with mistakes that are known. Pure; chance is
passed in.

What it did wrong is kept beside each note, so that tests and the demo can compare. A mistake can look like
another (the fret beside E is also the next line, F): what is kept is what was meant, not what could be made
of it.
"""

import math
from collections.abc import Callable, Mapping, Sequence
from dataclasses import dataclass, field
from enum import Enum
from random import Random

from game.instrument.decoding.played import PlayedNote
from game.music.accidentals import AlteredBy
from game.music.pitch import SEMITONES_OF_STEP, STEPS
from game.music.written import WrittenNote
from game.neck.tuning import DEFAULT_FRETS, STANDARD, Place, Tuning

SOURCE = "simulated player"
_SOFTEST, _LOUDEST = 60, 110


class Mistake(Enum):
    """What went wrong with a note."""

    NEIGHBOUR = "neighbour"
    SIGNATURE = "signature"
    ACCIDENTAL = "accidental"
    OCTAVE = "octave"
    SLIP = "slip"
    OTHER_PLACE = "other place"


# How often each is made where it can be made. Ours: a middling reader, wrong about one note in eight.
MIDDLING: Mapping[Mistake, float] = {
    Mistake.NEIGHBOUR: 0.04,
    Mistake.SIGNATURE: 0.08,
    Mistake.ACCIDENTAL: 0.10,
    Mistake.OCTAVE: 0.01,
    Mistake.SLIP: 0.03,
    Mistake.OTHER_PLACE: 0.03,
}


@dataclass(frozen=True, slots=True, kw_only=True)
class SimulatedPlayer:
    """Who plays.

    `homes` are places by sounding pitch; `shares` how often each mistake is made, together at most 1. The
    time to find a note is log-normal: median `find_s`, `find_spread` the standard deviation of its
    logarithm; with the chance `hesitates` it takes `hesitation_s` more. Without `reports_strings` notes
    have no place, as from a keyboard.
    """

    homes: Mapping[int, Place]
    shares: Mapping[Mistake, float] = field(default_factory=lambda: MIDDLING)
    find_s: float = 0.8
    find_spread: float = 0.35
    hesitates: float = 0.05
    hesitation_s: float = 2.0
    tuning: Tuning = STANDARD
    frets: int = DEFAULT_FRETS
    reports_strings: bool = True

    def __post_init__(self) -> None:
        if min(self.shares.values(), default=0) < 0 or sum(self.shares.values()) > 1:
            raise ValueError(f"the shares of mistakes must lie between 0 and 1 together: {dict(self.shares)}")


@dataclass(frozen=True, slots=True, kw_only=True)
class SimulatedAnswer:
    """One played note: which written note `n` it is for, the how-manieth `attempt` from 1, and what went
    wrong.
    """

    n: int
    attempt: int
    note: PlayedNote
    mistake: Mistake | None


def answer(
    player: SimulatedPlayer, asked: WrittenNote, *, attempt: int, asked_s: float, rng: Random
) -> SimulatedAnswer:
    """What the player plays for the note that is asked since `asked_s`. From the second attempt on it is
    right.
    """
    hesitated = rng.random() < player.hesitates
    found_s = player.find_s * math.exp(rng.gauss(0, player.find_spread))
    mistake = _drawn(player, asked, rng) if attempt == 1 else None
    choices = _PLAYED[mistake](player, asked) if mistake else ((asked.sounding, _home(player, asked.sounding)),)
    sounding, place = rng.choice(choices)
    note = PlayedNote(
        started_s=asked_s + found_s + (player.hesitation_s if hesitated else 0.0),
        sounding=sounding,
        place=place if player.reports_strings else None,
        velocity=rng.randint(_SOFTEST, _LOUDEST),
        source=SOURCE,
    )
    return SimulatedAnswer(n=asked.n, attempt=attempt, note=note, mistake=mistake)


def _drawn(player: SimulatedPlayer, asked: WrittenNote, rng: Random) -> Mistake | None:
    """A mistake that can be made with this note, or none."""
    chance = rng.random()
    for mistake in Mistake:
        share = player.shares.get(mistake, 0.0)
        if share and _PLAYED[mistake](player, asked):
            chance -= share
            if chance < 0:
                return mistake
    return None


# What is played: a MIDI number, and its place where the neck has one.
_Choice = tuple[int, Place | None]


def _home(player: SimulatedPlayer, sounding: int) -> Place | None:
    """Where the player takes a pitch: its home, else the place nearest to the middle of the homes."""
    if sounding in player.homes:
        return player.homes[sounding]
    places = player.tuning.places_of(sounding, player.frets)
    frets = [home.fret for home in player.homes.values()] or [0]
    middle = sum(frets) / len(frets)
    return min(places, key=lambda place: abs(place.fret - middle), default=None)


def _at_homes(player: SimulatedPlayer, soundings: Sequence[int]) -> tuple[_Choice, ...]:
    choices = ((sounding, _home(player, sounding)) for sounding in soundings)
    return tuple((sounding, place) for sounding, place in choices if place is not None)


def _neighbours(player: SimulatedPlayer, asked: WrittenNote) -> tuple[_Choice, ...]:
    """A line or space off, read as the bare letter."""
    octaves_down = asked.pitch.midi - asked.sounding
    soundings = []
    for staff_step in (asked.pitch.staff_step - 1, asked.pitch.staff_step + 1):
        octave, step = divmod(staff_step, len(STEPS))
        soundings.append(12 * (octave + 1) + SEMITONES_OF_STEP[STEPS[step]] - octaves_down)
    return _at_homes(player, [sounding for sounding in soundings if sounding != asked.sounding])


def _without_signature(player: SimulatedPlayer, asked: WrittenNote) -> tuple[_Choice, ...]:
    if asked.shown.altered_by is not AlteredBy.SIGNATURE:
        return ()
    return _at_homes(player, [asked.sounding - asked.pitch.alter])


def _without_accidental(player: SimulatedPlayer, asked: WrittenNote) -> tuple[_Choice, ...]:
    """What the signature alone would make of it."""
    altered_here = asked.shown.altered_by in (AlteredBy.ACCIDENTAL, AlteredBy.EARLIER)
    if not altered_here or asked.pitch.alter == asked.signature:
        return ()
    return _at_homes(player, [asked.sounding - asked.pitch.alter + asked.signature])


def _octaves(player: SimulatedPlayer, asked: WrittenNote) -> tuple[_Choice, ...]:
    return _at_homes(player, [asked.sounding - 12, asked.sounding + 12])


def _slips(player: SimulatedPlayer, asked: WrittenNote) -> tuple[_Choice, ...]:
    """One fret along the string, or the same fret one string over."""
    home = player.homes.get(asked.sounding)
    if home is None:
        return ()
    beside = (
        Place(home.string, home.fret - 1),
        Place(home.string, home.fret + 1),
        Place(home.string - 1, home.fret),
        Place(home.string + 1, home.fret),
    )
    strings = range(1, len(player.tuning.open_strings) + 1)
    return tuple(
        (player.tuning.sounding(place), place)
        for place in beside
        if place.string in strings and 0 <= place.fret <= player.frets
    )


def _other_places(player: SimulatedPlayer, asked: WrittenNote) -> tuple[_Choice, ...]:
    home = player.homes.get(asked.sounding)
    if home is None or not player.reports_strings:
        return ()
    places = player.tuning.places_of(asked.sounding, player.frets)
    return tuple((asked.sounding, place) for place in places if place != home)


_PLAYED: Mapping[Mistake, Callable[[SimulatedPlayer, WrittenNote], tuple[_Choice, ...]]] = {
    Mistake.NEIGHBOUR: _neighbours,
    Mistake.SIGNATURE: _without_signature,
    Mistake.ACCIDENTAL: _without_accidental,
    Mistake.OCTAVE: _octaves,
    Mistake.SLIP: _slips,
    Mistake.OTHER_PLACE: _other_places,
}
