"""The take just made as something to be heard, alone or beside the written line."""

from game.audio.line import Line, LineNote
from game.practice.finished import FinishedTake

# Beside each other, what was played stands to the left and the written line to the right.
_APART = 0.7
_USUAL_BPM = 72.0


def heard_lines(finished: FinishedTake, *, written: bool) -> tuple[Line, ...]:
    """What was played, from its first note; with `written` the written line with it, at the take's own tempo."""
    start_s = finished.played[0].started_s
    played = tuple(
        LineNote(onset_s=note.started_s - start_s, sounding=note.sounding, velocity=note.velocity)
        for note in finished.played
    )
    if not written:
        return (Line(notes=played),)
    first = finished.expected[0].note.onset
    quarter_s = 60.0 / _quarter_bpm(finished)
    line = tuple(
        LineNote(onset_s=float(note.note.onset - first) * quarter_s, sounding=note.sounding)
        for note in finished.expected
    )
    return (Line(notes=played, pan=-_APART), Line(notes=line, pan=_APART))


def _quarter_bpm(finished: FinishedTake) -> float:
    """The take's tempo in quarter notes: that of the click, the player's own, or an easy one without either."""
    if finished.tempo_bpm is not None:
        return finished.tempo_bpm * float(finished.passage.bars[0].meter.beat_length)
    return finished.usual_bpm or _USUAL_BPM
