"""The MusicXML we write says what the bars say; music21 (from PyPI) reads it back as the outside check."""

import random
import re
import xml.etree.ElementTree as ET
from dataclasses import replace
from fractions import Fraction

import pytest

from game.engraving.notation import divisions_of, musicxml
from game.music.chords import ChordSymbol
from game.music.score import Note, Reading
from game.tunes.swing_words import swing_asked
from tests.engraving.by_music21 import read_by_music21


def _sounding_name(note):
    return note.pitch.nameWithOctave.replace("-", "b")


def _exact(quarters):
    """music21 adds up some offsets as floats."""
    return Fraction(quarters).limit_denominator(1000)


def _expected(bars, reading):
    start = Fraction(0)
    for bar in bars:
        for event in bar.notes:
            if not event.grace:
                name = event.pitch.up_octaves(-reading.octaves_down).name
                yield start + event.onset, event.length, name
        start += bar.length


@pytest.mark.parametrize("reading", list(Reading))
def test_music21_reads_back_every_onset_length_and_spelled_pitch(page, reading):
    part = read_by_music21(musicxml(page, reading))
    found = [
        (_exact(note.getOffsetInHierarchy(part)), _exact(note.quarterLength), _sounding_name(note))
        for note in part.flatten().notes
        if note.isNote and not note.duration.isGrace
    ]
    assert found == list(_expected(page, reading))


def test_music21_reads_back_ties_tuplets_keys_and_metres(page):
    part = read_by_music21(musicxml(page, Reading.GUITAR))
    notes = [note for note in part.flatten().notes if note.isNote and not note.duration.isGrace]
    ours = [event for bar in page for event in bar.notes if not event.grace]
    assert [note.tie.type if note.tie else None for note in notes] == [
        "start" if event.tied_to_next else "stop" if event.tied_from_previous else None for event in ours
    ]
    assert [
        (note.duration.tuplets[0].numberNotesActual, note.duration.tuplets[0].numberNotesNormal)
        if note.duration.tuplets
        else None
        for note in notes
    ] == [(event.value.tuplet.actual, event.value.tuplet.normal) if event.value.tuplet else None for event in ours]
    keys = [(key.measureNumber, key.sharps) for key in part.recurse().getElementsByClass("KeySignature")]
    assert keys == [(0, -1), (6, 3), (7, 0)]
    metres = [(time.measureNumber, time.ratioString) for time in part.recurse().getElementsByClass("TimeSignature")]
    assert metres == [(0, "4/4"), (7, "6/8"), (8, "4/4")]


def test_the_guitar_octave_is_an_octave_clef_with_sounding_pitch(bar):
    """MusicXML 4.0: `clef-octave-change` -1, and `octave` 4 starts at sounding middle C; written E3 sounds
    E2.
    """
    text = musicxml((bar("E3:4"),), Reading.GUITAR)
    assert "<clef-octave-change>-1</clef-octave-change>" in text
    assert "<step>E</step><octave>2</octave>" in text
    clef = read_by_music21(text).recurse().getElementsByClass("Clef")[0]
    assert (clef.sign, clef.octaveChange) == ("G", -1)


def test_the_bass_is_written_in_the_bass_clef_an_octave_above_its_sound(bar):
    """Its open E stands on the first ledger line below the staff, E2, and sounds E1 (trade)."""
    text = musicxml((bar("E2:4"),), Reading.BASS)
    assert "<clef><sign>F</sign><line>4</line><clef-octave-change>-1</clef-octave-change></clef>" in text
    assert "<step>E</step><octave>1</octave>" in text
    text = musicxml((bar("E2:4"),), Reading.CONCERT_BASS)
    assert "<clef><sign>F</sign><line>4</line></clef>" in text
    assert "<step>E</step><octave>2</octave>" in text


def test_concert_pitch_is_a_plain_clef_with_the_pitch_as_written(bar):
    text = musicxml((bar("E3:4"),), Reading.CONCERT)
    assert "clef-octave-change" not in text
    assert "<step>E</step><octave>3</octave>" in text


@pytest.mark.parametrize("fifths", range(-7, 8))
def test_music21_finds_as_many_signs_in_the_signature(bar, fifths):
    key = read_by_music21(musicxml((bar("W:4", fifths=fifths),), Reading.GUITAR)).recurse()
    assert len(key.getElementsByClass("KeySignature")[0].alteredPitches) == abs(fifths)


@pytest.mark.parametrize(
    ("before", "after", "cancel"),
    [(3, 0, "3"), (-3, -1, "-3"), (2, -2, "2"), (0, 2, None), (1, 4, None), (-1, -4, None)],
)
def test_naturals_take_back_a_signature_that_loses_signs(bar, before, after, cancel):
    """trade: naturals cancel what is gone; a signature that only grows needs none."""
    text = musicxml((bar("C5:4", fifths=before), bar("C5:4", fifths=after)), Reading.GUITAR)
    found = re.search(r"<cancel>(-?\d+)</cancel>", text)
    assert (found[1] if found else None) == cancel


def test_texts_are_escaped_so_that_the_document_stays_well_formed(bar):
    hostile = "<&\"]]>'"
    chord = ChordSymbol(onset=Fraction(0), root="C", kind="major", text='C"<&>', bass="")
    bars = (replace(bar("C5:4", chords=(chord,)), number=hostile),)
    root = ET.fromstring(musicxml(bars, Reading.GUITAR, title=hostile, composer=hostile, part=hostile))
    assert root.findtext("work/work-title") == hostile
    assert root.findtext("identification/creator") == hostile
    assert root.find("part/measure").get("number") == hostile
    assert root.find(".//harmony/kind").get("text") == '"<&>'


def test_chord_symbols_stand_at_their_moment_with_root_bass_and_kind(page):
    symbols = read_by_music21(musicxml(page, Reading.GUITAR)).recurse().getElementsByClass("ChordSymbol")
    found = [(float(symbol.offset), symbol.root().name, symbol.bass().name) for symbol in symbols]
    assert found == [(0.0, "B-", "B-"), (2.0, "C", "G")]


def test_a_chord_symbol_in_the_middle_of_a_note_is_offset_from_its_start(bar):
    chord = ChordSymbol(onset=Fraction(3), root="G", kind="dominant", text="G7", bass="")
    text = musicxml((bar("C5:4", chords=(chord,)),), Reading.GUITAR)
    assert "<offset>3</offset>" in text
    assert text.index("<harmony>") < text.index("<note ")


def test_a_pickup_bar_does_not_count_as_a_bar(bar):
    assert '<measure number="0" implicit="yes">' in musicxml(
        (bar("C5:1", number="0", pickup=True), bar("C5:4")), Reading.GUITAR
    )


def test_divisions_make_every_time_a_whole_number(page, bar):
    assert divisions_of(page) == 12
    assert divisions_of((bar("C5:4"),)) == 1


def test_no_bars_is_an_error():
    with pytest.raises(ValueError, match="no bars"):
        musicxml((), Reading.GUITAR)


@pytest.mark.parametrize("seed", range(6))
def test_random_lines_come_back_from_music21_as_they_went(bar, seed):
    """Chromatic lines over all metres and signatures, accidentals included."""
    bars = tuple(_random_bar(random.Random(f"{seed} {index}"), bar, index) for index in range(6))
    part = read_by_music21(musicxml(bars, Reading.GUITAR))
    notes = [note for note in part.flatten().notes if note.isNote]
    found = [
        (_exact(note.getOffsetInHierarchy(part)), _exact(note.quarterLength), _sounding_name(note)) for note in notes
    ]
    assert found == list(_expected(bars, Reading.GUITAR))


def _random_bar(chance, bar, index):
    meter = chance.choice(["4/4", "3/4", "6/8", "2/2", "7/8", "5/4"])
    beats, unit = (int(part) for part in meter.split("/"))
    left = Fraction(4 * beats, unit)
    tokens = []
    while left > 0:
        length = chance.choice([size for size in (Fraction(1, 4), Fraction(1, 2), Fraction(1)) if size <= left])
        name = chance.choice("CDEFGAB") + chance.choice(["", "", "#", "b", "##", "bb"]) + chance.choice("345")
        tokens.append(f"{'R' if chance.random() < 0.1 else name}:{length}")
        left -= length
    return bar(" ".join(tokens), meter, chance.randint(-7, 7), number=str(index + 1))


def test_every_note_has_an_id_of_its_own(page):
    ids = re.findall(r'<note id="([^"]+)"', musicxml(page, Reading.GUITAR))
    assert len(ids) == len(set(ids)) == sum(len(bar.events) for bar in page)
    heads = [name for name in ids if name.startswith("n")]
    assert len(heads) == sum(isinstance(event, Note) for bar in page for event in bar.events)


def test_a_passage_has_the_final_bar_line_only_where_its_tune_ends(bar):
    """Thin and thick only at the end of a piece (trade)."""
    page = (bar("C5:4"),)
    assert "light-heavy" in musicxml(page, Reading.GUITAR)
    assert "light-heavy" not in musicxml(page, Reading.GUITAR, final_barline=False)


@pytest.mark.parametrize("swung", [True, False, None])
def test_how_the_eighths_are_meant_is_read_back_by_our_own_reader(bar, swung):
    text = musicxml((bar("C5:4"), bar("D5:4")), Reading.GUITAR, swung=swung)
    part = ET.fromstring(text).find("part")
    assert swing_asked(part) is swung
    # MusicXML 4.0: `swing` holds either `straight`, or `first` and `second` with a whole number each.
    sounds = part.findall("measure/direction/sound/swing")
    assert [[child.tag for child in sound] for sound in sounds] == {
        True: [["first", "second", "swing-type"]],
        False: [["straight"]],
        None: [],
    }[swung]


def test_music21_reads_the_word_for_swing_above_the_first_bar(bar):
    part = read_by_music21(musicxml((bar("C5:4"), bar("D5:4")), Reading.GUITAR, swung=True))
    words = part.recurse().getElementsByClass("TextExpression")
    assert [(word.content, word.measureNumber) for word in words] == [("Swing", 1)]
