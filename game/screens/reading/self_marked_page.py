"""The `places` stage for an ordinary guitar without a pickup: play it, see it, say whether it was right."""

import pygame

from game.coach.stages import Stage
from game.music.names import name_in, spelling_of
from game.music.written import HeadId
from game.practice.finished_take import clean_heads
from game.practice.free_string import MOST_PLUCKS
from game.practice.pencilled import NameMark, PlacedMark, SaidWrongMark
from game.practice.self_marked_take import SelfMarkedTake
from game.practice.take_request import TakeRequest
from game.practice_log.rows.log_records import Terms
from game.screens.base_screen import BaseScreen
from game.screens.context import ScreenContext
from game.screens.reading.page_keys import PageKeys, foot_keys, key_meant
from game.screens.reading.page_view_for import page_view_for
from game.screens.reading.take_routes import result_route
from game.screens.routes import Back, Route, ToResult
from game.text.catalogue import say


class SelfMarkedPage(BaseScreen):
    """A take the player marks. Space shows the note and then says it was right, Backspace that it was wrong, or that
    the one before was, while the next is not shown. Nothing listens on this page.
    """

    in_take = True
    free_string_commands = True

    def __init__(self, context: ScreenContext, request: TakeRequest) -> None:
        super().__init__(context, request.neck_map)
        self.request = request
        now_s, terms = context.clock.now_s(), Terms(stage=Stage.PLACES, self_marked=True)
        self._recorder = context.session.recorder(request.passage, request.neck_map, terms, zero_s=now_s)
        self.take = SelfMarkedTake(request.passage, request.neck_map, now_s, recorder=self._recorder)
        self.view = self._picture = page_view_for(context, request, neck_shown=False)
        self._keys = PageKeys(context, request, self.view, self.stop)
        own = (("keys.space", "keys.show_right"), ("keys.backspace", "keys.was_wrong"))
        self._keys.tell(*foot_keys(*own, last=(("keys.enter", "keys.show_right"), (".", "keys.one_a_click"))))
        self.view.status = say("marked.begin")
        self._follow(now_s)

    def on_key(self, event: pygame.event.Event) -> Route | None:
        now_s = self.context.clock.now_s()
        if key_meant(event) in (pygame.K_SPACE, pygame.K_RETURN):
            if self.take.revealed:
                return self._mark(now_s, right=True)
            self._reveal(now_s)
            return None
        if event.key == pygame.K_BACKSPACE:
            return self._was_wrong(now_s)
        return self._keys.on_key(event)

    def _was_wrong(self, now_s: float) -> Route | None:
        """The note that is shown was wrong; while none is, the one before it."""
        if self.take.revealed:
            return self._mark(now_s, right=False)
        if self.take.take_back_right(now_s):
            self._pencil(self.take.expected[self.take.at - 1].note.heads[0], right=False)
        return None

    def on_gesture(self, plucks: int, now_s: float) -> Route | None:
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
        name = name_in(spelling_of(asked.note.pitch), self.context.settings.note_names)
        self.view.marks.append(PlacedMark(asked.note.heads[0], NameMark(text=name)))
        if asked.home is not None:
            self.view.sketch = asked.home.place
        self.view.status = say("marked.question")

    def _mark(self, now_s: float, *, right: bool) -> Route | None:
        asked = self.take.asked
        if asked is None or self.take.mark(right=right, now_s=now_s) is None:
            return None
        self._pencil(asked.note.heads[0], right=right)
        self.view.sketch, self.view.status = None, ""
        self._follow(now_s)
        return self.stop() if self.take.asked is None else None

    def _pencil(self, head: HeadId, *, right: bool) -> None:
        """What was said of a note, in the place of all that stood at it."""
        wrong = () if right else (PlacedMark(head, SaidWrongMark()),)
        self.view.marks = [*(mark for mark in self.view.marks if mark.head != head), *wrong]
        self._pencil_right()

    def _pencil_right(self) -> None:
        """What its player says was right stays in pencil: nobody heard it."""
        right = clean_heads(self.take.expected, self.take.said)
        self.view.colours = dict.fromkeys(right, self.context.theme.pencil)

    def resized(self) -> None:
        super().resized()
        self._pencil_right()

    def _follow(self, now_s: float) -> None:
        asked = self.take.asked
        if asked is not None:
            self.view.look_at(asked.note.heads[0], now_s)

    def stop(self) -> ToResult | Back:
        """Leave the take where it is; what was marked is shown."""
        return result_route(self.context, self.request, self.take.end(), self._recorder) or Back()
