"""The page of a request: where a neck is there to be played."""

import pygame

from game.coach.stages import Stage
from game.player.settings import InstrumentKind, Settings
from game.screens.reading.page_view_for import page_view_for
from game.screens.routes import ToPage
from tests.screens.table import Table
from tests.screens.ways import request_of


def test_the_neck_is_there_to_be_played_where_no_instrument_is(tmp_path):
    for guitar in (False, True):
        table = Table(tmp_path, guitar=guitar)
        view = page_view_for(table.context, request_of(table))
        assert (view.neck is None) is guitar
        assert page_view_for(table.context, request_of(table), neck_shown=False).neck is None


def test_with_the_click_the_neck_comes_when_it_is_asked_for_and_stays_so(tmp_path):
    """At one's own pace it is what is played on where no instrument is."""
    for guitar in (False, True):
        table = Table(tmp_path, guitar=guitar)
        request = request_of(table, Stage.TIME)
        assert page_view_for(table.context, request).neck_shown is not guitar
        table.go(ToPage(request.by_the_click(), chosen=True))
        assert not table.screen.view.neck_shown
        table.key(pygame.K_F12)
        assert table.screen.view.neck_shown
        table.go(ToPage(request.by_the_click(), chosen=True))
        assert table.screen.view.neck_shown is not guitar


def test_who_marks_an_own_guitar_is_shown_no_neck(tmp_path):
    table = Table(tmp_path, Settings(instrument=InstrumentKind.NO_PICKUP))
    assert not page_view_for(table.context, request_of(table, Stage.TIME)).neck_shown
