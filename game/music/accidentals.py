"""Which accidentals a page shows, and why a note is altered.

Common practice (trade): an accidental holds for its own line or space, in its own octave, until the bar line; a tie
carries it over; a signature holds for all octaves. After a bar line a courtesy sign tells that the signature is back.
"""

from collections.abc import Sequence
from dataclasses import dataclass
from enum import Enum

from game.music.keys import Key
from game.music.pitch import STEPS
from game.music.score import Bar, Note


class AlteredBy(Enum):
    """What makes a written note other than the plain letter."""

    NOTHING = "nothing"
    SIGNATURE = "signature"
    ACCIDENTAL = "accidental"
    EARLIER = "earlier accidental"


@dataclass(frozen=True, slots=True)
class ShownAccidental:
    """How a notehead's alteration is shown: the `sign` printed at it (an alter, None for no sign) and its cause."""

    sign: int | None
    courtesy: bool
    altered_by: AlteredBy


_PLAIN = ShownAccidental(sign=None, courtesy=False, altered_by=AlteredBy.NOTHING)


def shown_accidentals(bars: Sequence[Bar]) -> tuple[tuple[ShownAccidental, ...], ...]:
    """For each bar, one entry for each of its events (rests get a plain one), in page order.

    Reads the bars as one page: what an accidental did in one bar decides the courtesy signs of the next.
    """
    page = []
    leftover: dict[int, int] = {}
    for bar in bars:
        in_force: dict[int, int] = {}
        carried: dict[int, int] = {}
        row = []
        for event in bar.events:
            if isinstance(event, Note):
                row.append(_shown(event, bar.key, in_force, carried, leftover))
            else:
                row.append(_PLAIN)
        page.append(tuple(row))
        leftover = {line: alter for line, alter in (carried | in_force).items() if alter != _signed(bar.key, line)}
    return tuple(page)


def _shown(
    note: Note, key: Key, in_force: dict[int, int], carried: dict[int, int], leftover: dict[int, int]
) -> ShownAccidental:
    """One notehead's sign; updates `in_force` (staff step to alter in this bar) and `carried` (what ties brought into
    it), and uses up `leftover`, of which a reader is to be reminded.
    """
    line, alter = note.pitch.staff_step, note.pitch.alter
    signature = key.alter_of(note.pitch.step)
    if note.tied_from_previous and line not in in_force:
        # The tie carries the accidental; it does not hold for later notes of the bar, which need a sign again.
        by = AlteredBy.EARLIER if alter != signature else _by_signature(signature)
        if alter != signature:
            carried[line] = leftover[line] = alter
        return ShownAccidental(None, courtesy=False, altered_by=by)
    current = in_force.get(line, signature)
    if alter != current:
        in_force[line] = alter
        leftover.pop(line, None)
        return ShownAccidental(alter, courtesy=False, altered_by=AlteredBy.ACCIDENTAL)
    if line in in_force:
        return ShownAccidental(None, courtesy=False, altered_by=AlteredBy.EARLIER)
    if leftover.pop(line, alter) != alter:
        carried.pop(line, None)
        return ShownAccidental(alter, courtesy=True, altered_by=_by_signature(signature))
    return ShownAccidental(None, courtesy=False, altered_by=_by_signature(signature))


def _signed(key: Key, line: int) -> int:
    """What the signature makes of the notes on a staff step."""
    return key.alter_of(STEPS[line % len(STEPS)])


def _by_signature(alter: int) -> AlteredBy:
    return AlteredBy.SIGNATURE if alter else AlteredBy.NOTHING
