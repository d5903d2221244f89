"""The page as it is read: music, pencil, margin, neck, and the words around them."""

from dataclasses import replace
from itertools import product

import pygame
import pytest

from game.coach.stages import Pulse, Stage
from game.desk import typography
from game.desk.count_drawing import Count
from game.desk.kit.turned_up import TURN_UP_S
from game.music.written import HeadId
from game.neck.tuning import Place
from game.player.settings import Look, Settings
from game.practice.pencilled import NameMark, PlacedMark
from game.practice.take_request import request_for
from game.screens.key_hints import key_hints
from game.screens.reading import page_foot, page_heading, work_column
from game.screens.reading.music_view_for import music_view_for
from game.screens.reading.page_view_for import page_view_for
from game.screens.routes import ToPage
from game.text.language import languages
from tests.made import score
from tests.sampling import sample
from tests.screens.table import Table
from tests.screens.timed_pages import sight_request
from tests.screens.ways import request_of
from tests.speaking import speaking


@pytest.fixture
def view(table):
    return page_view_for(table.context, request_of(table))


def drawn(view, surface):
    view.draw(surface)
    return surface.get_view("2").raw


def test_while_only_the_staff_moves_only_the_staff_is_drawn(table, view):
    surface = table.app.surface
    assert view.draw(surface)
    assert not view.draw(surface)
    surface.set_at((5, 5), (1, 2, 3))
    view.look_at(HeadId(1, 0), table.clock.now_s())
    table.clock.advance(0.1)
    assert not view.draw(surface)
    assert surface.get_at((5, 5))[:3] == (1, 2, 3)


@pytest.mark.parametrize(
    "change",
    [
        lambda view: setattr(view, "status", "bar 2 again"),
        lambda view: setattr(view, "count", Count(3, 4)),
        lambda view: setattr(view, "sketch", Place(5, 8)),
        lambda view: setattr(view, "neck_shown", not view.neck_shown),
        lambda view: setattr(view, "keys", key_hints(("keys.escape", "keys.stop"))),
        lambda view: view.show_finger(Place(5, 8), view.context.clock.now_s()),
        lambda view: view.context.say("A tune is on the shelf."),
    ],
)
def test_whatever_stands_around_it_changes_the_whole_page_is_drawn(table, view, change):
    before = drawn(view, table.app.surface)
    change(view)
    assert view.draw(table.app.surface)
    assert table.app.surface.get_view("2").raw != before or view.context.message_shown


def test_a_finger_is_taken_away_after_a_moment(table, view):
    view.neck_shown = True
    before = drawn(view, table.app.surface)
    view.show_finger(Place(5, 8), table.clock.now_s())
    assert drawn(view, table.app.surface) != before
    assert view.moving
    table.clock.advance(1.0)
    assert drawn(view, table.app.surface) == before
    assert not view.moving


@pytest.mark.parametrize("still_desk", [False, True])
def test_notes_are_filled_with_ink_by_and_by_unless_the_desk_is_to_keep_still(table, view, still_desk):
    table.settle(still_desk=still_desk)
    view.mark_clean(frozenset({HeadId(0, 0)}))
    assert view.moving
    at_once = drawn(view, table.app.surface)
    table.clock.advance(1.0)
    assert not view.moving
    assert (drawn(view, table.app.surface) == at_once) is still_desk


def test_pencil_and_clean_notes_stay_through_a_change_of_look_and_size(table, view):
    view.marks = [PlacedMark(HeadId(0, 0), NameMark(text="F"))]
    view.mark_clean(frozenset({HeadId(0, 0)}))
    paper = view.colours[HeadId(0, 0)]
    table.settle(look=Look.NIGHT)
    view.appearance_changed()
    assert view.colours[HeadId(0, 0)] != paper
    assert [mark.head for mark in view.marks] == [HeadId(0, 0)]


@pytest.mark.parametrize("still", [False, True])
def test_music_that_is_made_to_stand_still_or_to_move_has_its_room_at_once(tmp_path, still):
    table = Table(tmp_path, Settings(still=still), guitar=True)
    table.go(ToPage(request_of(table, Stage.TIME), chosen=True))
    view = table.screen.view
    table.key(pygame.K_F10)
    view.draw(table.app.surface)
    assert view.stands_still() is not still
    assert view.music._area == view.staff_area


def test_where_there_is_room_after_the_title_a_still_page_begins_higher(tmp_path):
    table = Table(tmp_path, Settings(still=True), guitar=True)
    tops = []
    for title in ("The Weir", "The Ford at Low Water, as it was sung on the evening of the last day of the year"):
        request = request_for(score("F4 h, G4 h", "A4 w", title=title), table.context.settings.neck_map())
        table.go(ToPage(request.in_stage(Stage.TIME), chosen=True))
        view = table.screen.view
        tops.append(view.staff_area.top)
        view.draw(table.app.surface)
        assert view.music._area == view.staff_area
    assert tops[0] < tops[1]


def test_first_sight_has_the_whole_sheet_and_what_is_said_stands_in_the_heading(tmp_path):
    """Nothing is written below or beside the music while it is read, not even where the take waits."""
    table = Table(tmp_path, guitar=True)
    table.go(ToPage(sight_request(table), chosen=True))
    view, surface = table.screen.view, table.app.surface
    foot = table.context.sheet.paper.bottom - view.staff_area.bottom
    assert foot < table.context.sheet.px(20)
    table.key(pygame.K_RETURN)
    table.key(pygame.K_RETURN)
    before = drawn(view, surface)
    view.status = "Bar 2 again."
    table.wait(0.1)
    assert view.sight.how == "Bar 2 again."
    assert drawn(view, surface) != before


@pytest.mark.parametrize("still", sample([False, True], by_default=1))
@pytest.mark.parametrize("size", sample([(960, 600), (1280, 720), (1920, 1080)], by_default=1))
def test_the_count_stands_on_nothing_else(tmp_path, still, size):
    """Below the reading mark and the rows of marks, or in the margin of the line being read."""
    table = Table(tmp_path, Settings(still=still), size, guitar=True)
    table.go(ToPage(request_of(table, Stage.TIME).by_the_click(), chosen=True))
    view, surface = table.screen.view, table.app.surface
    view.status, view.count = "", None
    view.draw(surface)
    before = surface.copy()
    view.count = Count(3, 4)
    view.draw(surface)
    changed = pygame.mask.from_threshold(surface, (0, 0, 0), (2, 2, 2, 255), before)
    changed.invert()
    rects = changed.get_bounding_rects()
    count = rects[0].unionall(rects[1:])
    assert table.context.sheet.paper.contains(count)
    if still:
        assert count.right <= view.staff_area.left
    else:
        top_line_y = view.music._top_line_y
        assert count.top >= top_line_y + view.music._staff.below_px + view.music._lane_type.height_px(1)


def test_a_covered_page_shows_nothing_until_it_is_uncovered(table):
    request = sight_request(table)
    view = page_view_for(table.context, request, lambda area: music_view_for(table.context, request, area))
    view.status = "Play a note to turn it up."
    covered = drawn(view, table.app.surface)
    assert view.covered
    view.uncover()
    assert (view.covered, view.status) == (False, "")
    assert drawn(view, table.app.surface) != covered


@pytest.mark.parametrize("still_desk", [False, True])
def test_a_page_to_be_looked_at_is_turned_up_within_350_ms_and_one_to_be_read_at_once(table, still_desk):
    table.settle(still_desk=still_desk)
    request = sight_request(table)

    def page():
        return page_view_for(table.context, request, lambda area: music_view_for(table.context, request, area))

    read = page()
    read.uncover()
    assert not read.moving
    whole = drawn(read, table.app.surface)
    looked_at = page()
    looked_at.uncover(to_look=True)
    seen = []
    for _ in range(4):
        seen.append(drawn(looked_at, table.app.surface))
        table.clock.advance(TURN_UP_S / 3)
    assert not looked_at.moving
    assert seen[-1] == whole
    assert len(set(seen)) == (1 if still_desk else 4)


def test_a_page_fits_the_smallest_window(tmp_path):
    table = Table(tmp_path, size=(960, 600))
    view = page_view_for(table.context, request_of(table))
    view.draw(table.app.surface)
    assert table.app.surface.get_rect().contains(view.staff_area)
    assert view.staff_area.bottom <= view.neck.room.top


PAGES = {
    "places": lambda request: request,
    "letters": lambda request: request.in_stage(Stage.LETTERS),
    "rhythm": lambda request: request.in_stage(Stage.RHYTHM),
    "free": lambda request: request.in_stage(Stage.TIME),
    "bridge": lambda request: request.by_the_click(),
    "timed": lambda request: replace(request, stage=Stage.TIME, pulse=Pulse.METRONOME, tempo_bpm=60),
}
CASES = tuple(product(PAGES, languages(), ((960, 600), (1280, 720), (3840, 2160)), (False, True)))


@pytest.mark.parametrize(("page", "language", "size", "guitar"), sample(CASES, by_default=1))
def test_on_a_page_nothing_is_cut_and_keys_and_marks_stand_apart(tmp_path, monkeypatch, page, language, size, guitar):
    cut = []

    def shortened(text, *measures):
        made = typography.shortened(text, *measures)
        cut.extend([text] if made != text else [])
        return made

    for module in (page_heading, page_foot, work_column):
        monkeypatch.setattr(module, "shortened", shortened)
    with speaking(language):
        table = Table(tmp_path, size=size, guitar=guitar)
        request = request_for(score("F4 h, G4 h", "A4 w", title="Ode to Joy"), table.context.settings.neck_map())
        table.context.session.coach.open_passage(request.passage)
        table.go(ToPage(PAGES[page](request), chosen=True))
        view = table.screen.view
        view.draw(table.app.surface)
    assert cut == []
    assert (view.climb is not None) is (page == "timed")
    boxes = [box for box, _ in table.context.window._boxes]
    told = {press.key for _, press in table.context.window._boxes}
    assert pygame.K_ESCAPE in told
    assert not [
        box for box in boxes if box.colliderect(view.staff_area) or (view.neck and box.colliderect(view.neck.room))
    ]
    assert not [hit for hit, _ in view._rungs if hit.collidelist(boxes) >= 0]
