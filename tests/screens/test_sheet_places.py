"""What sheets have in common."""

import pytest

from game.desk.kit.ground import TABBED_TOP, paper_rect
from game.desk.sheet import Sheet
from game.screens.sheet_places import HEADING, LEFT, SheetPlaces


@pytest.mark.parametrize("size", [(960, 600), (1280, 720), (1920, 1080), (2560, 1080), (3840, 2160)])
def test_text_begins_and_ends_on_the_paper_at_every_size(size):
    places = SheetPlaces(Sheet(size))
    paper = paper_rect(places.sheet, TABBED_TOP)
    assert paper.left < places.sheet.px(LEFT) < places.sheet.px(places.right) < paper.right
    assert paper.top < places.sheet.px(HEADING) < paper.bottom
    assert places.sheet.px(places.height) == pytest.approx(size[1], abs=1)
