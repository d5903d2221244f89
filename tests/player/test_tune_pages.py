"""The pages of a tune: what the reading of each has earned, and which is the next."""

from dataclasses import replace

import pytest

from game.coach.events import PassageFacts
from game.coach.marks import Mark
from game.coach.records import PassageRecord
from game.neck.neck_map import standard_map
from game.player.tune_pages import TunePage, TunePages, pages_of_tune
from game.practice.take_request import request_for
from game.practice_log.rows.passage_key import passage_key
from game.tunes.library.library import open_entry, shipped_entries

TUNE = TunePages(pages=tuple(TunePage(key=key, first="1", last="4", index=0) for key in "abc"), whole="w")


def record(*marks, practised=True):
    return PassageRecord(facts=PassageFacts(name="x"), marks=marks, practised_day=7 if practised else None)


SIGNED = record(Mark.FOUND, Mark.IN_TIME, Mark.SIGNED_OFF)
FOUND = record(Mark.FOUND)


def test_the_pages_of_a_tune_are_the_passages_that_are_practised_of_it():
    """By the same names, with the same bars, but for those that are only played again."""
    for entry in shipped_entries()[:9]:
        request = request_for(open_entry(entry), standard_map())
        pages = pages_of_tune(entry, request.neck_map)
        of_page = [request.passages[page.index] for page in pages.pages]
        assert [page.key for page in pages.pages] == [passage_key(passage) for passage in of_page]
        assert {passage_key(passage) for passage in request.passages} == {page.key for page in pages.pages}
        assert [page.last for page in pages.pages] == [one.bar_numbers[1] for one in of_page]
        # A pickup is printed as bar 0, which nobody counts.
        assert [page.first for page in pages.pages] == [
            one.bar_numbers[0] if not one.bars[0].pickup else "1" for one in of_page
        ]


def test_a_tune_that_cannot_be_opened_has_no_pages():
    gone = replace(shipped_entries()[0], name="gone", shipped=False)
    pages = pages_of_tune(gone, standard_map())
    assert pages == TunePages()
    assert (pages.marks({}), pages.begun({}), pages.next_page({})) == ((), False, 0)


def test_what_the_whole_tune_has_earned_counts_for_each_of_its_pages():
    assert TUNE.marks({"b": FOUND}) == (frozenset(), {Mark.FOUND}, frozenset())
    marks = TUNE.marks({"b": FOUND, "w": record(Mark.IN_TIME)})
    assert marks == ({Mark.IN_TIME}, {Mark.FOUND, Mark.IN_TIME}, {Mark.IN_TIME})
    assert TUNE.signed({"a": SIGNED}) == {"a"}
    assert TUNE.signed({"w": SIGNED}) == {"a", "b", "c"}


def test_what_was_read_at_sight_is_told_apart_from_what_can_be_played():
    read = replace(record(), read_day=7)
    assert TUNE.read({"a": SIGNED, "b": read}) == (False, True, False)
    assert TUNE.read({"w": read}) == (True, True, True)


def test_all_is_signed_where_bars_of_one_name_stand_twice_in_a_tune():
    twice = replace(TUNE, pages=(*TUNE.pages, TUNE.pages[0]))
    assert twice.all_signed({"a": SIGNED, "b": SIGNED, "c": SIGNED})
    assert not twice.all_signed({"a": SIGNED, "b": SIGNED})
    assert not TunePages().all_signed({})


@pytest.mark.parametrize(
    ("records", "next_page"),
    [
        ({}, 0),
        ({"c": FOUND, "b": FOUND}, 1),
        ({"b": FOUND, "c": FOUND}, 2),
        ({"a": SIGNED}, 1),
        ({"b": FOUND, "a": SIGNED}, 1),
        ({"a": SIGNED, "c": record(practised=False)}, 1),
        ({"w": SIGNED}, 0),
    ],
)
def test_it_goes_on_where_one_was_that_is_not_signed_yet(records, next_page):
    """The order of the records is that in which the passages came last."""
    assert TUNE.next_page(records) == next_page


def test_a_tune_is_begun_once_some_of_it_was_played_and_not_when_it_was_only_opened():
    assert TUNE.begun({"b": FOUND})
    assert not TUNE.begun({"b": record(practised=False)})
