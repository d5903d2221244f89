"""Which screen stands at a route."""

import pytest

from game.player.settings import Look
from game.screens.router import screen_for
from game.screens.routes import (
    Leave,
    ToAssigned,
    ToAssignment,
    ToFreshLine,
    ToPlanned,
    ToSibling,
)
from tests.sampling import sample
from tests.screens.table import Table
from tests.screens.ways import ASSIGNMENT, request_of, routes, screens, some_routes


def test_there_is_a_way_to_every_screen(table, tmp_path):
    assert set(routes(table, tmp_path)) == screens()


def test_each_way_leads_to_the_screen_of_its_name(table, tmp_path):
    for name, route in routes(table, tmp_path).items():
        table.go(route)
        assert table.screen_name == name


def test_music_that_is_made_first_stands_on_a_page(table):
    """A fresh line, a sibling, a part of an assignment, a step of the plan."""
    page = request_of(table)
    for route in (ToFreshLine(), ToSibling(page), ToPlanned()):
        table.go(route)
        assert table.screen.in_take
    opened = table.context.session.assignments.open(ASSIGNMENT)
    table.go(ToAssignment(opened.id))
    table.go(ToAssigned(opened.id, 0))
    assert table.screen.in_take


def test_leaving_stands_nowhere(table):
    assert screen_for(table.context, Leave(), table.app._chance) is None
    table.go(Leave())
    assert not table.app.running


@pytest.mark.parametrize("size", sample([(960, 600), (1280, 720), (1920, 1080), (3840, 2160)], by_default=1))
def test_every_screen_can_be_drawn_from_the_smallest_window_to_the_largest(tmp_path, size):
    """By day and by night."""
    table = Table(tmp_path, size=size)
    for number, (name, route) in enumerate(some_routes(table, tmp_path, 2).items()):
        table.settle(look=list(Look)[number % 2])
        table.go(route)
        assert table.screen_name == name
        assert table.app.surface.get_size() == size
