"""What happened to the window, with files dropped on it whose names pygame cannot read."""

import os
from pathlib import Path

import pygame
import pytest

from game.screens.window_events import window_events
from tests.screens.dropped_by_sdl import drop


@pytest.fixture(autouse=True)
def window():
    pygame.display.init()
    pygame.display.set_mode((100, 100))
    pygame.event.clear()


def dropped(events):
    return [event.file for event in events if event.type == pygame.DROPFILE]


def test_nothing_happened_is_nothing():
    assert dropped(window_events()) == []


def test_files_dropped_at_once_all_come_whatever_bytes_their_names_are_of(tmp_path):
    """One that is not UTF-8 takes neither the others with it nor the keys before it."""
    names = [b"a.abc", b"caf\xe9.abc", "caf\u00e9.abc".encode(), b"\xff\xfe.mid", b"two\nlines.abc", b"z.abc"]
    paths = [os.fsencode(tmp_path) + b"/" + name for name in names]
    for path in paths:
        Path(os.fsdecode(path)).write_bytes(b"")
    pygame.event.post(pygame.event.Event(pygame.KEYDOWN, key=pygame.K_a, unicode="a", mod=0, scancode=4))
    for path in paths:
        drop(path)
    events = window_events()
    assert [os.fsencode(path) for path in dropped(events)] == paths
    assert [event.key for event in events if event.type == pygame.KEYDOWN] == [pygame.K_a]


def test_what_is_no_file_and_no_text_either_is_passed_over(tmp_path):
    drop(os.fsencode(tmp_path) + b"/not there \xe9")
    drop(os.fsencode(tmp_path))
    assert dropped(window_events()) == [str(tmp_path)]


def test_a_flood_is_taken_in_portions():
    for _ in range(1_200):
        pygame.event.post(pygame.event.Event(pygame.USEREVENT))
    came = [len(window_events()), len(window_events())]
    assert came[0] == 1_000
    assert sum(came) >= 1_200
