"""The last look at what was read, whatever the format: whether there is anything to play, and not too much."""

from collections.abc import Sequence

from game.errors import TuneError
from game.music.order import order_of_play
from game.music.score import Bar
from game.tunes.limits import MAX_BAR_NOTES, MAX_NOTES


def check_playable(bars: Sequence[Bar], name: str) -> None:
    """Raise `TuneError` when no note is left to play, a bar holds more than a page shows, or the repeats come to too
    much.
    """
    if not any(not note.grace for bar in bars for note in bar.notes):
        raise TuneError("tune.no_notes", file=name)
    crowded = next((bar for bar in bars if len(bar.notes) > MAX_BAR_NOTES), None)
    if crowded is not None:
        raise TuneError(
            "tune.crowded_bar", file=name, bar=crowded.number, count=len(crowded.notes), limit=MAX_BAR_NOTES
        )
    played = sum(len(bars[index].notes) for index in order_of_play(bars))
    if played > MAX_NOTES:
        raise TuneError("tune.too_many_notes", file=name, count=played, limit=MAX_NOTES)
