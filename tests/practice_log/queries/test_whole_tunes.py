"""What was played of each page in takes of whole tunes, out of the log."""

from contextlib import closing

from game.coach.events import PagePlayed, TakeResult
from game.music.passage import whole_tune
from game.practice_log.queries.coach_events import events_of
from game.practice_log.queries.entry_order import newest_position
from game.practice_log.queries.whole_tunes import tune_pages_told_before
from game.practice_log.rows.passage_key import passage_key
from tests.practice_log.devices import PLAYER, TOLD, TUNE, Device, Thing

WHOLE = whole_tune(TUNE)


def play(device, minutes):
    """Takes of the whole tune, some of them clean."""
    for at in range(6):
        device.do(Thing(minutes + 5 * at, 0, "take", WHOLE, 0.41 + 0.07 * at))


def pages(events):
    return [event for event in events if isinstance(event, PagePlayed)]


def test_from_when_its_pages_are_told_clean_takes_of_the_whole_are_heard_of_each_of_them():
    device = Device(0)
    with closing(device.log) as log:
        play(device, 0)
        assert pages(events_of(log, PLAYER.uuid)) == []
        device.do(Thing(100, 0, "pages", WHOLE, 0))
        told_at = newest_position(log, PLAYER.uuid)
        play(device, 200)
        events = list(events_of(log, PLAYER.uuid))
        found = pages(events)
        assert found
        assert {one.result.passage.name for one in found} == {page.facts.name for page in TOLD.pages}
        before = events[events.index(found[0]) - 1]
        assert isinstance(before, TakeResult)
        assert (before.passage.name, before.homes) == (passage_key(WHOLE), sum(one.result.homes for one in found[:2]))
        # Whoever goes on from what was made of the log before, and whoever needs no times to find, hears the same.
        assert pages(events_of(log, PLAYER.uuid, after=told_at)) == found
        assert pages(events_of(log, PLAYER.uuid, find_times=False)) == found
        assert tune_pages_told_before(log, PLAYER.uuid, told_at) == [TOLD]
