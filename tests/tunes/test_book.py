"""The book of shipped tunes: what is in it, where it came from, and that it is what it says it is.

That the compact forms are up to date, complete and on the map is told in `test_shipped.py`.
"""

import re
from fractions import Fraction

import pytest

from game.music.meter import Meter
from game.music.order import order_of_play
from game.music.order_choices import order_choices
from game.music.pitch import SEMITONES_OF_STEP
from game.music.score import Jump, Until
from game.music.written import written_notes
from game.paths import shipped
from game.tunes.library.library import open_entry, shipped_entries

FOLDER = shipped("content", "tunes")
ENTRIES = {entry.name: entry for entry in shipped_entries()}
STUDIES = {name: entry for name, entry in ENTRIES.items() if "-study-" in name}
OURS = {name: entry for name, entry in ENTRIES.items() if entry.composer.startswith("The makers of Homefret")}
MELODIES = {name: entry for name, entry in ENTRIES.items() if name not in OURS}

# Pitch classes above the root, by MusicXML's `kind` (4.0, kind-value), and the letter each stands on: 0 root, 2 third,
# 4 fifth, 6 seventh (5 for a sixth). A diminished seventh chord is left out: it is commonly spelled freely (trade).
CHORD_TONES = {
    "major": {0: 0, 4: 2, 7: 4},
    "minor": {0: 0, 3: 2, 7: 4},
    "dominant": {0: 0, 4: 2, 7: 4, 10: 6},
    "major-seventh": {0: 0, 4: 2, 7: 4, 11: 6},
    "minor-seventh": {0: 0, 3: 2, 7: 4, 10: 6},
    "half-diminished": {0: 0, 3: 2, 6: 4, 10: 6},
    "major-sixth": {0: 0, 4: 2, 7: 4, 9: 5},
    "minor-sixth": {0: 0, 3: 2, 7: 4, 9: 5},
}
LETTERS = "CDEFGAB"


def tune(name):
    """The score whose file name ends so."""
    (entry,) = (entry for key, entry in ENTRIES.items() if key.endswith(name))
    return open_entry(entry)


def page_notes(score):
    """The notes in the order of the page, repeats not written out, ties joined."""
    return written_notes(score.bars, score.reading)


def mode_of(name):
    return re.search(r"<mode>(\w+)</mode>", (FOLDER / f"{name}.musicxml").read_text(encoding="utf-8"))[1]


def test_the_book_holds_forty_one_melodies_and_twelve_studies():
    assert len(MELODIES) >= 41
    assert len(STUDIES) >= 12
    assert len({entry.title for entry in ENTRIES.values()}) == len(ENTRIES)


def test_ten_melodies_and_three_studies_are_minor_or_modal():
    assert sum(mode_of(name) != "major" for name in MELODIES) >= 10
    assert sum(mode_of(name) != "major" for name in STUDIES) >= 3
    assert {"minor", "dorian", "phrygian"} <= {mode_of(name) for name in ENTRIES}


def test_six_are_in_three_four_and_six_in_six_eight():
    assert sum(entry.meter == "3/4" for entry in ENTRIES.values()) >= 6
    assert sum(entry.meter == "6/8" for entry in ENTRIES.values()) >= 6


def test_six_are_swung():
    assert sum(open_entry(entry).swung is True for entry in ENTRIES.values()) >= 6


def test_the_book_has_repeats_endings_and_both_jumps():
    marks = [bar.marks for entry in ENTRIES.values() for bar in open_entry(entry).bars]
    assert any(mark.repeat_end for mark in marks)
    assert {(1,), (2,)} <= {mark.endings for mark in marks}
    jumps = {(mark.jump, mark.until) for mark in marks if mark.jump}
    assert (Jump.DA_CAPO, Until.FINE) in jumps
    assert (Jump.DAL_SEGNO, Until.CODA) in jumps


def test_no_page_of_the_book_leaves_its_order_open():
    """There is nothing to choose, and the other reading could not be kept: its files belong to the program."""
    for entry in shipped_entries():
        assert order_choices(open_entry(entry).bars) == (), entry.title


def test_dal_segno_al_coda_is_played_as_it_reads():
    """Bars 1 to 8 and again with the second ending (9, 10), the bridge (11 to 18), from the segno in bar 1 to To Coda
    at the end of bar 6, and the coda (19, 20). Worked out by hand (trade)."""
    played = [bar + 1 for bar in order_of_play(tune("study-round-the-houses").bars)]
    first, bridge = list(range(1, 9)), list(range(11, 19))
    assert played == [*first, *first[:6], 9, 10, *bridge, *first[:6], 19, 20]


def test_every_file_has_its_row_of_provenance_and_every_row_its_file():
    text = (FOLDER / "PROVENANCE.md").read_text(encoding="utf-8")
    rows = [[cell.strip() for cell in line.split("|")[1:-1]] for line in text.splitlines() if line.startswith("| ")]
    named = {row[0]: row for row in rows[1:]}
    assert set(named) == set(ENTRIES)
    for name, (_, title, author, dates, encoder, licence) in named.items():
        assert title.startswith(ENTRIES[name].title)
        assert author
        assert dates
        assert (encoder, licence) == ("makers of Homefret", "CC0")


def test_no_author_has_died_in_the_last_hundred_years():
    """Lives are given as in 1770-1827; ours are the studies."""
    text = (FOLDER / "PROVENANCE.md").read_text(encoding="utf-8")
    lives = re.findall(r"\b(1[4-9]\d\d)-(1[5-9]\d\d)\b", text)
    assert len(lives) >= 15
    assert all(int(died) < 1926 for _, died in lives)


# Reference tunes in the corpus of the `music21` library (BSD): traditional tunes from printed collections (the folk
# songs of the Essen collection, O'Neill, Ryan, Aird, an American fife book), most of them variants of their own. Ours
# and theirs are the notes compared, in the order of the page; `edits` how many are wrong, added or dropped once theirs
# is transposed (plain edit distance); then what they are.
ALL = slice(None)
REFERENCES = [
    ("ach-du-lieber-augustin", ALL, "essenFolksong/erk20", 356, ALL, 0, "equal"),
    ("god-save-the-king", ALL, "essenFolksong/boehme10", 16, ALL, 0, "equal"),
    ("sakura", ALL, "essenFolksong/test0", 5, ALL, 0, "equal"),
    ("silent-night", ALL, "essenFolksong/boehme20", 270, ALL, 2, "two notes struck again for another syllable"),
    ("lightly-row", ALL, "essenFolksong/boehme20", 137, ALL, 3, "two notes fewer, the first half ends on the third"),
    ("o-tannenbaum", ALL, "essenFolksong/boehme20", 148, ALL, 3, "other notes for three weak syllables"),
    ("londonderry-air", ALL, "oneills1850/0301-0350", 316, ALL, 3, "an upbeat of two notes more, G for C in bar 9"),
    ("in-dulci-jubilo", ALL, "essenFolksong/altdeu20", 163, ALL, 4, "three notes struck again, C for F in one upbeat"),
    ("pop-goes-the-weasel", ALL, "ryansMammoth/PopGoesTheWeasel", 22, slice(27), 4, "no upbeats, C for A in bar 3"),
    ("the-swallowtail-jig", slice(42), "ryansMammoth/SwallowTailJig", 1, slice(44), 3, "an upbeat, D for B in bar 7"),
    ("yankee-doodle", slice(27), "miscFolk/americanfifeopus", 30, slice(25), 3, "the tonic struck once for twice"),
    ("the-irish-washerwoman", slice(48), "airdsAirs/book4", 619, slice(48), 0, "equal, the first half"),
    (
        "drunken-sailor",
        slice(36),
        "miscFolk/americanfifeopus",
        20,
        slice(75, 111),
        2,
        "other passing notes in bars 2, 4",
    ),
    (
        "ah-vous-dirai-je-maman",
        ALL,
        "airdsAirs/book2",
        369,
        slice(49),
        9,
        "with the passing notes and graces of its time",
    ),
    (
        "theme-of-the-surprise-symphony",
        ALL,
        "essenFolksong/boehme20",
        131,
        slice(24),
        6,
        "a lullaby on the theme: three notes an octave higher, the tonic above in bar 6, a cadence of its own",
    ),
    (
        "auld-lang-syne",
        ALL,
        "airdsAirs/book3",
        528,
        slice(57),
        11,
        "the air called Roger's Farewell: other notes between the beats",
    ),
]


def reference(work, number):
    """The notes of one tune of the corpus, ties joined: MIDI numbers, and lengths in quarter notes."""
    from music21 import converter, corpus

    text = corpus.getWork(work).read_text(encoding="utf-8", errors="replace")
    one = re.search(rf"(?ms)^X: *0*{number}\b.*?(?=^X:|\Z)", text)[0]
    pitches, lengths = [], []
    for note in converter.parse(one, format="abc").flatten().notes:
        if not note.isNote:
            continue
        if note.tie and note.tie.type != "start":
            lengths[-1] += Fraction(note.quarterLength)
        else:
            pitches.append(note.pitch.midi)
            lengths.append(Fraction(note.quarterLength))
    return pitches, lengths


def edit_distance(ours, theirs):
    """Levenshtein's, row by row."""
    row = list(range(len(theirs) + 1))
    for index, own in enumerate(ours, start=1):
        before, row = row, [index]
        for column, other in enumerate(theirs, start=1):
            row.append(min(before[column] + 1, row[-1] + 1, before[column - 1] + (own != other)))
    return row[-1]


def least_edits(ours, theirs):
    """The edit distance in the transposition that suits best, up to two octaves up or down."""
    return min(edit_distance(ours, [pitch + shift for pitch in theirs]) for shift in range(-24, 25))


@pytest.mark.parametrize(
    ("name", "own_part", "work", "number", "their_part", "edits", "why"), REFERENCES, ids=[row[0] for row in REFERENCES]
)
def test_a_melody_is_the_one_in_the_reference(name, own_part, work, number, their_part, edits, why):
    ours = [note.sounding for note in page_notes(tune(name))][own_part]
    theirs = reference(work, number)[0][their_part]
    assert len(ours) >= 26
    assert least_edits(ours, theirs) == edits, why


@pytest.mark.parametrize(
    ("name", "work", "number", "edits"),
    [
        ("ach-du-lieber-augustin", "essenFolksong/erk20", 356, 2),
        ("god-save-the-king", "essenFolksong/boehme10", 16, 2),
    ],
)
def test_a_rhythm_is_the_one_in_the_reference_but_for_the_last_notes_of_lines(name, work, number, edits):
    """Note for note; only the notes that end a line are held for as long as each book likes."""
    ours = [note.length for note in page_notes(tune(name))]
    differ = [own != other for own, other in zip(ours, reference(work, number)[1], strict=True)]
    assert sum(differ) == edits
    assert all(length >= 2 for length, other in zip(ours, differ, strict=True) if other)


def test_old_hundredth_is_the_tune_of_bachs_chorale():
    """BWV 326 in music21's corpus; Bach's soprano has D for B in the second line."""
    from music21 import corpus

    notes = corpus.parse("bach/bwv326", forceSource=True).parts[0].flatten().notes
    theirs = [note.pitch.midi for note in notes if not (note.tie and note.tie.type != "start")]
    ours = [note.sounding for note in page_notes(tune("old-hundredth"))]
    assert len(ours) == len(theirs) == 32
    assert least_edits(ours, theirs) == 1


def test_a_wrong_note_would_be_found():
    ours = [note.sounding for note in page_notes(tune("god-save-the-king"))]
    theirs = reference("essenFolksong/boehme10", 16)[0]
    assert least_edits([*ours[:20], ours[20] + 1, *ours[21:]], theirs) == 1
    assert least_edits(ours[:30], theirs) == len(theirs) - 30


def beats_of(bar):
    """The chord over each note and whether the note begins on a beat."""
    for note in bar.notes:
        chord = next((chord for chord in reversed(bar.chords) if chord.onset <= note.onset), None)
        yield note, chord, note.onset.denominator == 1 and not note.tied_from_previous


def heard_changes(name):
    """Each note of a page with the chord that holds: a bar without one goes on with the last.
    A pickup has none."""
    chord = None
    for bar in open_entry(ENTRIES[name]).bars:
        for note, own, on_beat in beats_of(bar):
            chord = own or chord
            if chord:
                yield bar, note, chord, on_beat


def above_root(note, chord):
    """Semitones and letters from the root of the chord up to the note."""
    root = SEMITONES_OF_STEP[chord.root[0]] + chord.root.count("#") - chord.root[1:].count("b")
    letters = (LETTERS.index(note.pitch.step) - LETTERS.index(chord.root[0])) % 7
    return (note.pitch.midi - root) % 12, letters


@pytest.mark.parametrize("name", OURS)
def test_chord_tones_of_what_we_composed_are_spelled_as_the_chord_spells_them(name):
    """D♭ over E♭7, C♯ over A7; an approach note that only happens to sound like one must be written like one too."""
    wrong = [
        (bar.number, str(note.pitch), chord.text)
        for bar, note, chord, _ in heard_changes(name)
        if (tones := CHORD_TONES.get(chord.kind))
        and (semitones := above_root(note, chord)[0]) in tones
        and tones[semitones] != above_root(note, chord)[1]
    ]
    assert not wrong


@pytest.mark.parametrize("name", STUDIES)
def test_a_study_has_no_odd_spellings(name):
    """E♯, B♯, C♭ and F♭, and double accidentals, would ask of the reader what no key here asks."""
    pitches = [note.pitch for _, note, _, _ in heard_changes(name)]
    odd = {("E", 1), ("B", 1), ("C", -1), ("F", -1)}
    assert not [pitch for pitch in pitches if (pitch.step, pitch.alter) in odd or abs(pitch.alter) > 1]


@pytest.mark.parametrize("name", STUDIES)
def test_a_study_plays_the_changes(name):
    """Two thirds of the notes that begin on a beat are tones of the chord, the flat ninth of a dominant among them."""
    on_beats = [(note, chord) for _, note, chord, on_beat in heard_changes(name) if on_beat]
    tones = [
        above_root(note, chord)[0]
        in {*CHORD_TONES.get(chord.kind, {0: 0, 3: 2, 6: 4, 9: 6}), 1 if "b9" in chord.text else 0}
        for note, chord in on_beats
    ]
    assert sum(tones) >= Fraction(2, 3) * len(tones)


def chromatic_share(name):
    """The share of notes outside the key signature."""
    notes = [(bar, note) for bar, note, _, _ in heard_changes(name) if not note.tied_from_previous]
    outside = [note.pitch.alter != bar.key.alter_of(note.pitch.step) for bar, note in notes]
    return Fraction(sum(outside), len(outside))


def test_the_densest_study_is_a_quarter_chromatic():
    shares = {name: chromatic_share(name) for name in STUDIES}
    densest = max(shares, key=shares.get)
    assert shares[densest] >= Fraction(1, 4)
    # Eighth notes almost throughout: seven a bar or more.
    assert ENTRIES[densest].notes >= 7 * ENTRIES[densest].bars


def test_the_studies_are_spread_over_keys_and_rhythms():
    assert {"F", "Bb", "C", "Eb", "G", "Dm", "Gm", "Cm"} <= {entry.key for entry in STUDIES.values()}
    scores = [open_entry(entry) for entry in STUDIES.values()]
    assert sum(any(note.value.tuplet for bar in score.bars for note in bar.notes) for score in scores) >= 2
    off_beat_ties = [
        sum(note.tied_to_next and note.onset.denominator == 2 for bar in score.bars for note in bar.notes)
        for score in scores
    ]
    assert sum(ties >= 8 for ties in off_beat_ties) >= 2
    assert {Meter(3, 4), Meter(4, 4)} <= {score.bars[0].meter for score in scores}
