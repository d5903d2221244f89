"""One key, on the page and on its result: the player says that they know this tune by ear, or takes that back.

From then on takes of it count as practice and not as reading; those already in the log stay as they are.
"""

import pygame

from game.practice.take_request import TakeRequest
from game.screens.context import ScreenContext
from game.screens.key_hints import KeyHint, key_hints
from game.text.catalogue import say

KNOWN_BY_EAR_KEY = pygame.K_F9


def known_by_ear_hint(context: ScreenContext, request: TakeRequest) -> tuple[KeyHint, ...]:
    """What the key does now; nothing for a line made just now, or where no log is kept."""
    if request.fresh:
        return ()
    known = context.session.log.facts.knows_by_ear(request.passage)
    return key_hints(("F9", "keys.not_by_ear" if known else "keys.by_ear"))


def toggle_known_by_ear(context: ScreenContext, request: TakeRequest) -> bool:
    """Take the key; whether anything has changed. What it means from now on is said."""
    if request.fresh:
        return False
    known = not context.session.log.facts.knows_by_ear(request.passage)
    context.session.log.facts.set_known_by_ear(request.passage, known=known)
    context.say(say("by_ear.known" if known else "by_ear.not_known"))
    return True
