"""The picture of the map: a head for each of its pitches, above the keys."""

import pygame

from game.screens.routes import ToMap
from game.screens.setup.map_view import MapView


def test_every_pitch_of_the_map_has_its_head_from_left_to_right_above_the_keys(table):
    table.go(ToMap())
    foot, heads = MapView(table.context, table.screen.shown).draw(pygame.display.get_surface())
    assert len(heads) == len(table.context.settings.neck_map().homes)
    assert [x for x, _ in heads] == sorted(x for x, _ in heads)
    assert max(y for _, y in heads) < foot
