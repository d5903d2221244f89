"""From note to note: rules hold to the end, figures are taken up, a way that leads nowhere is walked back."""

from itertools import pairwise
from random import Random

from game.lines.developing import SAME, SEQUENCE
from game.lines.footing import Footing
from game.lines.line_weights import Idiom
from game.lines.move_rules import MoveRules
from game.lines.scale import key_named, scale_of
from game.lines.walk import TakenUp, walk
from tests.lines.making import MAP

F = scale_of(key_named("F"), MAP)
MIDIS = tuple(pitch.midi for pitch in F.pitches)
EVEN = dict.fromkeys(MIDIS, 1.0)


def rules(widest=2):
    return MoveRules(
        idiom=Idiom.FOLK,
        key=F,
        scale=MIDIS,
        steps={midi: index for index, midi in enumerate(MIDIS)},
        widest=widest,
        tritones=0.0,
        fingers=dict.fromkeys(MIDIS, (0, 1)),
        tilt=(1.0,) * 6,
    )


def footings(*rows):
    return [Footing(dict.fromkeys(row, 1.0) if row else EVEN, "beat") for row in rows]


def test_no_move_is_wider_than_the_rules_have_it():
    line = walk(footings(*[()] * 60), rules(2), {}, Random(1))
    steps = [MIDIS.index(midi) for midi in line]
    assert all(abs(after - before) <= 2 for before, after in pairwise(steps))


def test_a_way_that_leads_nowhere_is_walked_back():
    """From A5 there is a way to G5 and none to C5: whoever set out there goes back and sets out from A4."""
    for seed in range(20):
        line = walk(footings((69, 81), (70, 72, 79), (72,)), rules(2), {}, Random(seed))
        assert (line[0], line[-1]) == (69, 72)


def test_a_figure_comes_back_as_it_was_or_along_the_scale():
    again = walk(footings(*[()] * 8), rules(4), {4: TakenUp(0, 4, (SAME,))}, Random(3))
    assert again[4:] == again[:4]
    moved = walk(footings(*[()] * 8), rules(4), {4: TakenUp(0, 4, (SEQUENCE,))}, Random(3))
    first, second = ([MIDIS.index(midi) for midi in part] for part in (moved[:4], moved[4:]))
    assert len({after - before for before, after in zip(first, second, strict=True)} - {0}) == 1


def test_a_figure_that_has_no_room_is_left_alone():
    rows = [(69, 70, 72)] * 4 + [(81, 82, 84)] * 4
    line = walk(footings(*rows), rules(9), {4: TakenUp(0, 4, (SAME,))}, Random(1))
    assert all(midi in row for midi, row in zip(line, rows, strict=True))


def test_where_there_is_no_way_at_all_the_nearest_note_will_do():
    line = walk(footings((60,), (84,), (84,)), rules(2), {}, Random(1))
    assert line == [60, 84, 84]
