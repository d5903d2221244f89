"""Lines that stand still."""

from dataclasses import replace
from itertools import pairwise, product

import pygame
import pytest

from game.music.meter import Meter
from game.music.passage import whole_tune
from game.music.written import HeadId
from game.player.settings import MusicFace, Settings
from game.screens.reading.page_lanes import print_of
from game.screens.reading.still_music import StillMusic
from tests.made import passage, score
from tests.sampling import sample
from tests.screens.faulty_takes import crowded_tune
from tests.screens.table import Table
from tests.screens.timed_pages import metronome_page

PLAIN = whole_tune(score(*["F4 q, G4 q, A4 q, Bb4 q", "C5 q, Bb4 q, A4 h"] * 12, key=-1))
SIZES = ((960, 600), (1280, 720), (1366, 768), (1920, 1080), (2560, 1080), (1200, 1600), (3840, 2160))
CASES = tuple(product(SIZES, (16, 26, 48), MusicFace, (PLAIN, whole_tune(crowded_tune(12)))))


def still(table, music=PLAIN, area=None, **slip):
    return StillMusic(table.context, music, area or table.context.sheet.text_area, **slip)


def lines_in_sight(music):
    return [line for line, _ in music._in_sight()]


def test_the_page_can_stand_still_with_a_slip_over_the_bar_being_played(table):
    page = metronome_page(table)
    table.key(pygame.K_F10)
    assert isinstance(page.view.music, StillMusic)
    table.settle(slip=True)
    page.view.rebuild_music()
    assert page.view.music.slip
    table.play_in_time()
    table.wait(2.0)
    assert table.verdicts == ["clean"] * 7


def test_the_slip_covers_all_that_is_printed_in_a_bar_and_neither_clef_nor_key_nor_metre(table):
    music = still(table, PLAIN, slip=True)
    first, second = (music._slip_over(0, bar) for bar in (0, 1))
    heads = [music._page.group_rect_of(HeadId(0, event)) for event in range(4)]
    assert all(first.contains(head) for head in heads)
    before = [sign for sign in music._printed[0] if sign.right < heads[0].left and sign.left >= 0]
    assert before
    assert first.collidelist(before) < 0
    assert first.right <= second.left + 1


def test_as_many_lines_are_in_sight_as_fit_at_the_size_that_is_set(tmp_path):
    """Six lines in all."""
    counts = []
    for space_px in (32, 20, 16):
        table = Table(tmp_path, Settings(staff_space_px=space_px), (1920, 1080))
        music = still(table)
        assert music._page.space_px == space_px
        counts.append(len(lines_in_sight(music)))
        assert (counts[-1] + 1) * music._least_pitch > music._area.height
    assert counts == sorted(set(counts))


def test_where_all_fit_all_are_shown_and_stay(tmp_path):
    table = Table(tmp_path, Settings(staff_space_px=16), (1920, 1080))
    music = still(table, passage("F4 q, G4 q, A4 q, Bb4 q", "C5 w", "F4 w", "G4 w", "A4 w"))
    before = lines_in_sight(music)
    assert before == list(range(len(music._page.lines)))
    music.look_at(HeadId(4, 0), 0.0)
    assert lines_in_sight(music) == before


@pytest.mark.parametrize(("size", "staff_space_px", "face", "music"), sample(CASES, by_default=1))
def test_no_line_reaches_into_another_or_out_of_the_page(tmp_path, size, staff_space_px, face, music):
    """In any window, with the staves at even distances and room for a row of marks below each."""
    table = Table(tmp_path, Settings(staff_space_px=staff_space_px, music_face=face), size)
    seen = still(table, music)
    area, page = seen._area, seen._page
    rooms = [print_of(page, line).move(area.left, down) for line, down in seen._in_sight()]
    for above, below in pairwise(rooms):
        assert above.bottom + seen._type.height_px(1) <= below.top
    assert area.top <= rooms[0].top
    assert rooms[-1].bottom + seen._type.height_px(1) <= area.bottom
    staves = [page.lines[line].top_line_y + down for line, down in seen._in_sight()]
    assert len({low - high for high, low in pairwise(staves)}) <= 1


def test_two_lines_are_in_sight_in_the_smallest_window(tmp_path):
    table = Table(tmp_path, Settings(staff_space_px=48), (960, 600))
    assert len(lines_in_sight(still(table))) >= 2


def test_where_there_is_not_room_for_two_lines_one_is_as_large_as_it_can_be(table):
    """As over a neck; smaller than six tenths of what is wished two are not set."""
    area = pygame.Rect(70, 134, 1140, 150)
    music = still(table, area=area)
    assert len(lines_in_sight(music)) == 1
    assert music._page.space_px > 9
    assert music._least_pitch <= area.height


def test_what_was_left_is_replaced_at_the_last_bar_but_one(table):
    music = still(table, area=pygame.Rect(70, 134, 1140, 460))
    assert lines_in_sight(music) == [0, 1]
    for bar, shown in ((0, [0, 1]), (4, [0, 1]), (5, [0, 1]), (6, [2, 1]), (7, [2, 1]), (8, [2, 1]), (9, [2, 3])):
        music.follow(4.0 * bar + 1)
        assert lines_in_sight(music) == shown


def test_a_line_that_is_replaced_is_drawn_where_the_one_before_it_was(table):
    surface = pygame.Surface((1280, 720))
    music = still(table, area=pygame.Rect(70, 134, 1140, 460))
    music.draw(surface, {}, 0.0)
    first = music.note_box(HeadId(0, 0)).head
    assert music.note_box(HeadId(8, 0)) is None
    music.follow(25.0)
    music.draw(surface, {}, 0.0)
    assert music.note_box(HeadId(0, 0)) is None
    assert music.note_box(HeadId(8, 0)).head.y == first.y


def test_a_line_is_drawn_alone_in_its_row(table):
    """However its print compares with that of its neighbours."""
    surface = pygame.Surface((1280, 720))
    paper = table.context.theme.paper
    music = still(table, whole_tune(crowded_tune(8)), area=pygame.Rect(70, 134, 1140, 460))
    music.draw(surface, {}, 0.0)
    for line, down in music._in_sight():
        surface.fill(paper, print_of(music._page, line).move(70, down).inflate(4, 0))
    surface.fill(paper, (0, 0, 70, 720))
    seen = surface.subsurface(music._area)
    inked = pygame.mask.from_threshold(seen, table.context.theme.ink, (60, 60, 60))
    assert inked.count() == 0


def test_a_tick_at_a_bar_line_stands_on_nothing(table):
    """Over it, or under it where an ending or words are over it."""
    music = still(table, whole_tune(crowded_tune(12)))
    tick = pygame.Surface((9, 16))
    for line in range(len(music._page.lines)):
        for bar in music._page.lines[line].bars:
            rect = music._tick_rect(line, bar, tick)
            assert rect.collidelist(music._printed[line]) < 0


def test_the_row_of_the_first_mark_is_below_its_note_and_clear_of_all_print(table):
    music = still(table)
    room, box = music.first_row_of(HeadId(1, 0)), music.note_box(HeadId(1, 0))
    assert room.centerx == box.head.centerx
    assert room.top >= box.group.bottom
    assert music.first_row_of(HeadId(20, 0)) is None


def test_bars_of_other_lengths_end_where_they_do(table):
    made = score("F4 q, G4 q, A4 q", "F4 h.", "F4 h.")
    music = still(table, whole_tune(replace(made, bars=tuple(replace(bar, meter=Meter(3, 4)) for bar in made.bars))))
    music.follow(3.5)
    assert music._bar == 1
    music.follow(-1.0)
    assert music._bar == -1
