"""Outside check: roots, basses and kinds of chord symbols against music21's own reading.

Source: the `music21` library's harmony objects, over scores of its corpus that have chord symbols.
"""

import warnings

import pytest

from game.tunes.read_tune import read_tune
from tests.tunes.hand_written import QUARTERS, note, score

# music21 renames some kinds when it reads them; MusicXML 4.0 `kind-value` is what the file says.
MUSIC21_NAMES = {
    "dominant": "dominant-seventh",
    "half-diminished": "half-diminished-seventh",
    "major-minor": "minor-major-seventh",
    "dominant-11th": "dominant-11th",
}
SCORES = ("leadSheet/berlinAlexandersRagtime.mxl", "leadSheet/fosterBrownHair.mxl")


@pytest.mark.parametrize("name", SCORES)
def test_chord_symbols_are_those_music21_reads(name, reading_process):
    """Root, bass and kind of every symbol, at the same place in its bar."""
    from music21 import converter, corpus

    path = corpus.getWork(name)
    score = read_tune(path, part=1, process=reading_process)
    ours = [
        (index, chord.onset, chord.root, chord.bass or chord.root, MUSIC21_NAMES.get(chord.kind, chord.kind))
        for index, bar in enumerate(score.bars)
        for chord in bar.chords
        if chord.root
    ]
    with warnings.catch_warnings():
        warnings.simplefilter("ignore")
        part = converter.parse(path, forceSource=True).parts[0]
        theirs = [
            (
                index,
                symbol.getOffsetInHierarchy(measure),
                symbol.root().name.replace("-", "b"),
                symbol.bass().name.replace("-", "b"),
                MUSIC21_NAMES.get(symbol.chordKind, symbol.chordKind),
            )
            for index, measure in enumerate(part.getElementsByClass("Measure"))
            for symbol in measure.recurse().getElementsByClass("ChordSymbol")
            if symbol.chordKind != "none"
        ]
    assert len(theirs) > 10
    assert ours == theirs


def test_chord_symbols_come_from_root_and_kind(read):
    """Text from the file where it has one, else our short form; onset from where the symbol stands."""

    def harmony(root, kind, more="", text=""):
        shown = f' text="{text}"' if text else ""
        return f"<harmony><root><root-step>{root}</root-step>{more}</root><kind{shown}>{kind}</kind></harmony>"

    flat = "<root-alter>-1</root-alter>"
    bar = (
        harmony("G", "minor-seventh")
        + note("C4")
        + harmony("B", "dominant", flat)
        + note("D4")
        + harmony("B", "half-diminished")
        + note("E4", 8)
        + "<backup><duration>4</duration></backup>"
        + harmony("F", "major-seventh", text="△7")
        + "<forward><duration>4</duration></forward>"
    )
    chords = read(score(bar)).bars[0].chords
    assert [(c.onset, c.text) for c in chords] == [(0, "Gm7"), (1, "Bb7"), (2, "Bm7b5"), (3, "Fmaj7")]
    assert chords[1].kind == "dominant"


def test_a_slash_chord_keeps_its_bass(read):
    """B♭7 over D."""
    harmony = (
        "<harmony><root><root-step>B</root-step><root-alter>-1</root-alter></root><kind>dominant</kind>"
        "<bass><bass-step>D</bass-step></bass></harmony>"
    )
    (chord,) = read(score(harmony + QUARTERS)).bars[0].chords
    assert (chord.text, chord.root, chord.bass) == ("Bb7/D", "Bb", "D")
