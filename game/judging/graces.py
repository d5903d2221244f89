"""Written grace notes: which sounding pitches may come before a note without being asked for."""

from collections.abc import Sequence

from game.music.score import Bar, Note, Reading
from game.music.written import WrittenNote


def graces_before(bars: Sequence[Bar], notes: Sequence[WrittenNote], reading: Reading) -> dict[int, tuple[int, ...]]:
    """Sounding MIDI numbers of the grace notes written just before each note, by number of note, in page
    order.

    `bars` are the written-out bars that gave `notes`. Graces at the end of a bar belong to the first note of
    the next.
    """
    pending: list[int] = []
    by_head: dict[tuple[int, int], tuple[int, ...]] = {}
    for bar_index, bar in enumerate(bars):
        for event_index, event in enumerate(bar.events):
            if not isinstance(event, Note):
                pending = []
            elif event.grace:
                pending.append(event.pitch.midi - 12 * reading.octaves_down)
            else:
                if pending:
                    by_head[bar_index, event_index] = tuple(pending)
                pending = []
    heads = {note.n: (note.heads[0].bar, note.heads[0].event) for note in notes}
    return {n: by_head[head] for n, head in heads.items() if head in by_head}
