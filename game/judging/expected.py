"""What a take asks for: written notes with their homes."""

from collections.abc import Sequence
from dataclasses import dataclass

from game.music.written import WrittenNote
from game.neck.neck_map import Home, NeckMap


@dataclass(frozen=True, slots=True, kw_only=True)
class ExpectedNote:
    """A written note and its home; None where the map does not reach it and any place will do."""

    note: WrittenNote
    home: Home | None

    @property
    def n(self) -> int:
        """Number of the note, from 1."""
        return self.note.n

    @property
    def sounding(self) -> int:
        """MIDI number."""
        return self.note.sounding


def expected_notes(notes: Sequence[WrittenNote], neck_map: NeckMap) -> tuple[ExpectedNote, ...]:
    """Each written note with its home on `neck_map`."""
    homes = {home.sounding: home for home in neck_map.homes}
    return tuple(ExpectedNote(note=note, home=homes.get(note.sounding)) for note in notes)
