"""What somebody would read in place of a written note: lines and spaces taken for others, signs forgotten.

Pure arithmetic on staff steps (lines and spaces counted upwards) and alters (semitones off the bare letter).
"""

from collections.abc import Iterator
from dataclasses import dataclass

from game.judging.causes.cause_numbers import CAUSE_NUMBERS, CauseNumbers
from game.judging.causes.signs import Fifths, Signs, signature_shares
from game.music.accidentals import AlteredBy
from game.music.clef import Clef
from game.music.keys import ORDER_OF_SHARPS
from game.music.pitch import MAX_ALTER, SEMITONES_OF_STEP, STEPS
from game.music.written import WrittenNote

_LETTERS = len(STEPS)
_HIGHEST = 75
_BARE = tuple(12 * (line // _LETTERS + 1) + SEMITONES_OF_STEP[STEPS[line % _LETTERS]] for line in range(_HIGHEST))


def on_ledger(staff_step: int, clef: Clef) -> bool:
    """Whether a note stands on ledger lines: in the treble clef from C4 down and from A5 up (trade)."""
    return bool(clef.ledger_steps(staff_step))


@dataclass(frozen=True, slots=True)
class NoteAsRead:
    """One written note and the signs around it; `line` is its staff step, `shares` those of `signature_shares`."""

    note: WrittenNote
    line: int
    fifths: Fifths
    signs: Signs
    numbers: CauseNumbers = CAUSE_NUMBERS

    def other_lines(self, midi: int) -> Iterator[tuple[int, float]]:
        """The lines and spaces from which `midi` (at written pitch) would be read, as distances from the note, each
        with the chance that it is this pitch that somebody reads there. Distances beyond 2 only on ledger lines.
        """
        reach = max(self.numbers.ledger_distances) if on_ledger(self.line, self.note.clef) else 2
        shares = signature_shares(self.fifths)
        for distance in range(-reach, reach + 1):
            line = self.line + distance
            if distance == 0 or not 0 <= line < _HIGHEST:
                continue
            alter = midi - _BARE[line]
            if -MAX_ALTER <= alter <= MAX_ALTER:
                chance = self._chance_of(line, alter, shares[line % _LETTERS])
                if chance:
                    yield distance, chance

    def _chance_of(self, line: int, alter: int, shares: tuple[float, float, float]) -> float:
        """How likely somebody who takes the note for one at `line` plays it with `alter`."""
        numbers = self.numbers
        by_signature = shares[alter] if -1 <= alter <= 1 else 0.0
        sign = self.signs.in_force.get(line)
        holds = by_signature if sign is None else float(sign == alter)
        chance = numbers.in_force * holds + numbers.signature_only * by_signature
        if alter == 0:
            chance += numbers.bare_letter
        if alter == self.note.pitch.alter:
            chance += numbers.own_alter
        printed = self.note.shown.sign
        if printed is None:
            return chance
        return numbers.printed_sign * (printed == alter) + (1 - numbers.printed_sign) * chance

    def forgot_signature(self, alter: int) -> float:
        """How well `alter` on the right line fits a signature left out of account (1), or read with signs too many."""
        note = self.note
        if note.shown.altered_by is AlteredBy.SIGNATURE:
            return float(alter == 0)
        if note.shown.altered_by is AlteredBy.NOTHING and note.signature == 0 and alter in (-1, 1):
            few = self._signs_too_many(alter) <= self.numbers.most_signs_too_many
            return self.numbers.sign_too_many if few else 0.0
        return 0.0

    def _signs_too_many(self, alter: int) -> int:
        """How many more signs a signature would need to do `alter` to the note's letter."""
        place = ORDER_OF_SHARPS.index(self.note.pitch.step)
        fewest, most = self.fifths
        return place + 1 - most if alter > 0 else fewest + _LETTERS - place

    def forgot_accidental(self, alter: int) -> float:
        """How well `alter` on the right line fits an accidental that was forgotten (1), or taken to last too long."""
        note, in_force = self.note, self.signs.in_force
        by_sign = note.shown.altered_by in (AlteredBy.ACCIDENTAL, AlteredBy.EARLIER)
        if by_sign and alter in (0, note.signature, in_force.get(self.line)):
            return 1.0
        for signs in (in_force, self.signs.lapsed):
            for line, sign in signs.items():
                if sign == alter and (line - self.line) % _LETTERS == 0:
                    return self.numbers.lasting_sign
        return 0.0
