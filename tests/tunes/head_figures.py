"""What a head is like, in figures: density, rhythm, motif, phrase, harmony, form.

A head is looked at in order of play, its pickup left out, eight bars at a time: bars 1 to 8, 9 to 16 and so on, and the
last eight where the rest is shorter. A figure of a head is the mean over these excerpts, unless it says otherwise.
Times are in quarter notes from the start of the excerpt. A phrase begins after two beats or more without a new note.
"""

from collections import Counter
from dataclasses import dataclass
from fractions import Fraction
from itertools import accumulate, pairwise

from game.music.chord_quality import degrees_of
from game.music.chord_tones import pitch_class
from game.music.chords import ChordSymbol
from game.music.score import Bar, Score
from game.music.written import WrittenNote, written_notes, written_out

BARS = 8
_EIGHTH = Fraction(1, 2)
_BREATH = 2
_SCALES = {False: {0, 2, 4, 5, 7, 9, 11}, True: {0, 2, 3, 5, 7, 8, 9, 10, 11}}
"""Semitones above the tonic that are no chromatic notes; of the minor all its forms together."""
# The degrees of a chord that are its tones; what stands above the seventh is tension.
_CHORD_DEGREES = (1, 2, 3, 4, 5, 6, 7)


@dataclass(frozen=True, slots=True, kw_only=True)
class Excerpt:
    """Bars with the notes that begin in them, each with the chord it is heard over. `tonic` is a pitch class."""

    bars: tuple[Bar, ...]
    notes: tuple[tuple[WrittenNote, ChordSymbol | None], ...]
    starts: tuple[Fraction, ...]
    tonic: int
    minor: bool

    @property
    def onsets(self) -> list[Fraction]:
        """When each note begins."""
        return [note.onset for note, _ in self.notes]

    @property
    def pitches(self) -> list[int]:
        """As they sound, MIDI numbers."""
        return [note.sounding for note, _ in self.notes]

    def bar_of(self, onset: Fraction) -> int:
        """Which bar, from 0, a moment lies in."""
        return max(index for index, start in enumerate(self.starts) if start <= onset)

    def rhythms(self) -> list[tuple[Fraction, ...]]:
        """For each bar when its notes begin, from the bar line."""
        rhythms: list[list[Fraction]] = [[] for _ in self.bars]
        for onset in self.onsets:
            bar = self.bar_of(onset)
            rhythms[bar].append(onset - self.starts[bar])
        return [tuple(rhythm) for rhythm in rhythms]


def head_excerpts(score: Score, *, bars: int = BARS) -> list[Excerpt]:
    """The head in excerpts of `bars` bars, in order of play."""
    played = written_out(score)
    whole = tuple(bar for bar in played.bars if not bar.pickup)
    first = [*range(0, len(whole) - bars + 1, bars)]
    if len(whole) % bars:
        first.append(len(whole) - bars)
    return [_excerpt(score, played.bars, len(played.bars) - len(whole) + at, bars) for at in first]


def _excerpt(score: Score, played: tuple[Bar, ...], first: int, count: int) -> Excerpt:
    starts = list(accumulate((bar.length for bar in played), initial=Fraction(0)))
    begin, end = starts[first], starts[first + count]
    symbols = [(start + chord.onset, chord) for start, bar in zip(starts, played, strict=False) for chord in bar.chords]
    notes = []
    for note in written_notes(played, score.reading):
        if begin <= note.onset < end:
            over = [chord for at, chord in symbols if at <= note.onset]
            moved = WrittenNote(**{**_fields(note), "onset": note.onset - begin})
            notes.append((moved, over[-1] if over else None))
    key = played[first].key
    return Excerpt(
        bars=played[first : first + count],
        notes=tuple(notes),
        starts=tuple(start - begin for start in starts[first : first + count]),
        tonic=pitch_class(key.name.removesuffix("m")),
        minor=key.minor,
    )


def _fields(note: WrittenNote) -> dict[str, object]:
    return {name: getattr(note, name) for name in WrittenNote.__dataclass_fields__}


def notes_a_bar(part: Excerpt) -> float:
    """Ties joined."""
    return len(part.notes) / len(part.bars)


def syncopations(part: Excerpt) -> float:
    """Notes off the beat with none on the next beat, a bar."""
    onsets = set(part.onsets)
    late = [onset for onset in onsets if onset % 1 >= _EIGHTH and onset // 1 + 1 not in onsets]
    return len(late) / len(part.bars)


def rest_share(part: Excerpt) -> float:
    """The share of the time in rests of nearly an eighth or more."""
    ends = [note.onset + note.length for note, _ in part.notes]
    whole = sum((bar.length for bar in part.bars), Fraction(0))
    gaps = [after - end for end, after in zip([Fraction(0), *ends], [*part.onsets, whole], strict=True)]
    return float(sum(gap for gap in gaps if gap > Fraction(2, 5)) / whole)


def longest_eighths(part: Excerpt) -> float:
    """The longest run of notes an eighth apart, as a share of the notes."""
    longest = run = 0
    for before, after in pairwise(part.onsets):
        run = run + 1 if after - before == _EIGHTH else 0
        longest = max(longest, run)
    return longest / len(part.notes)


def rhythm_returns(part: Excerpt) -> float:
    """The share of the bars after the first whose rhythm, of two notes or more, one before them had."""
    rhythms = part.rhythms()
    back = [len(rhythm) > 1 and rhythm in rhythms[:index] for index, rhythm in enumerate(rhythms) if index]
    return sum(back) / len(back)


def three_intervals_return(part: Excerpt) -> float:
    """The share of three intervals in a row, in semitones, that come more than once."""
    intervals = [after - before for before, after in pairwise(part.pitches)]
    threes = Counter(zip(intervals, intervals[1:], intervals[2:], strict=False))
    return sum(count for count in threes.values() if count > 1) / sum(threes.values())


def chromatic_share(part: Excerpt) -> float:
    """The share of the notes outside the scale of the key."""
    outside = [(pitch - part.tonic) % 12 not in _SCALES[part.minor] for pitch in part.pitches]
    return sum(outside) / len(outside)


def chord_tones_on_strong_beats(part: Excerpt) -> float:
    """The share of chord tones among the notes on 1 and 3; in 3/4 on 1."""
    strong = []
    for note, chord in part.notes:
        place = note.onset - part.starts[part.bar_of(note.onset)]
        half = 2 if part.bars[0].meter.beats == 4 else part.bars[0].meter.beats
        if chord and place % half == 0:
            strong.append((note.sounding - pitch_class(chord.root)) % 12 in _tones(chord))
    return sum(strong) / len(strong)


def _tones(chord: ChordSymbol) -> set[int]:
    degrees = degrees_of(chord)
    return {tone % 12 for degree in _CHORD_DEGREES for tone in degrees.get(degree, ())}


def phrase_starts(part: Excerpt) -> list[Fraction]:
    """When phrases begin, from their bar line."""
    return [
        after - part.starts[part.bar_of(after)] for before, after in pairwise(part.onsets) if after - before >= _BREATH
    ]


def compass(score: Score) -> int:
    """Semitones from the lowest note of the head to the highest."""
    pitches = [note.sounding for note in written_notes(score.bars, score.reading)]
    return max(pitches) - min(pitches)


def shared_notes(one: Excerpt, other: Excerpt) -> float:
    """The share of the notes, by onset and pitch, that two excerpts have in common."""
    ours, theirs = (set(zip(part.onsets, part.pitches, strict=True)) for part in (one, other))
    return len(ours & theirs) / max(len(ours), len(theirs))


def shared_rhythms(bridge: Excerpt, other: Excerpt) -> float:
    """The share of the bars of a bridge whose rhythm, of two notes or more, a bar of the other excerpt has."""
    rhythms = bridge.rhythms()
    return sum(len(rhythm) > 1 and rhythm in other.rhythms() for rhythm in rhythms) / len(rhythms)
