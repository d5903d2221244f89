"""The page under way as it sounds, from the bar with the pencil on."""

from game.music.written import written_notes
from game.screens.context import ScreenContext
from game.screens.reading.playback_lines import written_line
from game.tunes.entering.draft import Draft
from game.tunes.entering.draft_score import draft_page


def hear_page(context: ScreenContext, draft: Draft, at: int) -> None:
    """Sound the bars from that of a pitch on, as they are printed, repeats not taken. Nothing without notes."""
    if not draft.pitches:
        return
    page = draft_page(draft)
    first = page.heads[at][0].bar
    notes = written_notes(page.score.bars[first:], page.score.reading)
    quarter_bpm = draft.tempo_bpm * float(draft.meter.beat_length)
    context.devices.sound.play((written_line(notes, quarter_bpm=quarter_bpm),), context.clock)
