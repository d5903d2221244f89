"""Bass and chords of a passage."""

from fractions import Fraction
from itertools import pairwise
from random import Random

from game.audio.accompaniment import accompaniment_of
from game.audio.patterns import BandPart
from game.music.accompanying import Manner
from game.music.chords import ChordSymbol
from game.music.keys import Key
from game.music.meter import UNITS, Meter
from game.music.pitch import Pitch
from game.music.score import Bar, Note, NoteValue, Reading
from game.music.voicing import LOWEST_CHORD_NOTE, OVER_MELODY
from game.music.written import written_notes
from game.tunes.musicxml.harmony import SHORT_FORMS
from tests.audio.lead_sheets import accompanied, basses, chord, chords, sheet
from tests.music.made_chords import tones
from tests.sampling import how_many


def test_two_beats_have_root_and_fifth_with_the_chord_between():
    notes = accompanied(sheet("G5 w", "C 0"), sheet("G5 w", "Dm7b5 0"))
    assert basses(notes) == "0 C, 2 G, 4 D, 6 Ab"
    assert chords(notes) == "1 CEG, 3 CEG, 5 AbCF, 7 AbCF"


def test_a_waltz_takes_root_and_fifth_in_turn_bar_by_bar_and_begins_anew_with_the_chord():
    bars = [sheet("G5 h.", at, meter=(3, 4)) for at in ("C 0", "", "", "F 0")]
    notes = accompanied(*bars)
    assert basses(notes) == "0 C, 3 G, 6 C, 9 F"
    assert [one.onset_quarters for one in notes if one.part is BandPart.CHORD] == [1, 2, 4, 5, 7, 8, 10, 11]


def test_the_bass_walks_over_the_tones_of_the_chord_and_takes_two_beats_in_root_and_fifth():
    notes = accompanied(sheet("G5 w", "Dm7 0"), sheet("G5 w", "G7 0, C 2"), manner=Manner.FOUR_BEAT)
    assert basses(notes) == "0 D, 1 F, 2 A, 3 F, 4 G, 5 D, 6 C, 7 G"


def test_a_written_bass_stays_below_whatever_the_pattern_is():
    for manner in Manner:
        notes = accompanied(sheet("G5 w", "C/E 0"), manner=manner)
        assert {one.soundings for one in notes if one.part is BandPart.BASS} == {(28,)}


def test_a_chord_that_comes_off_the_beat_or_between_two_strokes_is_heard_where_it_stands():
    notes = accompanied(sheet("G5 w", "C 0, F 1, G7 7/2"), sheet("G5 w"))
    assert basses(notes) == "0 C, 1 F, 2 C, 7/2 G, 4 G, 6 D"
    assert chords(notes) == "0 CEG, 1 ACF, 3 ACF, 5 BDF, 7 BDF"


def test_nothing_is_heard_before_the_first_chord_under_nc_or_without_chords():
    empty = sheet("G5 w")
    assert accompanied(empty, empty) == ()
    notes = accompanied(empty, empty, sheet("G5 w", "C 0"), sheet("G5 w", "N.C. 0"), sheet("G5 w", "F 2"))
    assert basses(notes) == "8 C, 10 G, 18 F"
    assert max(one.stop_quarters for one in notes if one.onset_quarters < 12) == 12


def test_a_pickup_takes_its_part_of_the_pattern_and_the_chord_before_a_passage_goes_on():
    notes = accompanied(sheet("G5 q", pickup=True), sheet("G5 w"), before=chord("C"))
    assert basses(notes) == "0 C, 1 C, 3 G"
    assert chords(notes) == "0 CEG, 2 CEG, 4 CEG"


def test_metres_change_and_bars_may_be_of_any_length():
    bars = sheet("G5 w", "C 0"), sheet("G5 h.", meter=(3, 4)), sheet("G5 w, G5 h"), sheet("G5 q")
    notes = accompanied(*bars)
    assert basses(notes) == "0 C, 2 G, 4 C, 7 C, 9 G, 11 C, 13 C"
    assert max(one.stop_quarters for one in notes) <= 14


def test_bossa_has_its_off_beats_and_swings_as_the_take_does():
    straight = accompanied(sheet("G5 w", "C 0"), manner=Manner.BOSSA)
    assert basses(straight) == "0 C, 3/2 G, 2 C, 7/2 G"
    swung = accompanied(sheet("G5 w", "C 0"), manner=Manner.BOSSA, swing=2.0)
    assert [round(float(one.onset_quarters), 3) for one in swung if one.part is BandPart.BASS] == [0, 1.667, 2, 3.667]


def test_each_note_is_damped_by_the_next_of_its_part_and_by_the_end_of_its_chord():
    notes = accompanied(sheet("G5 w", "C 0, F 3"), sheet("G5 w"), swing=1.6)
    for part in BandPart:
        row = [one for one in notes if one.part is part]
        assert all(one.onset_quarters < one.stop_quarters for one in row)
        assert all(one.stop_quarters <= after.onset_quarters for one, after in pairwise(row))


def test_every_chord_is_clear_of_the_melody_that_sounds_with_it_and_of_its_own_tones():
    """Melodies by chance, of all registers, note values and chords."""
    chance = Random(3)
    letters = "C4 D4 Eb4 E4 G4 A4 Bb4 C5 F#5 B5".split()
    texts = "Cm7 F7 Bbmaj7 Eb6 Am7b5 D7b9 Gm G7sus4 C/E Ab13 E7#9 B°7".split()
    for _ in range(40):
        bars = [
            sheet(
                ", ".join(f"{chance.choice([*letters, 'r'])} {value}" for value in "q e e q s s e".split()),
                f"{chance.choice(texts)} {chance.choice(['0', '1', '3/2'])}, {chance.choice(texts)} 2".replace(
                    "°", "o"
                ),
            )
            for _ in range(4)
        ]
        melody = written_notes(bars, Reading.GUITAR)
        notes = accompaniment_of(bars, Reading.GUITAR, quarter_bpm=Fraction(100))
        assert notes
        for one in notes:
            with_it = [
                note.sounding
                for note in melody
                if note.onset < one.stop_quarters and note.onset + note.length > one.onset_quarters
            ]
            if one.part is BandPart.CHORD and not one.soft:
                assert max(one.soundings) < min(with_it, default=128)
            elif one.part is BandPart.CHORD:
                assert min(with_it) < LOWEST_CHORD_NOTE + 12, "in the low register"
                assert not any(min(with_it) <= sounding < max(with_it) + OVER_MELODY for sounding in one.soundings)
        heard = {sounding % 12 for one in notes for sounding in one.soundings}
        said = {symbol.text for bar in bars for symbol in bar.chords}
        known = {tone for text in said for tone in (tones(text).bass, tones(text).fifth, tones(text).root)}
        assert heard <= known | {tone for text in said for tone in tones(text).telling}


def test_over_a_melody_that_stays_low_the_whole_chord_is_heard_softly():
    """The open C of a guitar's first melodies leaves one voice below it."""
    notes = [one for one in accompanied(sheet("C3 w", "C 0"), sheet("C3 w", "Am7 0")) if one.part is BandPart.CHORD]
    assert all(len(one.soundings) == 3 and one.soft for one in notes)
    assert min(sounding for one in notes for sounding in one.soundings) >= 41


def odd_bar(chance: Random) -> Bar:
    """A bar of any metre and length, with chords of any kind anywhere, even outside it."""
    meter = Meter(chance.randint(1, 13), chance.choice(UNITS[:6]))
    length = (
        meter.bar_length if chance.random() < 0.6 else Fraction(chance.randint(0, 40), chance.choice([1, 2, 3, 12]))
    )
    notes, at = [], Fraction(0)
    while at < length and len(notes) < 12:
        lasts = min(length - at, Fraction(chance.randint(1, 12), chance.choice([1, 2, 3, 4, 6, 8])))
        pitch = Pitch(chance.choice("CDEFGAB"), chance.randint(-1, 1), chance.randint(1, 7))
        notes.append(Note(onset=at, length=lasts, value=NoteValue(base=Fraction(1)), pitch=pitch))
        at += lasts
    symbols = tuple(
        ChordSymbol(
            onset=Fraction(chance.randint(-2, 60), chance.choice([1, 2, 3, 7])),
            root=(root := chance.choice("C Db F# B Bb G## Ebb".split())),
            kind=chance.choice([*SHORT_FORMS, "moonlight"]),
            text=root + chance.choice("|m|7b9|maj7|sus4|alt|(no3,no5)|bb|+|-|##|7#5#9b9".split("|")),
            bass=chance.choice(["", "", "E", "Gb"]),
        )
        for _ in range(chance.randint(0, 4))
    )
    return Bar(
        number="1",
        meter=meter,
        key=Key(0),
        length=length,
        events=tuple(notes),
        chords=symbols,
        pickup=chance.random() < 0.15,
    )


def test_whatever_stands_on_a_page_every_stroke_lies_within_it_in_order():
    chance = Random(4)
    for _ in range(how_many(3000, by_default=60)):
        bars = [odd_bar(chance) for _ in range(chance.randint(1, 6))]
        end = sum(one.length for one in bars)
        notes = accompaniment_of(
            bars,
            Reading.GUITAR,
            quarter_bpm=Fraction(chance.randint(20, 400)),
            manner=chance.choice(list(Manner)),
            swing=chance.choice([1.0, 1.6, 3.5]),
        )
        assert list(notes) == sorted(notes, key=lambda one: one.onset_quarters)
        assert all(0 <= one.onset_quarters < one.stop_quarters for one in notes)
        assert all(one.onset_quarters <= end for one in notes)
        assert all(28 <= sounding <= 67 for one in notes for sounding in one.soundings)
