"""A slip of paper over the bar being played, offered on a result once the reading is steady: once, and refused by going
on. Who takes it can throw it away again on the same result; later the settings have it.
"""

import msgspec
import pygame

from game.coach.stages import Pulse, Stage
from game.practice.take_request import TakeRequest
from game.screens.context import ScreenContext
from game.screens.key_hints import KeyHint, key_hints
from game.screens.reading.bass_and_chords_for import steadiness_in
from game.text.catalogue import say

SLIP_ON_KEY, SLIP_OFF_KEY = pygame.K_INSERT, pygame.K_DELETE


def is_due(context: ScreenContext, request: TakeRequest) -> bool:
    """Whether the take just over calls for it: by three steady ones in a row with the click, none of which the player
    marked, and where it was never offered before nor is in use.
    """
    in_time = request.stage is Stage.TIME and request.pulse is Pulse.METRONOME and not request.one_a_click
    if not in_time or request.fresh or request.evening or context.settings.slip:
        return False
    return steadiness_in(context, request) >= 1 and not context.session.log.facts.desk.slip_offered


class SlipOffer:
    """The offer on one result, said as it is opened; then it counts as made."""

    def __init__(self, context: ScreenContext) -> None:
        self._context = context
        self._stood_still = context.settings.still
        context.session.log.facts.offer_slip()
        context.say(say("slip.offered"))

    @property
    def hints(self) -> tuple[KeyHint, ...]:
        """The key that lays it on the page, or the one that throws it away again."""
        return key_hints(("keys.delete", "keys.slip_off") if self._taken else ("keys.insert", "keys.slip_on"))

    @property
    def _taken(self) -> bool:
        return self._context.settings.slip

    def on_key(self, key: int) -> None:
        """Take the one of the two keys that is told; others do nothing."""
        if key != (SLIP_OFF_KEY if self._taken else SLIP_ON_KEY):
            return
        laid = not self._taken
        # It lies on a page that stands still, and on no other.
        still = laid or self._stood_still
        context = self._context
        context.change_settings(msgspec.structs.replace(context.settings, slip=laid, still=still))
        context.say(say("slip.taken" if laid else "slip.thrown_away"))
