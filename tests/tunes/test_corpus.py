"""Outside check: the notes we read are those music21 reads, over the MusicXML scores of the corpus it
installs.

Source: the `music21` library (BSD), its own objects walked here without any of our code. One part of each
score: of a sample by default, of every score in CI (about 5 minutes).
"""

import warnings
from fractions import Fraction
from pathlib import Path

import pytest

from game.errors import TuneError
from game.music.order import order_of_play
from game.music.written import written_notes
from game.text.catalogue import tell
from game.tunes.musicxml.reading_octave import settled_octave
from game.tunes.read_tune import read_tune
from game.tunes.sandbox.reading_process import ReadingProcess
from tests.sampling import sample
from tests.tunes.told import warnings_told

# Refused on purpose, by the end of the sentence that says why.
REFUSED = {
    "opus132.mxl": "export one tune at a time",  # 1,124 bars
    "opus74.mxl": "export one tune at a time",  # 1,114 bars
    "drum_sample.xml": "choose another",  # no pitched notes
}


def corpus_scores():
    from music21 import corpus

    paths = sorted(path for path in corpus.getCorePaths() if path.suffix in {".mxl", ".xml", ".musicxml"})
    return sample(paths, by_default=3)


def music21_notes(path: Path):
    """Spelled pitch as the file has it, onset and length in quarters: first staff, first voice, top notes, ties joined:
    also where the file has only one end of a tie between neighbours of one pitch, which music21 leaves as it is.
    """
    from music21 import converter

    with warnings.catch_warnings():
        warnings.simplefilter("ignore")
        part = converter.parse(path, forceSource=True).parts[0]
    notes = []
    open_tie = None
    start = Fraction(0)
    for measure in part.getElementsByClass("Measure"):
        line = measure.voices[0] if measure.voices else measure
        for element in line.notes:
            if not hasattr(element, "pitches") or _is_symbol(element) or not element.pitches:
                continue
            if element.duration.isGrace or element.quarterLength == 0:
                continue
            note = max(element.notes, key=lambda one: one.pitch.ps) if element.isChord else element
            onset = start + Fraction(element.offset)
            length = Fraction(element.quarterLength)
            name = note.pitch.nameWithOctave.replace("-", "b")
            tie = note.tie.type if note.tie else ""
            joins = open_tie == name or (tie in {"stop", "continue"} and notes and notes[-1][0] == name)
            if joins and notes[-1][1] + notes[-1][2] == onset:
                notes[-1] = (name, notes[-1][1], notes[-1][2] + length)
            else:
                notes.append((name, onset, length))
            open_tie = name if tie in {"start", "continue"} else None
        # Not the measure's own highestTime: it counts dynamics and words written past the end of the bar.
        held = Fraction(measure.flatten().notesAndRests.stream().highestTime)
        # A bar with nothing but a rest is as long as its metre, however long some programs write the rest.
        only_rests = all(element.isRest for element in measure.flatten().notesAndRests if not _is_symbol(element))
        start += min(held, Fraction(measure.barDuration.quarterLength)) if only_rests else held
    return notes


def _is_symbol(element) -> bool:
    return "ChordSymbol" in element.classes


def our_notes(path: Path, process: ReadingProcess):
    """The same from our reading, in the order of the page, and the warnings it came with."""
    from game.tunes.musicxml.checked_xml import checked_tree
    from game.tunes.sandbox.tune_source import open_source

    score = read_tune(path, part=1, process=process)
    up = settled_octave(checked_tree(open_source(path)).find("part"), None).up
    notes = [
        (note.pitch.up_octaves(-up).name, note.onset, note.length) for note in written_notes(score.bars, score.reading)
    ]
    assert order_of_play(score.bars)
    return notes, warnings_told(score)


# What we leave out or round on purpose; music21 keeps it. Each is said in a warning of the tune.
EXPLAINED = ("overlap", "Cue notes", "Quarter tones", "Slash", "without a pitch")
# A hidden voice spells out a trill; after it music21 adds a rest that runs past the end of the bar, so that what
# follows comes later than in the file (a workaround it applies to one program's files).
HIDDEN_VOICE = (
    "opus1no1/movement3.mxl",
    "opus1no1/movement4.mxl",
    "opus1no1/movement5.mxl",
    "opus41no1/movement5.mxl",
    "opus59no3/movement2.mxl",
)


def is_explained(path: Path, said: tuple[str, ...]) -> bool:
    return f"{path.parent.name}/{path.name}" in HIDDEN_VOICE or any(
        word in warning for word in EXPLAINED for warning in said
    )


def _same(ours, theirs):
    return len(ours) == len(theirs) and all(map(_same_note, ours, theirs))


def _same_note(our, their):
    """Whether a note is the same. music21 leaves the length of a tuplet's note as a program rounded it to whole
    divisions (683 of 1024 for two thirds): there, and there alone, ours is the printed one, a 64th of a quarter off at
    most.
    """
    pitch, *times = our
    return pitch == their[0] and all(map(_same_time, times, their[1:]))


def _same_time(our, their):
    return our == their or (
        not _is_binary(our) and _is_binary(their) and their.denominator >= 64 and abs(our - their) < Fraction(1, 64)
    )


def _is_binary(time):
    return time.denominator & (time.denominator - 1) == 0


def test_the_notes_of_real_scores_are_those_music21_reads():
    """Spelled pitch, onset and length of every note agree, or a warning says what was left out."""
    music21 = pytest.importorskip("music21")
    assert music21
    wrong, explained, equal, refused = [], [], 0, 0
    paths = corpus_scores()
    with ReadingProcess() as process:
        for path in paths:
            try:
                ours, said = our_notes(path, process)
            except TuneError as fault:
                refused += 1
                if not tell(fault.message).endswith(REFUSED.get(path.name, "\0")):
                    wrong.append(f"{path.name}: refused: {fault}")
                continue
            theirs = music21_notes(path)
            if _same(ours, theirs):
                equal += 1
            elif is_explained(path, said):
                explained.append(f"{path.name}: {said}")
            else:
                differing = next(
                    (pair for pair in zip(ours, theirs, strict=False) if pair[0] != pair[1]),
                    (len(ours), len(theirs)),
                )
                wrong.append(f"{path.name}: {differing} {said}")
    print(f"{equal} equal, {refused} refused, {len(explained)} explained: {explained}")
    assert not wrong, "\n".join(wrong)
    assert equal + refused + len(explained) == len(paths)
    assert len(explained) <= len(paths) // 20
