"""On every screen, in every size, look and language, no text lies on another, is cut, or is too small to be read."""

from itertools import product

import pytest

from game.player.settings import Look
from game.text.language import languages
from tests.sampling import sample
from tests.screens.set_type import SetType, faults
from tests.screens.table import Table
from tests.screens.test_one_meaning import every_way, led_to
from tests.speaking import speaking

SIZES = ((960, 600), (1280, 720), (1920, 1080), (3840, 2160))
CASES = tuple(product(SIZES, (Look.PAPER, Look.NIGHT), languages()))


@pytest.mark.parametrize(("size", "look", "language"), sample(CASES, by_default=1))
def test_what_is_set_on_every_screen_has_room(tmp_path, monkeypatch, size, look, language):
    with speaking(language):
        table = Table(tmp_path / "player", size=size)
        table.settle(look=look)
        ways = every_way(table, tmp_path, 1)
        seen = SetType(monkeypatch, size)
        for name, route in ways.items():
            screen = led_to(table, name, route)
            if name == "SigningScreen":
                # Its page turns from black to blue, and its date is written.
                table.wait(4.0, frame_s=1.0)
            seen.begin()
            screen.resized()
            table.picture()
            assert len(seen.texts) > 1, name
            assert faults(seen.texts, table) == [], name


def test_what_is_wrong_is_seen(table, monkeypatch):
    """Else the test above could not fail: also what was painted over."""
    seen = SetType(monkeypatch, (1280, 720))
    table.screen.resized()
    table.picture()
    assert faults(seen.texts, table) == []
    one = seen.texts[0]
    table.app.surface.fill(table.context.theme.paper, one.ink)
    assert faults(seen.texts, table) == [f"{one.text!r} is painted over"]
    table.screen.resized()
    table.picture()
    aside = one.ink.move(1240, 3)
    assert faults([*seen.texts, type(one)("twice", one.ink.move(6, 0), 20), type(one)("aside", aside, 12)], table) == [
        "'aside' is set in 12 units",
        f"'aside' is cut at {aside}",
        f"{one.text!r} lies on 'twice'",
        *(f"'aside' crosses {box}" for box, _ in table.context.window._boxes if box.colliderect(aside)),
    ]
