"""The same tune read at another octave."""

from dataclasses import replace

from game.music.score import Bar, Note, Reading, Score


def at_reading(score: Score, reading: Reading) -> Score:
    """The score for a player who reads at `reading`.

    Where the file settles which pitches sound, the page moves by an octave and the sound stays; a lead sheet that says
    nothing keeps its page, and sounds an octave lower or higher.
    """
    if score.reading is reading:
        return score
    moved = replace(score, reading=reading)
    up = reading.octaves_down - score.reading.octaves_down
    return up_octaves(moved, up) if score.sound_fixed else moved


def up_octaves(score: Score, up: int) -> Score:
    """The page moved by octaves, and its sound with it; down where `up` is negative."""
    return replace(score, bars=tuple(_moved(bar, up) for bar in score.bars))


def _moved(bar: Bar, up: int) -> Bar:
    events = (
        replace(event, pitch=event.pitch.up_octaves(up)) if isinstance(event, Note) else event for event in bar.events
    )
    return replace(bar, events=tuple(events))
