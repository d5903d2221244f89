"""Where the choices of the next map stand."""

import pytest

from game.desk.sheet import Sheet
from game.music.score import Reading
from game.player.settings import Settings
from game.screens.choosing.next_map_drawing import row_at, row_rect
from game.screens.routes import ToNextMap
from game.text.catalogue import catalogue_in, choose
from tests.coach.notes.test_fluent_map import known
from tests.screens.drawn_text import written_texts
from tests.screens.table import Table


def test_a_point_in_a_row_is_that_choice_and_one_beside_them_is_none():
    for size in ((1280, 720), (960, 600), (1920, 1080)):
        sheet = Sheet(size)
        assert [row_at(sheet, row_rect(sheet, row).center, 5) for row in range(5)] == list(range(5))
        assert row_at(sheet, row_rect(sheet, 5).center, 5) is None
        assert row_at(sheet, (row_rect(sheet, 0).right + 3, row_rect(sheet, 0).centery), 5) is None


@pytest.mark.parametrize("language", ["en", "de"])
@pytest.mark.parametrize("size", [(1280, 720), (960, 600)])
def test_why_a_map_is_fluent_is_told_whole_however_long_its_name_is(tmp_path, monkeypatch, language, size):
    choose(catalogue_in(language))
    table = Table(tmp_path, Settings(tuning="seven-string-drop-a", reading=Reading.BASS), size=size)
    neck_map = table.context.settings.neck_map()
    table.context.session.notes.projection.state = known(neck_map)
    table.context.session.maps.keep("of a very long name, for the big stage", neck_map)
    table.go(ToNextMap())
    texts = written_texts(monkeypatch)
    table.picture()
    assert table.screen._said in " ".join(texts)
