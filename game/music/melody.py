"""A tune as the hand goes through it: what sounds, one note after another."""

from fractions import Fraction

from game.music.pitch import Pitch
from game.music.score import Note, Score
from game.music.written import written_out


def melody(score: Score) -> tuple[int, ...]:
    """The sounding pitches (MIDI numbers) in order of play: repeats written out, ties joined, graces left out. The same
    as those of `game.music.written.written_notes`, for whoever goes through hundreds of tunes and wants nothing else.
    """
    octaves_down = 12 * score.reading.octaves_down
    soundings: list[int] = []
    bar_start = end = Fraction(0)
    open_tie: Pitch | None = None
    for bar in written_out(score).bars:
        for event in bar.events:
            if not isinstance(event, Note) or event.grace:
                continue
            if event.tied_from_previous or event.tied_to_next:
                onset = bar_start + event.onset
                if not (event.tied_from_previous and open_tie == event.pitch and onset == end):
                    soundings.append(event.pitch.midi - octaves_down)
                open_tie, end = (event.pitch, onset + event.length) if event.tied_to_next else (None, end)
            else:
                soundings.append(event.pitch.midi - octaves_down)
                open_tie = None
        bar_start += bar.length
    return tuple(soundings)
