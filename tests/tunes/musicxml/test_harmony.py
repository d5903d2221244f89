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


@pytest.mark.parametrize(
    ("kind", "text", "degrees", "shown"),
    [
        ("dominant", "7b9", [("add", -1, 9)], "C7b9"),
        ("dominant", "7(b9)", [("add", -1, 9)], "C7(b9)"),
        ("dominant", "7-9", [("add", -1, 9)], "C7-9"),
        ("dominant", "7+5", [("alter", 1, 5)], "C7+5"),
        ("dominant", "+7", [("alter", 1, 5)], "C+7"),
        ("dominant", "7♭9", [("add", -1, 9)], "C7b9"),
        ("dominant", "7#5b9", [("alter", 1, 5), ("add", -1, 9)], "C7#5b9"),
        ("dominant", "7alt", [("alter", -1, 5), ("add", 1, 9)], "C7alt"),
        ("dominant", "7b9", [("add", -1, 9), ("add", 1, 11)], "C7b9(#11)"),
        ("dominant", "7", [("alter", -1, 5)], "C7(b5)"),
        ("dominant", "13b9", [("add", -1, 9)], "C13b9"),
        ("dominant", "13", [("add", -1, 9)], "C13(b9)"),
        ("suspended-fourth", "7sus", [("add", 0, 7)], "C7sus"),
        ("suspended-fourth", "9sus4", [("add", 0, 7), ("add", 0, 9)], "C9sus4"),
        ("minor-sixth", "m69", [("add", 0, 9)], "Cm69"),
        ("major-sixth", "6/9", [("add", 0, 9)], "C6/9"),
        ("minor", "m+", [("alter", 1, 5)], "Cm+"),
        ("minor-seventh", "-7", [("alter", -1, 5)], "C-7(b5)"),
        ("major", "add2", [("add", 0, 9)], "Cadd2"),
        ("major", "(no3)", [("subtract", 0, 3)], "C(no3)"),
        ("major", "omit3", [("subtract", 0, 3)], "Comit3"),
        ("major", "", [("subtract", 0, 3)], "C(no3)"),
        ("half-diminished", None, [("alter", -1, 5)], "Cm7b5"),
        ("half-diminished", "ø7", [("alter", -1, 5)], "Cm7b5"),
        ("diminished", "o", [], "Cdim"),
        ("diminished-seventh", "o7", [], "Cdim7"),
        ("diminished-seventh", "°7", [], "Cdim7"),
        ("major", "omit3", [], "Comit3"),
        ("dominant", None, [("add", -1, 9)], "C7(b9)"),
        ("major", None, [("add", 0, 9)], "C(add9)"),
    ],
)
def test_tones_that_the_text_of_the_kind_names_are_not_printed_twice(read, kind, text, degrees, shown):
    """As programs write it: the text of the kind says all, the degrees say it again for whoever plays it."""
    tones = "".join(
        f"<degree><degree-value>{value}</degree-value><degree-alter>{alter}</degree-alter>"
        f"<degree-type>{what}</degree-type></degree>"
        for what, alter, value in degrees
    )
    named = "" if text is None else f' text="{text}"'
    harmony = f"<harmony><root><root-step>C</root-step></root><kind{named}>{kind}</kind>{tones}</harmony>"
    assert [chord.text for chord in read(score(harmony + QUARTERS)).bars[0].chords] == [shown]
