"""Small pictures of engraved pages."""

from datetime import date

import pytest

from game.music.passage import whole_tune
from game.practice.take_request import request_for
from game.practice_log.queries.figure_records import PassageFigures
from game.practice_log.rows.passage_key import passage_key
from game.screens.progress.page_pictures import PICTURE, PagePictures
from game.tunes.library.library import open_entry, shelf
from tests.sampling import sample
from tests.screens.table import Table

DAY = date(2026, 11, 20)


def figures(table, number, *, whole=False):
    entry = shelf()[number]
    passage = request_for(open_entry(entry), table.context.settings.neck_map()).passage
    passage = whole_tune(passage.score) if whole else passage
    first, last = passage.bar_numbers
    return PassageFigures(
        key=passage_key(passage),
        title=entry.title,
        first=first,
        last=last,
        takes=1,
        first_day=DAY,
        last_day=DAY,
        newest_bpm=None,
        clean_bpm=None,
        target_bpm=None,
    )


def test_one_is_made_at_a_time_and_none_twice(table):
    pictures = PagePictures(table.context)
    wanted = [(figures(table, number), True) for number in (0, 1)]
    assert [pictures.make_one(wanted) for _ in range(3)] == [True, True, False]
    assert all(pictures.of(one, signed=True) for one, _ in wanted)
    assert pictures.of(wanted[0][0], signed=False) is None


def test_bars_that_are_nowhere_are_looked_for_once(table):
    pictures = PagePictures(table.context)
    gone = PassageFigures(
        key="0" * 32,
        title="Nowhere",
        first="1",
        last="4",
        takes=1,
        first_day=DAY,
        last_day=DAY,
        newest_bpm=None,
        clean_bpm=None,
        target_bpm=None,
    )
    assert not pictures.is_gone(gone)
    assert [pictures.make_one([(gone, True)]) for _ in range(2)] == [True, False]
    assert pictures.is_gone(gone)


@pytest.mark.parametrize("size", sample([(960, 600), (1280, 720), (3840, 2160)], by_default=1))
@pytest.mark.parametrize(("number", "whole"), sample([(0, False), (5, False), (5, True)], by_default=1))
def test_four_bars_or_a_whole_tune_stay_in_the_room_of_a_page(tmp_path, size, number, whole):
    table = Table(tmp_path, size=size)
    pictures, wanted = PagePictures(table.context), figures(table, number, whole=whole)
    assert pictures.make_one([(wanted, True)])
    picture = pictures.of(wanted, signed=True)
    sheet = table.context.sheet
    assert picture.get_width() <= sheet.px(PICTURE[0]) + 2
    assert sheet.px(20) < picture.get_height() <= sheet.px(PICTURE[1])
