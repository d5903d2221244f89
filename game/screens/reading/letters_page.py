"""The page in the `letters` stage: a line of music whose names are pencilled under the heads as they are given."""

import pygame

from game.coach.stages import Stage
from game.instrument.decoding.played import NoteStarted
from game.judging.letters import NamedNote
from game.judging.verdicts import Verdict
from game.music.names import Spelling, keys_of, name_in, spelling_of, step_for_key
from game.neck.neck_map import NeckMap
from game.practice.free_string import ALONE_S, STOP_PLUCKS
from game.practice.letters_take import LettersTake
from game.practice.pencilled import NameMark, PlacedMark, name_marks
from game.practice.take_request import TakeRequest
from game.practice_log.rows.log_records import Terms
from game.screens.base_screen import BaseScreen
from game.screens.context import ScreenContext
from game.screens.free_string_words import free_string_in_words
from game.screens.key_hints import KeyHint
from game.screens.reading.page_keys import PageKeys, foot_keys
from game.screens.reading.page_view_for import page_view_for
from game.screens.reading.take_in_words import cause_in_words
from game.screens.reading.take_routes import result_route
from game.screens.routes import Back, Route, ToResult
from game.text.catalogue import say

_ONE_A_CLICK = (".", "keys.one_a_click")
_SIGN_KEYS = {pygame.K_UP: 1, pygame.K_DOWN: -1}
_SIGNS = {-2: "♭♭", -1: "♭", 1: "♯", 2: "♯♯"}


class LettersPage(BaseScreen):
    """A line of music being named. The free string is no gesture here: it says that a name was wrong."""

    in_take = True

    def __init__(self, context: ScreenContext, request: TakeRequest) -> None:
        super().__init__(context, request.neck_map)
        self.request = request
        now_s, terms = context.clock.now_s(), Terms(stage=Stage.LETTERS)
        self._recorder = context.session.recorder(request.passage, request.neck_map, terms, zero_s=now_s)
        self.take = LettersTake(request.passage, request.neck_map, now_s=now_s, recorder=self._recorder)
        self._sign = 0
        self._heard_s = float("-inf")
        self.view = self._picture = page_view_for(context, request, neck_shown=False)
        self._keys = PageKeys(context, request, self.view, self.stop)
        self._keys.tell(*self._keys_told())
        self.view.status = self._instructions()
        self._follow(now_s)

    def _keys_told(self) -> tuple[KeyHint, ...]:
        """One whom nothing listens to says by keys what others say by notes."""
        signs = ("keys.updown", "keys.signs")
        if self.context.listens:
            return foot_keys(signs, ("F5", "keys.help"), last=(("keys.backspace", "keys.again"), _ONE_A_CLICK))
        own_word = (("keys.space", "keys.show_right"), ("keys.backspace", "keys.was_wrong"))
        return foot_keys(*own_word, signs, last=(("F5", "keys.help"), _ONE_A_CLICK))

    def _instructions(self) -> str:
        if not self.context.listens:
            return say("letters.unheard", keys=self._keys_in_words())
        if self.context.devices.instruments.present:
            return say("letters.guitar", free=free_note_in_words(self.context, self.request.neck_map))
        return say("letters.begin", keys=self._keys_in_words())

    def _keys_in_words(self) -> str:
        pairs = keys_of(self.context.settings.note_names)
        return "  ".join(key if key.upper() == name else f"{key} {name}" for key, name in pairs)

    def on_key(self, event: pygame.event.Event) -> Route | None:
        if event.key in _SIGN_KEYS:
            self._sign = max(-2, min(2, self._sign + _SIGN_KEYS[event.key]))
            self._show_names()
            return None
        if event.key == pygame.K_F5:
            self._reveal()
            return None
        if event.key == (pygame.K_DELETE if self.context.listens else pygame.K_BACKSPACE):
            self._confirm(said_right=False)
            return self._leave_if_done()
        if event.key == pygame.K_SPACE and not self.context.listens:
            return self._reveal_or_right()
        spelling = step_for_key(event.unicode, self.context.settings.note_names) if event.unicode else None
        if spelling is not None:
            self._name(spelling)
            return self._leave_if_done()
        return self._keys.on_key(event)

    def on_note(self, event: NoteStarted) -> Route | None:
        """On the guitar: say it, one note reveals, another confirms."""
        if event.note.heard and event.note.started_s - self._heard_s < ALONE_S:
            # What rings on, or along, says nothing.
            return None
        self._heard_s = event.note.started_s
        self.take.hear(event.note)
        free = self.request.neck_map.free_string
        denied = free is not None and event.note.sounding == self.request.neck_map.tuning.sounding(free)
        return self._reveal_or_right(said_right=not denied)

    def _reveal_or_right(self, *, said_right: bool = True) -> Route | None:
        """The name is shown; once it is, the player's word on it."""
        if self.take.revealed:
            self._confirm(said_right=said_right)
        else:
            self._reveal()
        return self._leave_if_done()

    def _name(self, spelling: Spelling) -> None:
        """A name given by keys; the sign chosen before goes with it, German b is a flat already."""
        alter = spelling.alter + self._sign
        self._sign = 0
        if not -2 <= alter <= 2:
            return
        given = Spelling(spelling.step, alter)
        self._after(self.take.name(given, self.context.clock.now_s()), given)

    def _after(self, result: NamedNote | None, given: Spelling | None = None) -> None:
        self.view.status = ""
        if result is not None and result.verdict is Verdict.WRONG_PITCH and given and not self._just_right(given):
            cause = cause_in_words(result.cause)
            name = name_in(given, self.context.settings.note_names)
            self.view.status = say("letters.wrong", name=name, cause=cause)
        self._show_names()
        self._follow(self.context.clock.now_s())

    def _just_right(self, given: Spelling) -> bool:
        last = self.take.last_named
        return last is not None and bool(last.given) and last.given[-1] == given and not self.take.given

    def _reveal(self) -> None:
        asked = self.take.asked
        if asked is None:
            return
        self.take.reveal()
        name = name_in(spelling_of(asked.pitch), self.context.settings.note_names)
        if self.context.listens:
            self.view.status = say(
                "letters.revealed", name=name, free=free_note_in_words(self.context, self.request.neck_map)
            )
        else:
            self.view.status = say("letters.unheard_revealed", name=name)
        self._show_names()

    def _confirm(self, *, said_right: bool) -> None:
        if self.take.revealed:
            self._after(self.take.confirm(said_right=said_right, now_s=self.context.clock.now_s()))

    def _show_names(self) -> None:
        """All names on the page: those given, the one revealed, and the sign that waits for its letter."""
        names = self.context.settings.note_names
        marks = list(name_marks(self.request.passage.notes, self.take.named, names))
        asked = self.take.asked
        if asked is not None:
            head = asked.heads[0]
            if self.take.revealed:
                marks.append(PlacedMark(head, NameMark(text=name_in(spelling_of(asked.pitch), names))))
            elif self._sign:
                marks.append(PlacedMark(head, NameMark(text=f"{_SIGNS[self._sign]} …")))
            for row, wrong in enumerate(self.take.given[:2], start=1):
                marks.append(PlacedMark(head, NameMark(text=name_in(wrong, names), struck=True, row=row)))
        self.view.marks = marks
        self.view.mark_clean(self.take.so_far().clean_heads)

    def _follow(self, now_s: float) -> None:
        asked = self.take.asked
        if asked is not None:
            self.view.look_at(asked.heads[0], now_s)

    def _leave_if_done(self) -> Route | None:
        return self.stop() if self.take.asked is None else None

    def on_gesture(self, plucks: int, now_s: float) -> Route | None:  # noqa: ARG002 - part of the interface
        return self.stop() if plucks == STOP_PLUCKS else None

    def stop(self) -> ToResult | Back:
        """Leave the line where it is; what was named is shown."""
        return result_route(self.context, self.request, self.take.end(), self._recorder) or Back()


def free_note_in_words(context: ScreenContext, neck_map: NeckMap) -> str:
    """How to say no without touching the keyboard: an open string outside the map, or a key where none is free."""
    free = neck_map.free_string
    if free is None:
        return say("free.key")
    return free_string_in_words(context, neck_map, free)
