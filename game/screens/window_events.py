"""What happened to the window since the last look: all of it, whatever the name of a file that was dropped on it."""

import os

import pygame

_MOST_AT_ONCE = 1_000


def window_events() -> list[pygame.event.Event]:
    """All events that wait, in their order; of a flood the first thousand.

    They are taken one by one: where the name of a dropped file is not UTF-8, pygame raises and loses whatever it took
    with it. What it could not read is in its error, and the file is found by that.
    """
    found: list[pygame.event.Event] = []
    while len(found) < _MOST_AT_ONCE:
        try:
            event = pygame.event.poll()
        except SystemError as error:
            found += _dropped_by(error)
            continue
        if event.type == pygame.NOEVENT:
            break
        found.append(event)
    return found


def _dropped_by(error: SystemError) -> list[pygame.event.Event]:
    """The drop of a file whose name pygame could not read; nothing where something else was unreadable."""
    unread = error.__cause__
    if not isinstance(unread, UnicodeDecodeError):
        return []
    path = os.fsdecode(unread.object)
    return [pygame.event.Event(pygame.DROPFILE, file=path)] if os.path.lexists(path) else []
