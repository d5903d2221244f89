"""Pages by a seed that are worse than most real ones: chords over every beat, long symbols, high and low notes,
sections, endings, jumps and bars dense enough to stand alone on a line.
"""

from collections.abc import Iterator
from fractions import Fraction
from random import Random

from game.music.chords import ChordSymbol
from game.music.keys import Key
from game.music.meter import Meter
from game.music.pitch import Pitch, pitch
from game.music.score import NO_MARKS, Bar, BarLine, BarMarks, Jump, Note, NoteValue, Rest, Until

_LETTERS = "CDEFGAB"
_KINDS = ("", "m", "7", "m7b5", "maj7", "maj7#11", "7(b9,#11)", "dim7", "6/9", "sus4", "m(maj7)")
_SECTIONS = ("A", "B", "Chorus", "Verse 2", "Interlude", "Solo on the form")
_JUMPS = (
    (Jump.DA_CAPO, Until.FINE, ""),
    (Jump.DAL_SEGNO, Until.CODA, ""),
    (Jump.DAL_SEGNO, None, "D.S. al 2nd ending"),
)


def made_page(seed: int) -> tuple[Bar, ...]:
    """Six to forty bars, always the same for a seed."""
    rng = Random(seed)
    meter = rng.choice((Meter(4, 4), Meter(3, 4), Meter(6, 8), Meter(2, 2)))
    crowded = rng.random()
    marks = list(_marks(rng, rng.randint(6, 40)))
    key = Key(rng.randint(-6, 6))
    bars = []
    for index, mark in enumerate(marks):
        if rng.random() < 0.05:
            key = Key(rng.randint(-6, 6))
        bars.append(_bar(rng, str(index + 1), meter, key, mark, crowded))
    return tuple(bars)


def _marks(rng: Random, count: int) -> Iterator[BarMarks]:
    yield BarMarks(segno=rng.random() < 0.5, section=rng.choice((*_SECTIONS, "")), repeat_start=rng.random() < 0.5)
    made = 1
    while made < count:
        choice = rng.random()
        if choice < 0.15:
            yield from _endings(rng)
            made += 2
        elif choice < 0.3:
            yield BarMarks(
                section=rng.choice(_SECTIONS), bar_line=rng.choice((None, *BarLine)), coda=rng.random() < 0.3
            )
        elif choice < 0.4:
            jump, until, words = rng.choice(_JUMPS)
            yield BarMarks(jump=jump, until=until, jump_words=words, to_coda=rng.random() < 0.3)
        elif choice < 0.45:
            yield BarMarks(fine=True, repeat_end=rng.choice((0, 2, 4)))
        else:
            yield NO_MARKS
        made += 1


def _endings(rng: Random) -> Iterator[BarMarks]:
    """A first ending of one to six bars, which may have to go on on a new line, and a second of one."""
    numbers = rng.choice(((1,), (1, 2), (1, 2, 3)))
    length = rng.randint(1, 6)
    for place in range(length):
        last = place + 1 == length
        yield BarMarks(
            endings=numbers, ending_starts=not place, ending_stops=last, repeat_end=len(numbers) + 1 if last else 0
        )
    yield BarMarks(endings=(len(numbers) + 1,), ending_starts=True, ending_stops=True)


def _bar(rng: Random, number: str, meter: Meter, key: Key, marks: BarMarks, crowded: float) -> Bar:
    unit = rng.choice((Fraction(1, 4), Fraction(1, 2), Fraction(1))) if crowded > 0.4 else Fraction(1)
    length = meter.bar_length
    events: list[Note | Rest] = []
    onset = Fraction(0)
    while onset < length:
        step = min(unit, length - onset)
        value = NoteValue(base=step) if step.numerator == 1 else NoteValue(base=Fraction(1))
        if rng.random() < 0.1:
            events.append(Rest(onset=onset, length=step, value=value))
        else:
            events.append(Note(onset=onset, length=step, value=value, pitch=_pitch(rng)))
        onset += step
    chords = tuple(_chord(rng, Fraction(beat)) for beat in range(int(length)) if rng.random() < 0.2 + 0.7 * crowded)
    return Bar(number=number, meter=meter, key=key, length=length, events=tuple(events), chords=chords, marks=marks)


def _pitch(rng: Random) -> Pitch:
    octave = rng.choices((3, 4, 5, 6), weights=(1, 4, 5, 1))[0]
    return pitch(f"{rng.choice(_LETTERS)}{rng.choice(('', '', '', '#', 'b'))}{octave}")


def _chord(rng: Random, onset: Fraction) -> ChordSymbol:
    root = rng.choice(_LETTERS) + rng.choice(("", "", "b", "#"))
    bass = rng.choice(("", "", "", "F#", "Bb"))
    text = root + rng.choice(_KINDS) + (f"/{bass}" if bass else "")
    return ChordSymbol(onset=onset, root=root, kind="major", text=text, bass=bass)
