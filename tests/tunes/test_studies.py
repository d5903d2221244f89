"""The studies of the book: twelve, each about one thing, which is what most of its notes do."""

from fractions import Fraction
from functools import cache
from itertools import pairwise

import pytest

from game.music.chord_quality import degrees_of
from game.music.chord_tones import pitch_class
from game.tunes.library.library import open_entry, shipped_entries
from tests.tunes.head_figures import head_excerpts, rest_share

STUDIES = {
    entry.name.partition("-study-")[2]: entry
    for entry in shipped_entries()
    if "-study-" in entry.name and not entry.retired
}


@cache
def heard(name):
    """The notes of a study, each as its place in the bar, its pitch, and what it is in its chord: semitones above the
    root, by the degree of the chord or 0 for none, and the chord itself.
    """
    score = open_entry(STUDIES[name])
    (study,) = head_excerpts(score, bars=len(score.bars))
    found = []
    for note, chord in study.notes:
        above = (note.sounding - pitch_class(chord.root)) % 12
        tones = {tone % 12: degree for degree, of in degrees_of(chord).items() for tone in of}
        found.append((note.onset, note.sounding, above, tones.get(above, 0), chord))
    return found


def on_beat(onset):
    return onset % 1 == 0


def half_steps_below_chord_tones(notes):
    return sum(after[1] - before[1] == 1 and after[3] > 0 for before, after in pairwise(notes))


def enclosures(notes):
    """From above and from below within a tone each to a chord tone."""
    threes = zip(notes, notes[1:], notes[2:], strict=False)
    return sum(last[3] > 0 and 1 <= one[1] - last[1] <= 2 and 1 <= last[1] - two[1] <= 2 for one, two, last in threes)


def broken_triads(notes):
    """Three in a row in one direction, made of root, third and fifth."""
    threes = zip(notes, notes[1:], notes[2:], strict=False)
    return sum(
        {note[3] for note in three} == {1, 3, 5} and (three[0][1] - three[1][1]) * (three[1][1] - three[2][1]) > 0
        for three in threes
    )


def sevenths_passed_through(notes):
    """Root, major seventh, minor seventh over a dominant."""
    threes = zip(notes, notes[1:], notes[2:], strict=False)
    return sum([note[2] for note in three] == [0, 11, 10] for three in threes)


def guide_tones_at_changes(notes):
    """Thirds and sevenths where a chord is heard for the first time."""
    return sum(after[4] is not before[4] and after[3] in (3, 7) for before, after in pairwise(notes))


def arpeggios_from_the_third(notes):
    """Third, fifth, seventh, and on to the ninth or the root."""
    fours = zip(notes, notes[1:], notes[2:], notes[3:], strict=False)
    return sum(
        [note[3] for note in four[:3]] == [3, 5, 7] and four[3][2] in (0, 1, 2) and four[0][1] < four[3][1]
        for four in fours
    )


def one_two_three_five(notes):
    fours = zip(notes, notes[1:], notes[2:], notes[3:], strict=False)
    return sum([note[2] for note in four] in ([0, 2, 4, 7], [0, 2, 3, 7]) for four in fours)


def chromatic_steps(notes):
    """Two half steps in one direction."""
    threes = zip(notes, notes[1:], notes[2:], strict=False)
    return sum(two[1] - one[1] == three[1] - two[1] in (1, -1) for one, two, three in threes)


def altered_tones(notes):
    """Flat and sharp ninths, sharp elevenths and flat thirteenths of dominants."""
    return sum(chord.kind == "dominant" and above in (1, 3, 6, 8) for *_, above, _, chord in notes)


def minor_cadences(notes):
    """A half diminished chord, a dominant, and a minor chord, each root a fourth above the one before."""
    changes = [after[4] for before, after in pairwise([(0, 0, 0, 0, None), *notes]) if after[4] is not before[4]]
    threes = zip(changes, changes[1:], changes[2:], strict=False)
    return sum(
        one.kind == "half-diminished"
        and two.kind == "dominant"
        and three.kind.startswith("minor")
        and all((pitch_class(to.root) - pitch_class(of.root)) % 12 == 5 for of, to in pairwise((one, two, three)))
        for one, two, three in threes
    )


def bars_said_again_lower(notes):
    """Bars whose first four notes go as those of the bar before, a tone more or less, from up to a third lower."""
    bars = {}
    for onset, pitch, *_ in notes:
        bars.setdefault(int(onset // 4), []).append(pitch)
    return sum(
        len(before) >= 4
        and len(after) >= 4
        and 1 <= before[0] - after[0] <= 4
        and all(abs((own - after[0]) - (other - before[0])) <= 2 for own, other in zip(after, before[:4], strict=False))
        for before, after in pairwise(bars.values())
    )


def notes_pushed_off_the_beat(notes):
    """Notes between beats with none on the beat that follows."""
    onsets = {onset for onset, *_ in notes}
    return sum(onset % 1 == Fraction(1, 2) and onset + Fraction(1, 2) not in onsets for onset in onsets)


THINGS = [
    ("the-neighbour-below", half_steps_below_chord_tones, 18),
    ("round-the-target", enclosures, 12),
    ("three-at-a-time", broken_triads, 16),
    ("one-note-more", sevenths_passed_through, 5),
    ("the-thread", guide_tones_at_changes, 20),
    ("from-the-third-up", arpeggios_from_the_third, 10),
    ("one-two-three-five", one_two_three_five, 12),
    ("the-half-steps-between", chromatic_steps, 16),
    ("the-bent-dominant", altered_tones, 20),
    ("dark-cadences", minor_cadences, 4),
    ("say-it-lower", bars_said_again_lower, 5),
    ("an-eighth-too-late", notes_pushed_off_the_beat, 14),
]


def test_every_study_of_the_book_has_its_thing():
    assert sorted(name for name, _, _ in THINGS) == sorted(STUDIES)


@pytest.mark.parametrize(("name", "thing", "least"), THINGS, ids=[row[0] for row in THINGS])
def test_a_study_is_about_one_thing_as_no_other_is(name, thing, least):
    assert thing(heard(name)) >= least
    assert all(thing(heard(other)) <= thing(heard(name)) for other in STUDIES if other != name)


@pytest.mark.parametrize("name", STUDIES)
def test_a_study_has_a_form_and_breathes(name):
    """Twelve bars, or sixteen in two halves; a word for the feel; a tenth of it is rest, more or less."""
    score = open_entry(STUDIES[name])
    assert len(score.bars) in (12, 16)
    assert [bar.marks.section for bar in score.bars if bar.marks.section] == (
        ["A", "B"] if len(score.bars) == 16 else ["A"]
    )
    assert score.feel
    (study,) = head_excerpts(score, bars=len(score.bars))
    assert 0.05 <= rest_share(study) <= 0.3
