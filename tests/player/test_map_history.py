"""Changes of the map are taken back and done again, each by itself."""

from msgspec.structs import replace

from game.player.map_history import MOST_KEPT, MapHistory
from game.player.settings import Settings, Stretches


def changed(history, settings, **changes):
    after = replace(settings, **changes)
    history.keep(settings, after)
    return after


def test_every_kind_of_change_is_taken_back_and_done_again_in_its_order():
    history, steps = MapHistory(), [Settings()]
    for changes in (
        {"position": 7, "choices": {}},
        {"choices": {59: (4, 9)}},
        {"stretches": Stretches.NONE},
        {"open_strings": True},
        {"second": (12, 70)},
    ):
        steps.append(changed(history, steps[-1], **changes))
    now = steps[-1]
    for before in reversed(steps[:-1]):
        now = history.taken_back(now)
        assert now == before
    assert not history.can_take_back(now)
    for after in steps[1:]:
        now = history.done_again(now)
        assert now == after
    assert not history.can_do_again(now)
    assert history.done_again(now) is now


def test_what_was_settled_elsewhere_meanwhile_stays():
    history = MapHistory()
    now = changed(history, Settings(), position=7)
    now = replace(now, stretches=Stretches.NONE, target_bpm=60)
    assert history.taken_back(now) == replace(Settings(), stretches=Stretches.NONE, target_bpm=60)


def test_where_another_map_came_into_use_its_homes_stay_until_the_first_is_back():
    history = MapHistory()
    first = changed(history, Settings(), choices={59: (4, 9)})
    other = replace(first, position=9, choices={60: (5, 3)})
    assert not history.can_take_back(other)
    assert history.taken_back(other) is other
    assert history.taken_back(first) == Settings()
    assert not history.can_do_again(other)


def test_a_new_change_gives_up_what_was_taken_back_and_no_change_is_none():
    history = MapHistory()
    now = changed(history, Settings(), position=7)
    now = history.taken_back(now)
    history.keep(now, now)
    assert history.can_do_again(now)
    now = changed(history, now, position=3)
    assert not history.can_do_again(now)


def test_another_tuning_or_other_frets_leave_nothing_to_take_back():
    for elsewhere in ({"tuning": "dadgad"}, {"frets": 12}):
        history = MapHistory()
        now = changed(history, Settings(), choices={59: (4, 9)})
        assert history.can_take_back(now)
        assert not history.can_take_back(replace(now, **elsewhere))


def test_of_very_many_changes_the_newest_are_kept():
    history, now = MapHistory(), Settings()
    for number in range(MOST_KEPT + 20):
        now = changed(history, now, position=5 + number % 2)
    for _ in range(MOST_KEPT):
        assert history.can_take_back(now)
        now = history.taken_back(now)
    assert not history.can_take_back(now)
