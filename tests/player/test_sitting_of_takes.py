"""One take tells of a whole day."""

from types import SimpleNamespace

from game.message import message, verbatim
from game.player.sitting_of_takes import sitting_of_takes
from game.practice_log.queries.last_sitting import SittingTake

SHELF = {name: SimpleNamespace(title=verbatim(name)) for name in ("ford", "mill")}


def take(passage, **more):
    return SittingTake(**{"day": 7, "passage": passage, "bpm": None, "run": 5, "kept": False, "found": False, **more})


def told(*takes):
    return sitting_of_takes(takes, SHELF.get)


def test_a_kept_take_tells_more_than_a_found_one_and_that_more_than_a_later_one():
    assert told(take("ford", kept=True, bpm=60), take("mill", found=True), take("mill")).title == verbatim("ford")
    assert told(take("ford", found=True), take("mill")).title == verbatim("ford")
    assert told(take("ford"), take("mill")).title == verbatim("mill")


def test_a_line_tells_only_where_nothing_of_the_shelf_was_played():
    assert told(take("a line", kept=True), take("ford")).title == verbatim("ford")
    assert told(take("a line", kept=True)).title == message("day.last.lines")
    assert told() is None
