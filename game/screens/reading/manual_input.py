"""Notes played without an instrument: by a click on the neck, or by a key of the left half of the keyboard."""

from typing import Protocol

import pygame

from game.desk.neck_drawing import NeckDrawing
from game.instrument.decoding.played import PlayedNote
from game.instrument.sources.computer_keys import ComputerKey, played_by
from game.instrument.sources.note_sources import SCREEN_NECK_SOURCE
from game.neck.neck_map import NeckMap
from game.screens.context import ScreenContext
from game.text.catalogue import say


class PlayedNeck(Protocol):
    """A page with a neck to be played, when it is shown."""

    @property
    def neck_map(self) -> NeckMap:
        """The map that holds."""
        ...

    @property
    def neck(self) -> NeckDrawing | None:
        """Where it is drawn, None where it is not."""
        ...


class ManualInput:
    """The hands on one page. What they play is heard, for no instrument sounds it."""

    def __init__(self, context: ScreenContext, view: PlayedNeck) -> None:
        self._context, self._view = context, view
        self._tell_how()

    def _tell_how(self) -> None:
        """Once, where no instrument is there and nothing more urgent is being said."""
        context, session = self._context, self._context.session
        silent = session.explained_manual_input or context.devices.instruments.present or context.message_shown
        if context.listens and not silent:
            session.explained_manual_input = True
            context.say(say("page.by_hand"))

    def note_of_key(self, event: pygame.event.Event) -> PlayedNote | None:
        """The note of a key, None for a key that is none."""
        neck_map = self._view.neck_map
        return self._sounded(
            played_by(
                ComputerKey(event.scancode, shift=bool(event.mod & pygame.KMOD_SHIFT)),
                at_s=self._context.clock.now_s(),
                position=neck_map.position,
                tuning=neck_map.tuning,
                frets=neck_map.frets,
            )
        )

    def note_of_click(self, at: tuple[int, int]) -> PlayedNote | None:
        """The note of a click, None for one that is not on the neck."""
        neck = self._view.neck
        place = neck.place_at(at) if neck else None
        if place is None:
            return None
        sounding = self._view.neck_map.tuning.sounding(place)
        now_s = self._context.clock.now_s()
        return self._sounded(PlayedNote(started_s=now_s, sounding=sounding, place=place, source=SCREEN_NECK_SOURCE))

    def _sounded(self, played: PlayedNote | None) -> PlayedNote | None:
        if played is not None and not self._context.hears_itself:
            self._context.devices.sound.pluck(played.sounding)
        return played
