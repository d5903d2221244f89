"""Where a bass plays a tone: MIDI numbers within the first positions of a bass guitar, as they sound."""

LOWEST_BASS, HIGHEST_BASS = 31, 44
"""G1 to A flat 2: under the chords, and high enough to be heard from a small loudspeaker (ours)."""

_OCTAVE = 12


def bass_note(tone: int) -> int:
    """A pitch class, C 0 to B 11, as low as the bass plays it: from G1 on."""
    return LOWEST_BASS + (tone - LOWEST_BASS) % _OCTAVE


def bass_note_near(tone: int, near: int) -> int:
    """A pitch class where it is nearest to a note of the bass; of two as near the upper one."""
    lowest = bass_note(tone)
    places = [place for place in (lowest + _OCTAVE, lowest) if place <= HIGHEST_BASS]
    return min(places, key=lambda place: abs(place - near))
