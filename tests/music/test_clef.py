"""Which line of the five stands for which pitch. Everything here is trade, as any book of notation has it."""

import pytest

from game.music.clef import Clef
from game.music.pitch import pitch


def steps(names):
    return tuple(pitch(name).staff_step for name in names.split())


@pytest.mark.parametrize(
    ("clef", "lines", "own"), [(Clef.TREBLE, "E4 G4 B4 D5 F5", "G4"), (Clef.BASS, "G2 B2 D3 F3 A3", "F3")]
)
def test_the_five_lines_are_those_of_the_clef(clef, lines, own):
    lowest, _, middle, _, highest = steps(lines)
    assert (clef.bottom_step, clef.middle_step, clef.top_step) == (lowest, middle, highest)
    assert clef.own_step == pitch(own).staff_step == steps(lines)[clef.line - 1]
    assert own.startswith(clef.sign)


@pytest.mark.parametrize(
    ("clef", "name", "lines"),
    [
        (Clef.TREBLE, "D4", ""),
        (Clef.TREBLE, "C4", "C4"),
        (Clef.TREBLE, "B3", "C4"),
        (Clef.TREBLE, "A3", "C4 A3"),
        (Clef.TREBLE, "E3", "C4 A3 F3"),
        (Clef.TREBLE, "B4", ""),
        (Clef.TREBLE, "G5", ""),
        (Clef.TREBLE, "A5", "A5"),
        (Clef.TREBLE, "C6", "A5 C6"),
        # The open strings of the bass, as they are written: E on the first ledger line below, A, D and G on the staff.
        (Clef.BASS, "E2", "E2"),
        (Clef.BASS, "A2", ""),
        (Clef.BASS, "D3", ""),
        (Clef.BASS, "G3", ""),
        # Middle C is the first ledger line above.
        (Clef.BASS, "B3", ""),
        (Clef.BASS, "C4", "C4"),
        (Clef.BASS, "G4", "C4 E4 G4"),
        (Clef.BASS, "D2", "E2"),
        (Clef.BASS, "C2", "E2 C2"),
    ],
)
def test_ledger_lines_run_from_the_staff_to_the_note(clef, name, lines):
    assert clef.ledger_steps(pitch(name).staff_step) == steps(lines)


@pytest.mark.parametrize(
    ("clef", "below", "low", "high", "above"),
    [(Clef.TREBLE, "C4", "D4", "G5", "A5"), (Clef.BASS, "E2", "F2", "B3", "C4")],
)
def test_low_and_high_is_what_stands_on_ledger_lines(clef, below, low, high, above):
    assert [clef.below(pitch(name)) for name in (below, low, high, above)] == [True, False, False, False]
    assert [clef.above(pitch(name)) for name in (below, low, high, above)] == [False, False, False, True]
