"""Where things stand on a page that is played."""

from itertools import product

import pytest

from game.desk.kit.key_rows import ROW_HEIGHT
from game.screens.reading.page_layout import PageLayout

EVERY = tuple(
    PageLayout(
        width=1280, height=height, clocked=clocked, ladder=ladder, column=column, neck=neck, string_row=string_row
    )
    for height, clocked, neck, string_row in product((720.0, 800.0), (False, True), (False, True), (False, True))
    for ladder, column in ((False, False), (clocked, not clocked))
)


def test_in_the_window_of_the_design_everything_stands_where_it_says():
    timed = PageLayout(width=1280, height=720, clocked=True, ladder=True)
    assert (timed.music_right, timed.sentence_baseline, timed.rule_y, timed.keys_middle) == (1012, 604, 559, 645)
    room = timed.ladder_room
    assert (room.left, room.left + room.width, room.top, room.bottom) == (1094, 1168, 126, 556)
    waiting = PageLayout(width=1280, height=720, column=True)
    assert (waiting.music_right, waiting.column_left) == (850, 912)


@pytest.mark.parametrize("layout", EVERY)
def test_from_the_top_to_the_keys_nothing_stands_on_another(layout):
    edges = [layout.music_top, layout.music_bottom]
    if layout.neck:
        _, top, _, height = layout.neck_room
        edges += [top, top + height]
    if layout.ruled:
        edges += [layout.words_baseline, layout.rule_y]
    edges += [layout.sentence_baseline]
    if layout.string_row:
        edges += [layout.keys_middle - ROW_HEIGHT - 14]
    edges += [layout.keys_middle - 14, layout.keys_middle + 14]
    assert edges == sorted(edges)
    assert layout.music_bottom - layout.music_top >= 200
    assert layout.keys_middle + 18 < layout.height - 26


@pytest.mark.parametrize("layout", EVERY)
def test_what_stands_at_the_right_ends_above_the_keys(layout):
    keys_top = layout.keys_middle - 14
    assert layout.column_bottom < keys_top
    assert layout.ladder_room.bottom + 30 < keys_top
    assert layout.music_right <= layout.right


def test_a_higher_window_gives_its_room_to_the_music_and_the_ladder():
    low, high = (PageLayout(width=1280, height=height, clocked=True, ladder=True) for height in (720, 800))
    assert high.music_bottom > low.music_bottom
    assert high.ladder_room.bottom > low.ladder_room.bottom


def test_where_music_stands_still_it_has_the_room_of_the_words():
    moving, still = (
        PageLayout(width=1280, height=720, clocked=True, ladder=True, still=still) for still in (False, True)
    )
    assert still.music_bottom > moving.music_bottom
    assert still.words_baseline == still.sentence_baseline
