"""The take just made as something to be heard, alone or beside the written line."""

from collections.abc import Sequence

from game.audio.played_line import PlayedLine, SoundedNote
from game.music.written import WrittenNote
from game.practice.finished_take import FinishedTake

# Beside each other, what was played stands to the left and the written line to the right.
_APART = 0.7
USUAL_BPM = 72.0


def playback_lines(finished: FinishedTake, *, written: bool) -> tuple[PlayedLine, ...]:
    """What was played, from its first note; with `written` the written line with it, at the take's own tempo."""
    start_s = finished.played[0].started_s
    played = tuple(
        SoundedNote(onset_s=note.started_s - start_s, sounding=note.sounding, velocity=note.velocity)
        for note in finished.played
    )
    if not written:
        return (PlayedLine(notes=played),)
    notes = [expected.note for expected in finished.expected]
    line = written_line(notes, quarter_bpm=_quarter_bpm(finished), pan=_APART)
    return (PlayedLine(notes=played, pan=-_APART), line)


def written_line(notes: Sequence[WrittenNote], *, quarter_bpm: float, pan: float = 0.0) -> PlayedLine:
    """Written notes as they stand, from the first, at a tempo in quarter notes."""
    first, quarter_s = notes[0].onset, 60.0 / quarter_bpm
    heard = (SoundedNote(onset_s=float(note.onset - first) * quarter_s, sounding=note.sounding) for note in notes)
    return PlayedLine(notes=tuple(heard), pan=pan)


def _quarter_bpm(finished: FinishedTake) -> float:
    """The take's tempo in quarter notes: that of the click, the player's own, or an easy one without either."""
    if finished.tempo_bpm is not None:
        return finished.tempo_bpm * float(finished.passage.bars[0].meter.beat_length)
    return finished.usual_bpm or USUAL_BPM
