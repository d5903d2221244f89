"""A note is called quicker only where chance does not explain it."""

from random import Random
from statistics import median

from game.coach.notes.quicker_notes import is_surely_quicker


def test_a_large_gain_over_several_findings_is_sure_and_a_small_or_seldom_one_is_not():
    assert is_surely_quicker(1.9, 12, 1.1, 12)
    assert not is_surely_quicker(1.9, 12, 1.7, 12)
    assert not is_surely_quicker(1.9, 2, 0.6, 12)
    assert not is_surely_quicker(1.1, 12, 1.9, 12)


def test_of_a_player_who_learns_nothing_few_notes_are_called_quicker():
    """At most about one in twenty, by the usual spread of times (log-normal, 0.45)."""
    rng = Random(5)

    def found(count):
        return median(rng.lognormvariate(0.3, 0.45) for _ in range(count))

    wrong = sum(is_surely_quicker(found(8), 8, found(8), 8) for _ in range(2000))
    assert wrong < 0.08 * 2000
