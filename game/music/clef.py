"""Clefs: which line of the five stands for which pitch.

Staff steps count lines and spaces upwards, as `Pitch.staff_step` does: C4 is 28. On the treble staff the G clef stands
on the second line (G4) and the middle line is B4; on the bass staff the F clef stands on the fourth (F3) and the middle
line is D3 (trade).
"""

from enum import Enum

from game.music.pitch import Pitch, pitch

_STEPS_ACROSS = 8


class Clef(Enum):
    """The clef of a page."""

    TREBLE = "treble"
    BASS = "bass"

    @property
    def sign(self) -> str:
        """The letter that names it, as MusicXML 4.0's `sign`."""
        return "G" if self is Clef.TREBLE else "F"

    @property
    def line(self) -> int:
        """The line it stands on, from the lowest, 1."""
        return 2 if self is Clef.TREBLE else 4

    @property
    def bottom_step(self) -> int:
        """The staff step of the lowest line: E4, or G2."""
        return _BOTTOM_STEPS[self]

    @property
    def top_step(self) -> int:
        """The staff step of the highest line: F5, or A3."""
        return self.bottom_step + _STEPS_ACROSS

    @property
    def middle_step(self) -> int:
        """The staff step of the middle line: B4, or D3."""
        return self.bottom_step + _STEPS_ACROSS // 2

    @property
    def own_step(self) -> int:
        """The staff step of the line it stands on."""
        return self.bottom_step + 2 * (self.line - 1)

    def above(self, written: Pitch) -> bool:
        """Whether a note stands higher than the space above the top line: on ledger lines."""
        return written.staff_step > self.top_step + 1

    def below(self, written: Pitch) -> bool:
        """Whether a note stands lower than the space below the lowest line: on ledger lines."""
        return written.staff_step < self.bottom_step - 1

    def ledger_steps(self, staff_step: int) -> tuple[int, ...]:
        """The staff steps of the ledger lines that a head needs, from the staff outwards; none on the staff and in the
        spaces just above and below it.
        """
        if staff_step > self.top_step:
            return tuple(range(self.top_step + 2, staff_step + 1, 2))
        return tuple(range(self.bottom_step - 2, staff_step - 1, -2))


_BOTTOM_STEPS = {Clef.TREBLE: pitch("E4").staff_step, Clef.BASS: pitch("G2").staff_step}
