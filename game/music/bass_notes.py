"""Where a bass plays a tone: MIDI numbers in the first position of a bass guitar, as they sound."""

LOWEST_BASS, HIGHEST_BASS = 28, 41
"""E1, its lowest string, to F2: the chords need the room above."""

_OCTAVE = 12


def bass_note(tone: int) -> int:
    """A pitch class, C 0 to B 11, as low as the bass plays it: from E1 on."""
    return LOWEST_BASS + (tone - LOWEST_BASS) % _OCTAVE


def bass_note_near(tone: int, near: int) -> int:
    """A pitch class where it is nearest to a note of the bass; of two as near the upper one."""
    lowest = bass_note(tone)
    places = [place for place in (lowest + _OCTAVE, lowest) if place <= HIGHEST_BASS]
    return min(places, key=lambda place: abs(place - near))
