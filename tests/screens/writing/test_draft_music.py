"""The music of a draft on the page: the line with the pencil is in sight, and every pitch is found again."""

from dataclasses import replace

import pygame
import pytest

from game.screens.writing.draft_music import DraftMusic
from game.tunes.entering.draft import Draft, DraftPitch
from tests.sampling import sample
from tests.tunes.entering.made_drafts import made_draft

AREA = pygame.Rect(60, 120, 1100, 400)


def music_of(table, draft, area=AREA):
    music = DraftMusic(table.context, area)
    music.show(draft, area)
    return music


def long_draft(count=200):
    return Draft(pitches=tuple(DraftPitch(sounding=48 + number % 12) for number in range(count)))


def test_an_empty_draft_is_a_staff_with_its_signatures(table):
    music = music_of(table, Draft())
    assert music.box_of(0) is None
    assert music.staff_of_bar(0).height == 4 * music.space_px
    music.draw(table.app.surface, {})


@pytest.mark.parametrize("pitch", sample([0, 7, 90, 199], by_default=1))
def test_the_line_that_is_looked_at_is_in_sight_whole(table, pitch):
    music = music_of(table, long_draft())
    music.look_at(pitch)
    box = music.box_of(pitch)
    assert AREA.contains(box.head)
    assert music.pitch_near(box.head.center) == pitch


def test_what_is_out_of_sight_has_no_place(table):
    music = music_of(table, long_draft())
    music.look_at(0)
    assert music.box_of(199) is None
    assert music.staff_of_bar(49) is None
    assert music.pitch_near((0, 0)) is None


def test_a_page_that_has_room_shows_its_first_line_first(table):
    music = music_of(table, long_draft(20))
    music.look_at(19)
    assert music.box_of(0).head.top < music.box_of(19).head.top


def test_a_tied_note_is_coloured_in_all_its_heads(table):
    draft = next(draft for draft in map(made_draft, range(100)) if any(len(heads) > 1 for heads in heads_of(draft)))
    music = music_of(table, draft)
    tied = next(pitch for pitch, heads in enumerate(heads_of(draft)) if len(heads) > 1)
    assert len(music.coloured({tied: (1, 2, 3)})) > 1


def heads_of(draft):
    from game.tunes.entering.draft_score import draft_page

    return draft_page(draft).heads


def test_what_is_no_music_engraves_nothing_anew(table):
    music = music_of(table, long_draft(8))
    before = music.box_of(0), music._still
    music.show(replace(long_draft(8), title="Another", tempo_bpm=99), AREA)
    assert music._still is before[1]
    music.show(long_draft(9), AREA)
    assert music._still is not before[1]


def test_a_low_area_takes_smaller_notes(table):
    tall, low = music_of(table, long_draft(8)), music_of(table, long_draft(8), AREA.inflate(0, -340))
    assert low.space_px < tall.space_px


def test_a_page_that_is_read_ahead_stands_still_until_its_last_line_is_reached(table):
    music = music_of(table, long_draft())
    music.look_at(0, ahead=True)
    tops = []
    for pitch in range(0, 64, 16):
        music.look_at(pitch, ahead=True)
        tops.append((next(iter(music._rows())), music._line))
    shown = len(music._rows())
    assert [first for first, line in tops if line < shown - 1] == [0] * (shown - 1)
    assert tops[shown - 1] == (shown - 1, shown - 1)
