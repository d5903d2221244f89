"""The melodies that no tune of music21's corpus is beside, against encodings elsewhere.

Of each stands here how one of them goes, written down from it: the beginning, or the bars that ours had otherwise until
they were corrected; transposed to our key, lengths in quarter notes, in the metre of our page. The numbers of bars are
ours. Where the notes were found stands with them; more of it, and what differs further on, in `PROVENANCE.md`.
"""

from fractions import Fraction

import pytest

from game.tunes.library.library import open_entry, shipped_entries

ENTRIES = {entry.name[:2]: entry for entry in shipped_entries() if entry.name[2] == "-"}

ELSEWHERE = [
    ("01", "1", "C5:1 C5:1 C5:1 D5:1 E5:2 D5:2 C5:1 E5:1 D5:1 D5:1", "Mutopia, Horetzky's arrangement no. 21"),
    (
        "03",
        "1",
        "D5:1 D5:1 Eb5:1 F5:1 F5:1 Eb5:1 D5:1 C5:1 Bb4:1 Bb4:1 C5:1 D5:1 D5:3/2 C5:1/2 C5:2",
        "Hauptstimme, op. 125, fourth movement",
    ),
    (
        "04",
        "0",
        "C4:1 F4:2 A4:1/2 F4:1/2 A4:2 G4:1 F4:2 D4:1 C4:2 C4:1 F4:2 A4:1/2 F4:1/2 A4:2 G4:1",
        "Mutopia, New Britain",
    ),
    ("05", "0", "F4:1 A4:1 Bb4:1 C5:5 F4:1 A4:1 Bb4:1 C5:5 F4:1 A4:1 Bb4:1 C5:2 A4:2 F4:2", "Nottingham, reels, 29"),
    ("07", "0", "D4:1 F4:2 G4:1 A4:3/2", "Mutopia, Greensleaves"),
    ("07", "17", "C5:3 C5:3/2", "Mutopia, Greensleaves"),
    (
        "10",
        "1",
        "F4:1 G4:1 A4:1 F4:1 F4:1 G4:1 A4:1 F4:1 A4:1 Bb4:1 C5:2 A4:1 Bb4:1 C5:2 C5:1/2 D5:1/2 C5:1/2 Bb4:1/2 A4:1",
        "a round in LilyPond",
    ),
    (
        "11",
        "1",
        "F5:3/2 G5:1/2 F5:1 Eb5:1 D5:1 Eb5:1 F5:2 C5:1 D5:1 Eb5:2 D5:1 Eb5:1 F5:2",
        "a song in LilyPond",
    ),
    ("12", "1", "C4:3/2 C4:3/2 C4:1 D4:1/2 E4:3/2 E4:1 D4:1/2 E4:1 F4:1/2 G4:3 C5:1/2", "Digital Tradition, ROWROWBT"),
    ("15", "1", "F4:1 F4:1 F4:1 G4:1 F4:1 F4:1 C4:2 D4:1 C4:1 D4:1 E4:1 F4:2 F4:2 F4:1", "Nottingham, carols, 3"),
    ("19", "0", "Bb4:1 D5:1 F5:3/2 D5:1/2 F5:1 G5:1", "Slave Songs of the United States, 31"),
    ("19", "5", "F5:3/2 D5:1/2 Eb5:1 D5:1 C5:2 Bb4:1 C5:1", "Slave Songs of the United States, 31"),
    (
        "21",
        "9",
        "Eb5:1 Eb5:1/2 D5:1/2 C5:1/2 D5:1/2 Eb5:1 Bb4:1/2 Bb4:1 Bb4:1/2 Eb5:1/2 Eb5:1/2 Eb5:1/2 D5:1/2 C5:1/2 D5:1/2",
        "a round in LilyPond",
    ),
    ("21", "12", "Eb5:1 Bb4:1/2 Bb4:1/2 Bb4:1/2 Bb4:1/2", "a round in LilyPond"),
    (
        "25",
        "0",
        "F4:1 F4:2 C4:1 F4:1 G4:2 C4:2 A4:1 G4:1 A4:1 Bb4:1 A4:2 G4:1 F4:1 F4:2 E4:1 D4:1",
        "Mutopia, Adeste Fideles",
    ),
    (
        "28",
        "0",
        "A4:1/2 G4:1/2 F4:3/2 G4:1/2 A4:1/2 Bb4:1/2 C5:2 D5:1/2 E5:1/2 F5:1 E5:1 D5:1 C5:2 D5:1/2 E5:1/2",
        "a book of carols in LilyPond",
    ),
    ("31", "0", "C4:1 F4:3/2 F4:1/2 F4:1 A4:1 G4:3/2 F4:1/2 G4:1 A4:1 F4:3/2", "Songs from the Public Domain"),
    (
        "32",
        "1",
        "C4:1 F4:1 F4:3/2 E4:1/2 F4:1 A4:1 A4:1 G4:1 C5:1 C5:1 C5:3/2 Bb4:1/2 A4:1 G4:1 A4:2",
        "Mutopia, Mendelssohn",
    ),
    (
        "33",
        "1",
        "C5:3/2 Bb4:1/2 A4:1 G4:1 F4:1 G4:1 A4:1 F4:1 G4:1/2 A4:1/2 Bb4:1/2 G4:1/2 A4:3/2 G4:1/2 F4:1 E4:1 F4:2",
        "a book of carols in LilyPond",
    ),
    ("34", "10", "D5:2 D5:1 C5:2 A4:1 A4:1 G4:1 F4:1 E4:1", "a song for flute in LilyPond"),
    (
        "37",
        "4",
        "C4:1/2 D4:1/2 C4:3/4 Bb3:1/4 Bb3:2 G4:3/4 Bb4:1/4 Bb4:1 A4:1/2 F4:1/2 G4:1",
        "Mutopia, op. 95, the English horn",
    ),
    (
        "37",
        "11",
        "D4:3/4 F4:1/4 F4:1 Bb4:3/4 C5:1/4 D5:1 C5:3/4 Bb4:1/4 C5:1/2 G4:1/2 Bb4:2",
        "Mutopia, op. 95, the English horn",
    ),
    ("38", "2", "C5:1 A4:1/2 C5:1/2 F5:1 E5:3/2 D5:1/2 D5:1 C5:1 G4:1/2 A4:1/2 Bb4:1 G4:1", "OpenScore, op. 49 no. 4"),
    ("39", "17", "A4:1 A4:1 A4:2 A4:1 A4:1 A4:2 A4:1 C5:1 F4:3/2 G4:1/2", "OpenEWLD, Jingle Bells"),
    (
        "40",
        "1",
        "D5:1 C#5:3/4 B4:1/4 A4:3/2 G4:1/2 F#4:1 E4:1 D4:3/2 A4:1/2 B4:3/2 B4:1/2 C#5:3/2",
        "a book of carols in LilyPond",
    ),
    (
        "41",
        "1",
        "A4:1 E4:1/2 F4:1/2 G4:1 F4:1/2 E4:1/2 D4:1 D4:1/2 F4:1/2 A4:1 G4:1/2 F4:1/2",
        "a violin's page in LilyPond",
    ),
    ("42", "0", "C4:1 C4:1 E4:1 G4:1 G4:2 G5:1 G5:2 E5:1 E5:2 C4:1 C4:1 E4:1 G4:1 G4:2", "Mutopia, op. 314"),
    (
        "44",
        "1",
        "D5:1 G4:1/2 A4:1/2 B4:1/2 C5:1/2 D5:1 G4:1 G4:1 E5:1 C5:1/2 D5:1/2 E5:1/2 F#5:1/2 G5:1 G4:1 G4:1",
        "Mutopia, BWV Anh. 114",
    ),
    (
        "45",
        "9",
        "B4:1/2 A4:1/2 B4:1/2 D5:1/2 B4:1/2 D5:1/2 E5:1/2 G5:1/2 E5:1/2 D5:1/2 B4:1/2 A4:1/2 B4:1/2 A4:1/2 B4:1/2",
        "The Session, tune 55",
    ),
    (
        "48",
        "0",
        "E5:1/2 F#5:1/2 G5:1 F#5:1/2 E5:1/2 D#5:1 E5:1/2 F#5:1/2 B4:1 C#5:1/2 D#5:1/2 E5:1 D5:1/2 C5:1/2",
        "Mutopia, BWV 996",
    ),
    (
        "49",
        "1",
        "D4:1/2 E4:1/2 F4:1/2 G4:1/2 A4:1/2 F4:1/2 A4:1 G#4:1/2 E4:1/2 G#4:1 G4:1/2 Eb4:1/2 G4:1 D4:1/2",
        "Mutopia, op. 46 no. 4",
    ),
    (
        "50",
        "0",
        "Eb5:1/2 D5:1/2 D5:1 Eb5:1/2 D5:1/2 D5:1 Eb5:1/2 D5:1/2 D5:1 Bb5:1 Bb5:1/2 A5:1/2 G5:1 G5:1/2 F5:1/2 Eb5:1",
        "themes of the symphonies in LilyPond",
    ),
    (
        "51",
        "10",
        "E5:3/4 G4:1/4 F5:1/4 E5:1/4 D5:3/4 F4:1/4 E5:1/4 D5:1/4 C5:3/4 E4:1/4 D5:1/4 C5:1/4 B4:1/2 E4:1/4 E5:1/4",
        "Mutopia, WoO 59",
    ),
    (
        "52",
        "1",
        "G4:1/3 A4:1/3 B4:1/3 D5:1/3 C5:1/3 C5:1/3 E5:1/3 D5:1/3 D5:1/3 G5:1/3 F#5:1/3 G5:1/3 D5:1/3 B4:1/3 G4:1/3",
        "OpenEWLD, Jesu, Joy of Man's Desiring",
    ),
    (
        "53",
        "0",
        "D4:1/4 D#4:1/4 E4:1/4 C5:1/2 E4:1/4 C5:1/2 E4:1/4 C5:3/2 C5:1/4 D5:1/4 D#5:1/4 E5:1/4 C5:1/4 D5:1/4 E5:1/2",
        "Joplin's rags in Humdrum, the lower of the octaves",
    ),
    (
        "54",
        "0",
        "B4:1/4 A4:1/4 G#4:1/4 A4:1/4 C5:1/2 D5:1/4 C5:1/4 B4:1/4 C5:1/4 E5:1/2 F5:1/4 E5:1/4",
        "Mozart's piano sonatas in Humdrum, K. 331",
    ),
]


def melody_from(number, bar):
    """The notes of the page from a bar on, ties joined: their names, and lengths in quarter notes."""
    bars = open_entry(ENTRIES[number]).bars
    first = next(index for index, one in enumerate(bars) if one.number == bar)
    found = []
    for note in (note for one in bars[first:] for note in one.notes if not note.grace):
        if note.tied_from_previous and found:
            found[-1] = (found[-1][0], found[-1][1] + note.length)
        else:
            found.append((note.pitch.name, note.length))
    return found


@pytest.mark.parametrize(
    ("number", "bar", "notes", "source"), ELSEWHERE, ids=[f"{row[0]}, {row[1]}" for row in ELSEWHERE]
)
def test_a_melody_goes_as_it_does_elsewhere(number, bar, notes, source):
    told = [(name, Fraction(length)) for name, length in (one.split(":") for one in notes.split())]
    assert melody_from(number, bar)[: len(told)] == told, source


def test_the_second_strain_of_korobeiniki_begins_on_the_beat():
    """As the dance called Korybushka does (Nottingham, reels, 62: the lengths are twice these); not an eighth late."""
    assert [length for _, length in melody_from("41", "5")[:5]] == [
        Fraction(one) for one in ("3/2", "1/2", "1", "1/2", "1/2")
    ]
