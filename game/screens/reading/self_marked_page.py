"""The `places` stage for an ordinary guitar without a pickup: play it, see it, say whether it was right."""

import pygame

from game.coach.stages import Stage
from game.instrument.decoding.played import NoteStarted
from game.music.names import name_in, spelling_of
from game.practice.finished_take import clean_heads
from game.practice.free_string import MOST_PLUCKS
from game.practice.pencilled import NameMark, PlacedMark, SaidWrong
from game.practice.self_marked_take import SelfMarkedTake
from game.practice_log.rows.log_records import Terms
from game.screens.context import ScreenContext
from game.screens.reading.page_screen import PageScreen, foot_keys
from game.screens.routes import Destination, TakeRequest, ToResult, ToShelf
from game.text.catalogue import say


class SelfMarkedPage(PageScreen):
    """A take the player marks. Space shows the note and then says it was right, Backspace that it was wrong."""

    def __init__(self, around: ScreenContext, tune: TakeRequest) -> None:
        super().__init__(around, tune)
        now_s = around.clock.now_s()
        self.take = SelfMarkedTake(tune.passage, tune.neck_map, now_s)
        terms = Terms(stage=Stage.PLACES, self_marked=True)
        self._kept = around.kept_take(tune.passage, tune.neck_map, terms, zero_s=now_s)
        self.view.neck_shown = False
        self.tell_keys(*foot_keys(("keys.space", "keys.show_right"), ("keys.backspace", "keys.was_wrong")))
        self.view.aside = say("marked.begin")
        self._follow(now_s)

    def handle(self, event: pygame.event.Event) -> Destination | None:
        now_s = self.around.clock.now_s()
        if event.type == pygame.KEYDOWN and event.key == pygame.K_SPACE:
            if self.take.revealed:
                return self._mark(now_s, right=True)
            self._reveal(now_s)
            return None
        if event.type == pygame.KEYDOWN and event.key == pygame.K_BACKSPACE:
            return self._mark(now_s, right=False)
        return self.handle_common(event)

    def heard(self, event: NoteStarted) -> Destination | None:  # noqa: ARG002 - nothing listens on this page
        return None

    def commanded(self, plucks: int, now_s: float) -> Destination | None:
        """A pedal pressed once shows the note and then says it was right, twice that it was wrong."""
        if not self.take.revealed:
            if plucks == 1:
                self._reveal(now_s)
                return None
            return self.stop()
        if plucks < MOST_PLUCKS:
            return self._mark(now_s, right=plucks == 1)
        return self.stop()

    def _reveal(self, now_s: float) -> None:
        asked = self.take.asked
        if asked is None:
            return
        self.take.reveal(now_s)
        name = name_in(spelling_of(asked.note.pitch), self.around.settings.note_names)
        self.view.marks.append(PlacedMark(asked.note.heads[0], NameMark(text=name)))
        if asked.home is not None:
            self.view.sketch = asked.home.place
        self.view.aside = say("marked.question")

    def _mark(self, now_s: float, *, right: bool) -> Destination | None:
        asked = self.take.asked
        if asked is None or self.take.mark(right=right, now_s=now_s) is None:
            return None
        self._kept.said(asked.n, said_right=right, at_s=now_s)
        head = asked.note.heads[0]
        self.view.marks = [mark for mark in self.view.marks if mark.head != head]
        if not right:
            self.view.marks.append(PlacedMark(head, SaidWrong()))
        self.view.mark_clean(clean_heads(self.take.expected, self.take.said))
        self.view.sketch, self.view.aside = None, ""
        self._follow(now_s)
        return self.stop() if self.take.asked is None else None

    def _follow(self, now_s: float) -> None:
        asked = self.take.asked
        if asked is not None:
            self.view.look_at(asked.note.heads[0], now_s)

    def stop(self) -> ToResult | ToShelf:
        finished = self.take.finish()
        self._kept.ended(finished)
        if not finished.read:
            return ToShelf()
        return ToResult(self.tune, finished, self.around.coach_heard(finished, self._kept))
