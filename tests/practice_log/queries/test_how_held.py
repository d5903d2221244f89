"""Hand and capo are those that the player said last, and what makes no sense is passed over."""

import pytest

from game.practice_log.queries.how_held import USUAL_HOLD, HowHeld, how_held
from game.practice_log.rows.entry_rows import About
from game.practice_log.writing.practice_log import PracticeLog
from game.text.catalogue import tell
from tests.practice_log.logged_takes import DEVICE, MORNING, PLAYER


@pytest.fixture
def log(tmp_path):
    with PracticeLog(tmp_path / "practice.sqlite", device=DEVICE, now=lambda: MORNING) as log:
        yield log


def say_settings(log, *words):
    for name, value in words:
        log.fact(About.SETTING, {"name": name, "value": value}, player=PLAYER, at=MORNING)
    assert log.flush(20)


def held_in(log):
    with log.reading() as connection:
        return how_held(connection, PLAYER.uuid)


def test_who_said_nothing_holds_it_as_usual_and_nothing_is_told_of_it(log):
    say_settings(log, ("volume", 0.5))
    assert held_in(log) == USUAL_HOLD
    assert USUAL_HOLD.told == ()


def test_what_was_said_last_holds(log):
    say_settings(log, ("left_handed", True), ("capo", 2), ("capo", 4))
    held = held_in(log)
    assert held == HowHeld(left_handed=True, capo=4)
    assert [tell(one) for one in held.told] == ["capo at fret 4, frets counted from it", "left-handed"]


def test_nonsense_changes_nothing(log):
    say_settings(log, ("capo", 3), ("capo", "high"), ("capo", -1), ("capo", True), ("left_handed", 1), ("capo", 10**9))
    assert held_in(log) == HowHeld(capo=3)
