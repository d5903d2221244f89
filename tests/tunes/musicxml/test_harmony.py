"""Outside check: roots, basses and kinds of chord symbols against music21's own reading.

Source: the `music21` library's harmony objects, over scores of its corpus that have chord symbols.
"""

import warnings

import pytest

from game.tunes.read_tune import read_tune

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
