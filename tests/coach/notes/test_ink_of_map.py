"""What staff, neck and legend show of the ink of a map."""

from game.coach.notes.ink import Ink
from game.coach.notes.ink_of_map import ink_of_map, usual_spellings
from game.coach.notes.mastery import Mastery, mastery_after
from game.coach.notes.note_reads import take_reads
from game.music.score import Reading
from game.neck.neck_map import standard_map
from game.neck.tuning import Place
from tests.coach.judged_takes import MAP, judged

G_SHARP = 56
"""Sounding: written G♯4 or A♭4, for the guitar sounds an octave lower."""


def after(*takes):
    mastery = Mastery()
    for take in takes:
        mastery = mastery_after(mastery, take_reads(take))
    return mastery


def two_days(row, first=1, **changes):
    """Twice on each of two days: enough for ink of all but the first note."""
    return [judged(row, day=day, sighting=n, **changes) for day in (first, first + 1) for n in (1, 2)]


def seen(mastery, day=2, neck_map=MAP):
    return ink_of_map(mastery, neck_map, day)


def written(ink_of_map, name):
    """The ink of a written note of a map."""
    every = {one.written: one.ink for pitch in ink_of_map.pitches for one in pitch.spellings}
    return every.get(name, Ink.NOT_MET)


def test_of_a_new_player_nothing_is_met_of_thirty_pitches():
    counts = seen(Mastery()).counts
    assert (counts.ink, counts.pencil, counts.not_met, counts.due) == (0, 0, 30, 0)
    assert counts.pitches == len(MAP.homes) == 30


def test_a_pitch_is_ink_pencil_or_not_met_and_the_first_note_of_a_row_is_pencil():
    ink = seen(after(*two_days("F4 G4 A4")))
    assert (written(ink, "G4"), written(ink, "F4"), written(ink, "C4")) == (Ink.INK, Ink.PENCIL, Ink.NOT_MET)
    assert ink.at(MAP.places[55]) is Ink.INK
    assert (ink.counts.ink, ink.counts.pencil, ink.counts.not_met) == (2, 1, 27)
    assert [one.shown.written for one in ink.new_on(2)] == ["G4", "A4"]
    assert ink.new_on(1) == ()


def test_a_place_is_ink_when_every_usual_spelling_is():
    flats = after(*two_days("C4 Ab4"))
    assert (written(seen(flats), "Ab4"), written(seen(flats), "G#4")) == (Ink.INK, Ink.NOT_MET)
    assert seen(flats).at(MAP.places[G_SHARP]) is Ink.PENCIL
    both = after(*two_days("C4 Ab4"), *two_days("C4 G#4", first=3))
    assert seen(both, 4).at(MAP.places[G_SHARP]) is Ink.INK
    assert next(one for one in seen(both, 4).pitches if one.sounding == G_SHARP).inked_day == 4


def test_a_rare_spelling_has_ink_of_its_own_and_makes_no_place_ink():
    ink = seen(after(*two_days("C4 Gb4")))
    assert (written(ink, "Gb4"), written(ink, "F#4"), ink.at(MAP.places[54])) == (Ink.INK, Ink.NOT_MET, Ink.PENCIL)


def test_a_note_in_ink_that_should_come_back_has_a_pencil_ring_and_counts_as_ink():
    mastery = after(*two_days("F4 G4 A4"))
    ink = seen(mastery, day=60)
    assert (written(ink, "G4"), ink.counts.ink, ink.counts.due) == (Ink.DUE, 2, 2)
    assert seen(mastery, day=2).counts.due == 0


def test_a_home_that_was_moved_is_back_in_pencil_and_has_its_ink_again_when_it_comes_back():
    mastery = after(*two_days("F4 G4 A4"))
    moved = seen(mastery, neck_map=MAP.with_choice(Place(3, 0)))
    assert (written(moved, "G4"), moved.at(Place(3, 0)), written(moved, "A4")) == (Ink.PENCIL, Ink.PENCIL, Ink.INK)
    assert written(seen(mastery), "G4") is Ink.INK


def test_another_position_is_another_map_with_nothing_met():
    assert seen(after(*two_days("F4 G4 A4")), neck_map=standard_map(position=2)).counts.ink == 0


def test_usual_spellings_are_those_of_few_signs():
    names = {midi: [one.name for one in usual_spellings(midi)] for midi in range(60, 72)}
    assert names == {
        60: ["C4"], 61: ["C#4"], 62: ["D4"], 63: ["Eb4"], 64: ["E4"], 65: ["F4"],
        66: ["F#4"], 67: ["G4"], 68: ["Ab4", "G#4"], 69: ["A4"], 70: ["Bb4"], 71: ["B4"],
    }  # fmt: skip


def test_at_concert_pitch_the_same_places_have_other_written_notes():
    shown = [
        next(one.shown.written for one in seen(Mastery(), neck_map=standard_map(reading=reading)).pitches)
        for reading in (Reading.GUITAR, Reading.CONCERT)
    ]
    assert shown == ["Ab3", "Ab2"]
