"""When logs are brought together: at the start, while the game rests, at leaving, and never during a take."""

import pytest

from game.player.gatherer import EVERY_S, LEAVING_S, REST_S, Gatherer


class Process:
    """Ends when a test says so."""

    def __init__(self):
        self.over = self.came_in = self.stopped = False
        self.waited_s = 0.0

    def end(self, *, came_in=False):
        self.over, self.came_in = True, came_in

    def wait(self, timeout_s):
        self.waited_s += timeout_s

    def stop(self):
        self.stopped = True


@pytest.fixture
def begun():
    """The processes so far."""
    return []


@pytest.fixture
def gatherer(begun):
    def start():
        begun.append(Process())
        return begun[-1]

    return Gatherer(start)


def rest(gatherer, *seconds):
    """What is told at these seconds, the game resting."""
    return [gatherer.look(now_s, resting=True, in_take=False) for now_s in seconds]


def test_a_game_that_has_rested_for_some_seconds_gathers_once(gatherer, begun):
    rest(gatherer, 0.0, REST_S - 0.1)
    assert begun == []
    rest(gatherer, REST_S, REST_S + 1, REST_S + 2)
    assert len(begun) == 1
    begun[0].end()
    rest(gatherer, REST_S + 3, REST_S + 30)
    assert len(begun) == 1


def test_a_process_is_under_way_until_it_is_over_or_ended(gatherer, begun):
    assert not gatherer.under_way
    gatherer.begin(0.0)
    assert gatherer.under_way
    begun[0].end()
    assert not gatherer.under_way
    rest(gatherer, 1.0)
    gatherer.begin(2.0)
    gatherer.stop()
    assert not gatherer.under_way


def test_rest_begins_anew_when_something_else_was_on_screen(gatherer, begun):
    rest(gatherer, 0.0, REST_S - 1)
    assert not gatherer.look(REST_S, resting=False, in_take=False)
    rest(gatherer, REST_S + 1, 2 * REST_S)
    assert begun == []
    rest(gatherer, 2 * REST_S + 1)
    assert len(begun) == 1


def test_what_came_in_is_told_once_and_not_before_the_game_rests_again(gatherer, begun):
    gatherer.begin(0.0)
    begun[0].end(came_in=True)
    assert not gatherer.look(1.0, resting=False, in_take=False)
    assert not gatherer.look(2.0, resting=False, in_take=True)
    assert rest(gatherer, 3.0, 4.0) == [True, False]


def test_the_log_is_asked_what_came_in_only_while_the_game_rests(gatherer):
    """To ask it takes a file and a moment, which whoever plays would feel."""
    asked = []

    class Telling(Process):
        @property
        def came_in(self):
            asked.append(True)
            return True

        @came_in.setter
        def came_in(self, _):
            pass

    gatherer._under_way = ended = Telling()
    ended.over = True
    for in_take in (False, True, False):
        assert not gatherer.look(1.0, resting=False, in_take=in_take)
    assert (asked, ended.stopped) == ([], False)
    assert rest(gatherer, 2.0, 3.0) == [True, False]
    assert asked == [True]


def test_what_came_in_is_not_forgotten_when_another_gathering_begins(gatherer, begun):
    gatherer.begin(0.0)
    begun[0].end(came_in=True)
    gatherer.begin(1.0)
    begun[1].end()
    assert rest(gatherer, 2.0, 3.0) == [True, False]


def test_what_ends_with_nothing_new_is_not_spoken_of(gatherer, begun):
    gatherer.begin(0.0)
    begun[0].end()
    assert rest(gatherer, 1.0, 2.0) == [False, False]


def test_nothing_gathers_during_a_take_and_what_did_does_so_again_after_it(gatherer, begun):
    gatherer.begin(0.0)
    gatherer.look(1.0, resting=False, in_take=True)
    assert begun[0].stopped
    gatherer.look(100.0, resting=False, in_take=True)
    assert len(begun) == 1
    rest(gatherer, 101.0, 101.0 + REST_S)
    assert len(begun) == 2


def test_something_done_here_is_brought_soon_and_else_others_are_looked_for_now_and_then(gatherer, begun):
    gatherer.begin(0.0)
    begun[0].end()
    rest(gatherer, 1.0, 1.0 + REST_S)
    assert len(begun) == 1
    gatherer.done_here()
    rest(gatherer, 20.0)
    assert len(begun) == 2
    begun[1].end()
    rest(gatherer, 19.0 + EVERY_S)
    assert len(begun) == 2
    rest(gatherer, 20.0 + EVERY_S)
    assert len(begun) == 3


def test_at_leaving_the_last_is_brought_in_a_bounded_time(gatherer, begun):
    gatherer.leave(0.0)
    assert (begun[0].waited_s, begun[0].stopped) == (LEAVING_S, True)


def test_at_leaving_one_that_began_before_the_last_was_written_begins_anew(gatherer, begun):
    gatherer.begin(0.0)
    gatherer.leave(1.0)
    assert [process.stopped for process in begun] == [True, True]
    assert [process.waited_s for process in begun] == [0.0, LEAVING_S]


def test_who_shares_with_no_other_computer_never_waits():
    gatherer = Gatherer(lambda: None)
    gatherer.begin(0.0)
    assert rest(gatherer, 0.0, REST_S, REST_S + 1) == [False] * 3
    gatherer.leave(10.0)
