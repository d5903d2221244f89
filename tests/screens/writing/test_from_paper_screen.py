"""Music on paper: two doors and the drafts."""

import os

import pygame

from game.screens.routes import ToFromPaper, ToShelf
from game.screens.writing.from_paper_screen import draft_in_words
from game.tunes.entering.draft import Draft, DraftPitch
from game.tunes.entering.draft_file import kept_drafts, new_draft_path, write_draft
from tests.tunes.entering.made_taps import BEATS, tapped_run, taps, with_pitches

PITCHES = (DraftPitch(sounding=60), DraftPitch(sounding=62))


def keep(table, *drafts):
    for age, draft in enumerate(drafts):
        path = new_draft_path(table.context.session.folder)
        write_draft(path, draft)
        os.utime(path, (1_000_000 - age, 1_000_000 - age))
    table.go(ToFromPaper())


def test_the_first_door_begins_a_new_tune(table):
    table.go(ToFromPaper())
    table.key(pygame.K_RETURN)
    assert table.screen_name == "EnteringScreen"
    assert table.screen.state.draft.pitches == ()


def test_the_second_door_leads_to_practice_from_the_paper(table):
    table.go(ToFromPaper())
    table.key(pygame.K_DOWN)
    table.key(pygame.K_RETURN)
    assert table.screen_name == "PaperPracticeScreen"


def test_a_draft_under_way_is_offered_first(table):
    keep(table, Draft(title="Under Way", pitches=PITCHES), Draft(title="Older", pitches=PITCHES))
    table.key(pygame.K_RETURN)
    assert table.screen.state.draft.title == "Under Way"


def test_what_is_on_the_shelf_already_is_there_to_be_put_right(table):
    keep(table, Draft(title="Done", pitches=PITCHES, kept_as="Done.musicxml"))
    table.key(pygame.K_DOWN)
    table.key(pygame.K_DOWN)
    table.key(pygame.K_RETURN)
    assert table.screen.state.draft.title == "Done"


def test_rows_are_chosen_by_click_and_wheel_and_many_are_scrolled(table):
    keep(table, *(Draft(title=f"Tune {number}", pitches=PITCHES) for number in range(30)))
    table.click((300, table.screen._top + 5))
    assert table.screen._chosen == 0
    for _ in range(40):
        table.app.step([pygame.event.Event(pygame.MOUSEWHEEL, y=-1)])
    table.picture()
    assert table.screen._chosen == 31
    table.key(pygame.K_RETURN)
    assert table.screen.state.draft.title == "Tune 29"


def test_a_click_on_the_chosen_row_opens_it_and_escape_goes_back_to_where_one_came_from(table):
    table.go(ToShelf())
    table.go(ToFromPaper())
    table.click((300, table.screen._top + 5))
    assert table.screen_name == "EnteringScreen"
    table.key(pygame.K_ESCAPE)
    table.key(pygame.K_ESCAPE)
    assert table.screen_name == "ShelfScreen"


def test_a_draft_is_thrown_away_when_that_is_said_twice_of_the_same(table):
    keep(table, *(Draft(title=title, pitches=PITCHES) for title in ("First", "Second", "Third")))
    table.key(pygame.K_DELETE)
    assert "First" in table.context.window.message
    table.key(pygame.K_DOWN)
    table.key(pygame.K_DELETE)
    assert len(kept_drafts(table.context.session.folder)) == 3
    table.key(pygame.K_DELETE)
    assert [kept.draft.title for kept in kept_drafts(table.context.session.folder)] == ["First", "Third"]
    table.picture()
    for _ in range(3):
        table.key(pygame.K_DELETE)
    table.key(pygame.K_DELETE)
    assert kept_drafts(table.context.session.folder) == ()
    table.key(pygame.K_DELETE)
    table.picture()
    assert table.screen_name == "FromPaperScreen"


def test_how_far_a_draft_has_come_is_said():
    done = tapped_run(with_pitches(8), taps(BEATS)).draft
    assert draft_in_words(with_pitches(5).draft) == "5 pitches, 0 with a rhythm"
    assert draft_in_words(done) == "8 notes, all with a rhythm"
    assert draft_in_words(Draft(pitches=PITCHES, kept_as="x.musicxml")) == "on the shelf, 2 notes"
