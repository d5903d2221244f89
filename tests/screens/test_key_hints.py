"""How keys are told at the foot of a page."""

import sys
from itertools import product

import pygame
import pytest

import game.screens.router  # the screens, all of them
from game.desk.sheet import SMALLEST
from game.screens import shown_keys
from game.screens.key_hints import key_hints
from game.screens.window_size import ORDINARY
from game.text.catalogue import SOURCE_LANGUAGE
from game.text.language import PSEUDO, languages
from tests.sampling import sample
from tests.screens.plugged_in import Plugged
from tests.screens.table import Table
from tests.screens.ways import some_routes
from tests.speaking import speaking

OTHERS = sorted(set(languages()) - {SOURCE_LANGUAGE})


@pytest.fixture(autouse=True, scope="module")
def _names_of_keys():
    """The window system knows them once there is a display."""
    pygame.init()


def test_what_stands_on_a_key_stays_and_words_are_those_of_the_language():
    keys = ("F1", "keys.neck"), ("keys.escape", "keys.stop")
    assert told_by(key_hints(*keys)) == [("F1", "neck"), ("Esc", "stop")]
    with speaking(PSEUDO):
        assert told_by(key_hints(*keys)) == [("F1", "«neck»"), ("«Esc»", "«stop»")]


def told_by(hints):
    return [(" ".join(hint.labels), hint.meaning) for hint in hints]


@pytest.mark.parametrize(
    ("name", "keys"),
    [
        ("F1", [pygame.K_F1]),
        ("P", [pygame.K_p]),
        ("/", [pygame.K_SLASH]),
        ("→", [pygame.K_RIGHT]),
        ("[ ]", [pygame.K_LEFTBRACKET, pygame.K_RIGHTBRACKET]),
        ("- =", [pygame.K_MINUS, pygame.K_EQUALS]),
        ("keys.arrows", [pygame.K_LEFT, pygame.K_RIGHT]),
        ("keys.enter", [pygame.K_RETURN]),
    ],
)
def test_each_box_has_the_press_of_its_own_key(name, keys):
    (hint,) = key_hints((name, "keys.neck"))
    assert [press.event.key for press in hint.presses] == keys
    assert len(hint.labels) == len(keys)


def test_no_keys_are_none():
    assert key_hints() == ()


@pytest.fixture
def foot(monkeypatch):
    """Each row of keys that a screen draws from now on: the keys, and for how many of them there was room."""
    rows = []
    draw = shown_keys.draw_keys

    def drawn(context, surface, keys, **row):
        rows.append((keys, draw(context, surface, keys, **row)))
        return rows[-1][1]

    for name, module in tuple(sys.modules.items()):
        if name.startswith(game.screens.__name__) and getattr(module, "draw_keys", None) is draw:
            monkeypatch.setattr(module, "draw_keys", drawn)
    return rows


def rows_at_the_feet(folder, foot, *, size, plugged, part):
    """The rows of each screen in a window of `size`, with nothing said over them, by the screen's name."""
    folder.mkdir()
    table = Table(folder, size=size)
    if plugged:
        Plugged(table)
    told = {}
    for name, route in some_routes(table, folder, part).items():
        table.context.window.message_until_s = 0.0
        foot.clear()
        table.go(route)
        told[name] = table.screen, list(foot)
    return told


def is_a_page(screen):
    """Whether music is read there. A page tells its own keys first, and of the others as many as have room."""
    return hasattr(screen, "view")


@pytest.mark.parametrize("plugged", [False, True], ids=["by hand", "with a guitar"])
@pytest.mark.parametrize("language", sample(languages(), by_default=1))
def test_every_key_has_room_at_the_foot_of_the_smallest_window(tmp_path, foot, language, plugged):
    """On a page at least its own, and the one that leaves it."""
    with speaking(language):
        (leave,) = {hint.labels for hint in key_hints(("keys.escape", "keys.stop"))}
        feet = rows_at_the_feet(tmp_path / "player", foot, size=SMALLEST, plugged=plugged, part=1)
        for name, (screen, rows) in feet.items():
            assert rows, name
            for keys, told in rows:
                if not any(hint.presses for hint in keys):
                    assert told == len(keys), (name, keys)
                    continue
                assert leave in {hint.labels for hint in keys[:told]} if is_a_page(screen) else told == len(keys), (
                    name,
                    keys[told:],
                )


@pytest.mark.parametrize(
    ("language", "size", "plugged"), sample(product(OTHERS, [SMALLEST, ORDINARY], [False, True]), by_default=1)
)
def test_no_language_tells_fewer_keys_than_english(tmp_path, foot, language, size, plugged):
    told = {}
    for spoken in (SOURCE_LANGUAGE, language):
        with speaking(spoken):
            feet = rows_at_the_feet(tmp_path / spoken, foot, size=size, plugged=plugged, part=2)
        told[spoken] = {name: sum(number for _, number in rows) for name, (_, rows) in feet.items()}
    assert {name: number for name, number in told[language].items() if number < told[SOURCE_LANGUAGE][name]} == {}
