"""The stages `rhythm` and `time` at the player's own pace: no click, the pulse is inferred when the take is over."""

from collections.abc import Callable
from dataclasses import replace

import pygame

from game.coach.events import Wish
from game.instrument.decoding.played import NoteRevised, PlayedNote
from game.player.settings import InstrumentKind
from game.practice.free_string import MOST_PLUCKS
from game.practice.free_take import FreeTake
from game.practice.pencilled import NameMark, count_marks
from game.screens.context import ScreenContext
from game.screens.reading.page_screen import foot_keys, free_string_keys
from game.screens.reading.time_page import TimePage
from game.screens.routes import Destination, TakeRequest, ToMarking, ToResult, ToShelf
from game.text.catalogue import say, tell_all


class FreePage(TimePage):
    """A take in free time, from its first note."""

    def __init__(self, around: ScreenContext, tune: TakeRequest) -> None:
        super().__init__(around, tune)
        self.take = FreeTake(tune.passage, tune.neck_map, tune.stage)
        self._kept = self.new_kept(zero_s=around.clock.now_s())
        # Since when the instrument is away, and how long it was in all: both are left out of the take.
        self._lost_s: float | None = None
        self._away_s = 0.0
        keys: tuple[tuple[str, str], ...] = ("K", "keys.metronome"), ("O", "keys.still"), ("keys.space", "keys.count")
        if self.at_sight:
            keys = (("keys.space", "keys.turn_up"),)
        free = free_string_keys(around, tune.neck_map, "keys.free_sight" if self.at_sight else "keys.free_free")
        self.tell_keys(*free, *foot_keys(*keys))
        self.view.aside = (
            say("marked.free") if self._unheard else tell_all(tune.reason) or say(f"{tune.stage.value}.begin")
        )
        self._look()

    @property
    def commands(self) -> dict[int, Callable[[float], Destination | None]]:
        if self.at_sight:
            return {pygame.K_SPACE: lambda _: self.turn_up()}
        marking = {pygame.K_RETURN: lambda _: ToMarking(self.tune)} if self._unheard else {}
        return {**super().commands, pygame.K_SPACE: lambda _: self._count(), **marking}

    @property
    def _unheard(self) -> bool:
        """Whether nothing listens to the player, who will mark the take when it is over."""
        return self.around.settings.instrument is InstrumentKind.NO_PICKUP

    def _count(self) -> None:
        """The counts under the notes, on request: 1 & 2 &."""
        shown = [mark for mark in self.view.marks if isinstance(mark.mark, NameMark)]
        self.view.marks = [] if shown else list(count_marks(self.tune.passage.bars))

    def device_lost(self, name: str, *, was_playing: bool) -> None:
        if was_playing and self.take.heard_anything:
            self._lost_s = self.around.clock.now_s()
            self.around.say(say("page.waits", device=name))
        else:
            super().device_lost(name, was_playing=was_playing)

    def device_found(self, name: str) -> None:
        if self._lost_s is not None:
            self.around.say(say("page.back", device=name))
        else:
            super().device_found(name)

    def _without_time_away(self, played: PlayedNote) -> PlayedNote:
        """The note as if the instrument had never been away."""
        if self._lost_s is not None:
            self._away_s += max(0.0, played.started_s - self._lost_s)
            self._lost_s = None
        arrived_s = None if played.arrived_s is None else played.arrived_s - self._away_s
        return replace(played, started_s=played.started_s - self._away_s, arrived_s=arrived_s)

    def play(self, played: PlayedNote) -> None:
        if self.covered:
            self.turn_up()
            return
        played = self._without_time_away(played)
        self.view.aside = ""
        self._kept.played(played)
        self.take.hear(played)
        if played.place is not None:
            self.view.press(played.place, self.around.clock.now_s())
        self._look()

    def revised(self, event: NoteRevised) -> None:
        before, after = self._without_time_away(event.before), event.after and self._without_time_away(event.after)
        self.take.revise(before, after)
        self._kept.revised(before, after)
        self._look()

    def _look(self) -> None:
        if self.take.at < len(self.take.expected):
            head = self.take.expected[self.take.at].note.heads[0]
            self.view.look_at(head, self.around.clock.now_s())

    def passed(self, now_s: float) -> Destination | None:
        if self._lost_s is not None:
            return None
        return self.stop() if self.take.over(now_s - self._away_s) else None

    def commanded(self, plucks: int, now_s: float) -> Destination | None:
        """One pluck of the free string shows the counts, three put the metronome on."""
        if plucks == 1 and self.at_sight:
            self.turn_up()
            return None
        if plucks == 1:
            self._count()
            return None
        if self.at_sight:
            return super().commanded(plucks, now_s)
        return self.wish(Wish.METRONOME_NOW) if plucks == MOST_PLUCKS else super().commanded(plucks, now_s)

    def stop(self) -> ToResult | ToShelf:
        return self.judged(self.take.finish(), self._kept) or ToShelf()
