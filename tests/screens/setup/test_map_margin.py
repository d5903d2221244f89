"""What stands beside the neck keeps above the corner, in each language."""

import pygame
import pytest

from game.desk.kit import lines_of_text
from game.neck.tuning import Place
from game.screens.routes import ToMap
from game.screens.setup.map_choice import LookedAt
from game.screens.setup.map_sheet import WORDS_LEFT
from game.text import catalogue
from game.text.catalogue import catalogue_in
from game.text.language import languages
from tests.sampling import sample
from tests.screens.table import Table


@pytest.mark.parametrize("language", sample(languages(), by_default=1))
@pytest.mark.parametrize("size", sample([(960, 600), (1280, 720)], by_default=1))
def test_whatever_is_said_of_a_note_ends_above_the_corner(tmp_path, monkeypatch, language, size):
    table = Table(tmp_path, size=size)
    monkeypatch.setattr(catalogue._Chosen, "catalogue", catalogue_in(language))
    table.go(ToMap())
    ends = []
    written = lines_of_text.Canvas.write

    def noting(canvas, text, at, style, *align):
        if at[0] == WORDS_LEFT:
            ends.append(at[1])
        return written(canvas, text, at, style, *align)

    monkeypatch.setattr(lines_of_text.Canvas, "write", noting)
    for looked in (None, LookedAt(44), LookedAt(61, Place(5, 16)), LookedAt(40, Place(6, 0))):
        table.screen.shown.looked = looked
        table.app.draw()
        assert ends
        table.settle(choices={59: (4, 9), 64: (2, 5)})
        for key in (
            pygame.K_RETURN,
            pygame.K_ESCAPE,
            pygame.K_RIGHT,
            pygame.K_ESCAPE,
            pygame.K_DELETE,
            pygame.K_ESCAPE,
        ):
            table.key(key)
            if table.screen_name != "MapScreen":
                table.go(ToMap())
        table.settle(choices={})
    height = table.context.sheet.size[1] / table.context.sheet.unit
    assert max(ends) < height - 26 - 86
