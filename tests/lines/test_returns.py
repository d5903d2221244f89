"""What comes back in a song."""

from random import Random

from game.lines.form import Unit
from game.lines.levels import LEVELS
from game.lines.line_request import LineRequest
from game.lines.line_weights import Idiom
from game.lines.manners import SongManner
from game.lines.returns import returns_in
from game.lines.rhythms import RHYTHMS
from game.lines.scale import key_named, scale_of
from game.lines.song_plan import SongPlan
from game.lines.walk import TakenUp
from game.music.meter import Meter
from tests.lines.making import MAP

REQUEST = LineRequest(
    level=LEVELS[0],
    rhythm=RHYTHMS[0],
    scale=scale_of(key_named("F"), MAP),
    meter=Meter(),
    bars=4,
    weights={},
    fingers={},
)
UNITS = (Unit(0, 2, "a", False), Unit(2, 2, "a", True, True))


def plan_of(first, second, **manner):
    """A song of two units alike in rhythm; of its manner what is not said is nought."""
    manner = {"lead": 0, "same": 0, "answer": 0, "sequence": 0, "bar_again": 0, "moved": 0} | manner
    return SongPlan(REQUEST, SongManner(**manner), Idiom.FOLK, UNITS, (first, second), (), ())


def returning(first, second, **manner):
    return returns_in(plan_of(first, second, **manner), Random(1))


A = (0, 12, 24, 48, 72)
AGAIN = tuple(96 + onset for onset in A)


def test_a_unit_comes_back_whole_or_with_another_end_or_from_another_note():
    assert returning(A, AGAIN, same=1.0) == {5: TakenUp(0, 5, ("same", "sequence"))}
    assert returning(A, AGAIN, answer=1.0) == {5: TakenUp(0, 3, ("same", "sequence"))}
    assert returning(A, AGAIN, sequence=1.0) == {5: TakenUp(0, 3, ("sequence", "same"))}
    assert returning(A, AGAIN) == {}


def test_it_comes_back_as_far_as_its_rhythm_does():
    assert returning(A, (96, 108, 120, 144, 156), same=1.0)[5].count == 4


def test_where_only_one_has_a_pickup_they_are_alike_from_the_first_bar():
    assert returning((-12, *A), AGAIN, same=1.0) == {6: TakenUp(1, 5, ("same", "sequence"))}
    assert returning((-12, *A), (84, *AGAIN), same=1.0) == {6: TakenUp(0, 6, ("same", "sequence"))}


def test_a_bar_with_the_rhythm_of_the_one_before_may_take_up_its_steps():
    found = returning((0, 24, 48, 72), AGAIN, moved=1.0)
    assert (found[2].source, found[2].count) == (0, 2)
    assert returning((0, 24, 48, 60), AGAIN, moved=1.0) == {}
