"""A passage as it is written, to be heard: the plucked line, with bass and chords where these are wished. Pure."""

from dataclasses import dataclass
from fractions import Fraction

from game.audio.accompaniment import accompaniment_of
from game.audio.chord_spans import chord_in_force
from game.audio.click_bars import placed_bars
from game.audio.played_line import PlayedAccompaniment, PlayedLine, SoundedNote
from game.audio.swung_places import SwungPlaces
from game.judging.swing import STRAIGHT
from game.music.accompanying import Manner
from game.music.passage import Passage


@dataclass(frozen=True, slots=True, kw_only=True)
class PlayedTune:
    """The line, and what is beside it; both count from the first bar line of the passage, or its pickup."""

    line: PlayedLine
    accompaniment: PlayedAccompaniment | None


def played_tune(
    passage: Passage,
    *,
    quarter_bpm: Fraction,
    swing: float = STRAIGHT,
    manner: Manner | None = Manner.BY_TUNE,
) -> PlayedTune:
    """A passage at a tempo in quarter notes a minute, `swing` long:short. `manner` None is the line alone, and so is a
    passage without chord symbols.
    """
    bars, notes = passage.bars, passage.notes
    places = SwungPlaces(placed_bars(bars), (note.onset for note in notes), swing)
    line = PlayedLine(
        notes=tuple(
            SoundedNote(onset_s=float(places.of(note.onset) * 60 / quarter_bpm), sounding=note.sounding)
            for note in notes
        )
    )
    if manner is None:
        return PlayedTune(line=line, accompaniment=None)
    before = chord_in_force(passage.score.bars[: passage.start])
    band = accompaniment_of(bars, passage.reading, quarter_bpm=quarter_bpm, manner=manner, swing=swing, before=before)
    beside = PlayedAccompaniment(notes=band, quarter_bpm=quarter_bpm) if band else None
    return PlayedTune(line=line, accompaniment=beside)
