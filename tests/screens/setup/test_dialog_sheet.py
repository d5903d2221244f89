"""The sheets behind the settings, with whatever names devices, people and folders have."""

from itertools import product

import pygame
import pytest

from game.desk.kit.corner import CORNER_SIZE, corner_point
from game.player.device_settings import LONGEST_DEVICE_NAME, DeviceSettings
from game.player.profiles import Profile
from game.screens.key_hints import key_hints
from game.screens.routes import ToDelay, ToInstruments, ToPlayers, ToSetUp, ToSharing
from game.screens.setup.dialog_sheet import bottom_of, draw_foot, draw_row, lay_dialog
from game.text import catalogue
from game.text.catalogue import catalogue_in
from game.text.language import languages
from tests.sampling import sample
from tests.screens.table import Table

SIZES = [(960, 600), (1280, 720), (3840, 2160)]
LONG = "USB MIDI Interface of a Very Long Name, Port 3 of 12 at the Desk"


@pytest.mark.parametrize("size", sample(SIZES, by_default=1))
def test_rows_end_above_keys_and_corner_and_a_long_name_stays_on_the_sheet(tmp_path, size):
    table = Table(tmp_path, size=size)
    canvas, top = lay_dialog(table.context, table.app.surface, LONG * 3, LONG)
    assert 130 < top < bottom_of(canvas) < corner_point(canvas)[1] - CORNER_SIZE
    before = table.app.surface.copy()
    draw_row(canvas, 300, LONG * 4, below=LONG * 5, right=LONG, chosen=True)
    changed = pygame.mask.from_threshold(table.app.surface, (0, 0, 0), (1, 1, 1), before)
    changed.invert()
    edges = changed.get_bounding_rects()
    assert edges
    assert max(edge.right for edge in edges) <= canvas.px(canvas.sheet.size[0] / canvas.sheet.unit - 60)
    draw_foot(table.context, table.app.surface, key_hints(("keys.escape", "keys.back")), "go on")
    assert {press.key for _, press in table.context.window._boxes} >= {pygame.K_RETURN, pygame.K_ESCAPE}


@pytest.mark.parametrize(("language", "size"), sample(list(product(languages(), SIZES[:2])), by_default=1))
def test_no_two_boxes_of_a_dialog_overlap_with_long_names_in_each_language(tmp_path, monkeypatch, language, size):
    table = Table(tmp_path / "home", size=size)
    monkeypatch.setattr(catalogue._Chosen, "catalogue", catalogue_in(language))
    name = (LONG * 4)[:LONGEST_DEVICE_NAME]
    table.settle(devices={name: DeviceSettings(channels=(1, 2, 3, 4, 5, 6), calibrated=True)}, device=name)
    session = table.context.session
    session.profile = Profile(name="N" * 40, folder=session.folder, settings_path=session.profile.settings_path)
    folder = tmp_path / ("a shared folder " * 6)
    folder.mkdir()
    session.log.facts.open_tune("here")
    assert session.log.flush()
    session.sharing.share_through(folder)
    for route in (ToInstruments(), ToSetUp(name), ToDelay(name), ToPlayers(), ToSharing()):
        table.go(route)
        boxes = [box for box, _ in table.context.window._boxes]
        assert boxes
        assert all(box.collidelistall(boxes) == [number] for number, box in enumerate(boxes)), route
        assert all(table.app.surface.get_rect().contains(box) for box in boxes), route
