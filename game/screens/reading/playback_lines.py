"""The take just made, and written notes, as something to be heard."""

from collections.abc import Sequence

from game.audio.played_line import PlayedLine, SoundedNote
from game.music.written import WrittenNote
from game.practice.finished_take import Finished, FinishedTake

# What a player's own pace is heard at, in quarter notes a minute: who searches for each note has none of their own.
_SLOWEST, _FASTEST = 40.0, 200.0
USUAL_BPM = 72.0


def played_back(finished: FinishedTake) -> PlayedLine:
    """What was played, from its first note."""
    start_s = finished.played[0].started_s
    played = (
        SoundedNote(onset_s=note.started_s - start_s, sounding=note.sounding, velocity=note.velocity)
        for note in finished.played
    )
    return PlayedLine(notes=tuple(played))


def written_line(notes: Sequence[WrittenNote], *, quarter_bpm: float) -> PlayedLine:
    """Written notes as they stand, from the first, at a tempo in quarter notes."""
    first, quarter_s = notes[0].onset, 60.0 / quarter_bpm
    heard = (SoundedNote(onset_s=float(note.onset - first) * quarter_s, sounding=note.sounding) for note in notes)
    return PlayedLine(notes=tuple(heard))


def tempo_played(finished: Finished) -> float | None:
    """The tempo of a take in beats of its metre: that of the click, or the player's own, as far as it can be heard;
    None without either.
    """
    if not isinstance(finished, FinishedTake):
        return None
    if finished.tempo_bpm is not None or finished.usual_bpm is None:
        return finished.tempo_bpm
    quarters = min(max(finished.usual_bpm, _SLOWEST), _FASTEST)
    return quarters / float(finished.passage.bars[0].meter.beat_length)
