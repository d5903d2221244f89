import pytest

from game.instrument.listening.background import Background


def test_it_falls_at_once_and_rises_by_a_third_a_second():
    floor = Background(100)
    assert floor.hear(5e-5) == pytest.approx(5e-5)
    for _ in range(100):
        floor.hear(1.0)
    assert floor.level == pytest.approx(5e-5 * 1.35)
