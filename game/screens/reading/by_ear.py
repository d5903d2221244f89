"""One key, on the page and on its result: the player says that they know this tune by ear, or takes that back.

From then on takes of it count as practice and not as reading; those already in the log stay as they are.
"""

import pygame

from game.screens.context import ScreenContext
from game.screens.routes import TakeRequest
from game.text.catalogue import say

BY_EAR_KEY = pygame.K_F9


def by_ear_keys(around: ScreenContext, tune: TakeRequest) -> tuple[tuple[str, str], ...]:
    """What the key does now; nothing for a line made just now, or where no log is kept."""
    if tune.fresh or around.keeping is None:
        return ()
    known = around.keeping.knows_by_ear(tune.passage)
    return (("F9", say("keys.not_by_ear" if known else "keys.by_ear")),)


def change_by_ear(around: ScreenContext, tune: TakeRequest) -> bool:
    """Take the key; whether anything has changed. What it means from now on is said."""
    if tune.fresh or around.keeping is None:
        return False
    known = not around.keeping.knows_by_ear(tune.passage)
    around.keeping.now_by_ear(tune.passage, known=known)
    around.say(say("by_ear.known" if known else "by_ear.not_known"))
    return True
