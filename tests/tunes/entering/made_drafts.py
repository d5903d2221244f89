"""Drafts by chance, from a seed: keys, metres, pickups, ties, triplets, repeats with endings, chord symbols."""

from fractions import Fraction
from random import Random

from game.music.keys import Key
from game.music.meter import Meter
from game.tunes.abc.chord_text import chord_of
from game.tunes.entering.draft import BarSigns, Draft, DraftOnset, DraftPitch
from game.tunes.entering.tapped_rhythm import cell_of

METERS = tuple(
    Meter(*text) for text in ((4, 4), (3, 4), (2, 4), (6, 8), (9, 8), (12, 8), (5, 4), (2, 2), (3, 8), (7, 8))
)
CHORDS = "C Gm7 Bb7/D F#m7b5 N.C. Ebmaj7 A7(b9) D7sus4 G13 Cdim7 Am C6 E+ Abm6 Db7#11 F/A B7alt".split()
_DIVISIONS = ((), (2,), (2,), (4,), (3,))
_TITLES = ("Down by the Weir", "Über den Fluß", 'A <b>& "B"', "Ó, the 7th", "x")


def made_draft(seed: int) -> Draft:
    chance = Random(seed)
    meter = chance.choice(METERS)
    length = meter.bar_length
    pickup = chance.choice((Fraction(0), Fraction(0), Fraction(1, 2), Fraction(1))) % length
    bars = chance.randint(1, 12)
    onsets = made_onsets(chance, -pickup, length * bars, cell_of(meter))
    settled = max(-(-(onsets[-1].rest_at or onsets[-1].at + Fraction(1, 8)) // length) * length, length)
    last = int(settled / length)
    signs = made_signs(chance, last) if chance.random() < 0.6 else ()
    places = sorted({onset.at for onset in onsets if chance.random() < 0.3})
    return Draft(
        title=chance.choice(_TITLES),
        composer=chance.choice(("", "trad.", "A. & B.")),
        key=Key(chance.randint(-7, 7), minor=chance.random() < 0.4),
        meter=meter,
        pickup=pickup,
        swung=chance.choice((None, None, True, False)),
        pitches=tuple(made_pitch(chance) for _ in onsets),
        onsets=onsets,
        settled=settled,
        chords=tuple(chord_of(chance.choice(CHORDS), place) for place in places),
        signs=signs,
    )


def made_pitch(chance: Random) -> DraftPitch:
    return DraftPitch(sounding=chance.randint(40, 79), respelled=chance.random() < 0.1)


def made_onsets(chance: Random, start: Fraction, end: Fraction, cell: Fraction) -> tuple[DraftOnset, ...]:
    """Cell by cell: held through, or divided; after some notes there is a rest before the next."""
    places = [start]
    at = start - start % cell
    while at < end:
        if chance.random() < 0.7:
            parts = chance.choice(_DIVISIONS)
            places += [at]
            places += (
                [at + cell * part / parts[0] for part in range(1, parts[0]) if chance.random() < 0.8] if parts else []
            )
        at += cell
    places = sorted({place for place in places if start <= place < end})
    onsets = []
    for place, following in zip(places, [*places[1:], end], strict=True):
        half = place + (following - place) / 2
        rests = following - place >= cell and half % (cell / 2) == 0 and chance.random() < 0.15
        onsets.append(DraftOnset(at=place, rest_at=half if rests else None))
    return tuple(onsets)


def made_signs(chance: Random, bars: int) -> tuple[tuple[int, BarSigns], ...]:
    """A section that is repeated, with two endings where there is room; endings of one bar or two."""
    start = chance.randrange(max(1, bars - 1))
    signs = {start: BarSigns(repeat_start=True)} if start else {}
    end = chance.randint(start, bars - 1)
    ending = chance.randint(1, 2)
    if end - ending >= start and end + 1 < bars:
        for bar in range(end - ending + 1, end + 1):
            signs[bar] = BarSigns(ending=1, repeat_start=signs.get(bar, BarSigns()).repeat_start)
        signs[end + 1] = BarSigns(ending=2)
    else:
        signs[end] = BarSigns(repeat_end=True, repeat_start=signs.get(end, BarSigns()).repeat_start)
    return tuple(sorted(signs.items()))
