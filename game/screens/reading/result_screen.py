"""After a take: the page with its pencil marks, what was clean in words, and what comes next and why."""

from collections.abc import Callable, Iterator
from functools import cached_property

import pygame

from game.coach.reasons import without_report
from game.desk.paper import draw_heading, draw_paragraph
from game.desk.theme import Colour
from game.desk.typography import Face, wrapped
from game.instrument.decoding.played import NoteStarted
from game.lines.titles import title_told
from game.music.written import HeadId
from game.practice.finished_take import FinishedTake, owed_soundings
from game.screens.base_screen import BaseScreen
from game.screens.choosing.planned_route import then_in_plan
from game.screens.context import ScreenContext
from game.screens.key_hints import KeyHint, key_hints
from game.screens.reading.known_by_ear_key import KNOWN_BY_EAR_KEY, known_by_ear_hint, toggle_known_by_ear
from game.screens.reading.marked_page import MarkedPage
from game.screens.reading.next_in_words import advised_route, other_bars_route
from game.screens.reading.page_keys import free_string_keys
from game.screens.reading.page_view import passage_in_words, stage_in_words
from game.screens.reading.playback_lines import playback_lines
from game.screens.reading.take_in_words import marks_of_finished, summary_in_words
from game.screens.routes import Route, ToPage, ToResult, ToShelf, ToSibling, ToToday
from game.screens.shown_keys import draw_keys, lay_paper
from game.text.catalogue import say, tell, tell_all

# A guitarist replays the bad spot at once: only a first note after this much silence begins again.
SILENCE_S = 1.0


class ResultScreen(BaseScreen):
    """The page of a take that is over."""

    free_string_commands = True

    def __init__(self, context: ScreenContext, result: ToResult) -> None:
        super().__init__(context, result.request.neck_map)
        self.request, self.finished = result.request, result.finished
        self._marks = marks_of_finished(self.finished, context.settings.note_names)
        self._summary = summary_in_words(self.finished, context.settings.note_names)
        self.decision = result.decision
        # Settled here: what is read is what Enter does, however long it is looked at.
        self._then = then_in_plan(context, self.request, self.decision) if self.request.planned else None
        advice = self.decision.reason if self._then is None else self._then.reason
        self._advice = tell_all(without_report(advice))
        # Which request it is takes a moment in a long one: not in every picture.
        self._by_ear = known_by_ear_hint(context, self.request)
        self._opened_s = self._last_heard_s = context.clock.now_s()
        self._owed = owed_soundings(self.finished)
        self.page = MarkedPage(context, self.finished.passage, self._marks, self._page_area)

    @property
    def _page_area(self) -> pygame.Rect:
        """From the title down to the words, which stand as low as they can."""
        sheet = self.context.sheet
        area = sheet.text_area
        top = area.top + sheet.px(92)
        height = max(sheet.px(150), self._words_top - sheet.px(10) - top)
        return pygame.Rect(area.left, top, area.width, height)

    @property
    def _words_top(self) -> int:
        sheet = self.context.sheet
        paragraphs = [(text, face, px) for text, face, px, _ in self._words()]
        lines = [(len(wrapped(text, face, px, sheet.text_area.width)), px) for text, face, px in paragraphs]
        height = sum(count * round(px * 1.25) + sheet.px(3) for count, px in lines)
        return sheet.paper.bottom - sheet.px(150 if self._string_keys() else 112) - height

    @cached_property
    def _clean_heads(self) -> frozenset[HeadId]:
        return self.finished.clean_heads

    def resized(self) -> None:
        self.page.fit(self._page_area)

    def on_key(self, event: pygame.event.Event) -> Route | None:
        return self._command(event.key)

    def on_wheel(self, up: int) -> Route | None:
        self.page.turn(-up)
        return None

    def _command(self, key: int) -> Route | None:
        leads_to: dict[int, Callable[[], Route]] = {
            pygame.K_ESCAPE: lambda: ToToday() if self.request.planned else ToShelf(),
            pygame.K_RETURN: self._as_advised,
            pygame.K_RIGHT: self._on,
            pygame.K_SPACE: self._on,
            pygame.K_LEFT: lambda: ToPage(self.request.moved(-1)),
            pygame.K_TAB: lambda: ToPage(self.request.next_stage(), chosen=True),
            pygame.K_b: lambda: ToSibling(self.request),
        }
        if key in leads_to:
            return leads_to[key]()
        if key in (pygame.K_w, pygame.K_p):
            self._play_back(written=key == pygame.K_w)
        if key == KNOWN_BY_EAR_KEY and toggle_known_by_ear(self.context, self.request):
            self._by_ear = known_by_ear_hint(self.context, self.request)
        if key in (pygame.K_UP, pygame.K_DOWN):
            self.page.turn(1 if key == pygame.K_DOWN else -1)
        return None

    def _as_advised(self) -> Route:
        """What the coach says comes next."""
        return advised_route(self.request, self.decision, self._then)

    def _play_back(self, *, written: bool) -> None:
        """Let the player hear the take just made (P), or the line as it is written beside it (W, both)."""
        sound, finished = self.context.devices.sound, self.finished
        if not isinstance(finished, FinishedTake) or not finished.played:
            return
        lines = playback_lines(finished, written=written)
        if written:
            self.context.session.log.facts.mark_heard(finished.passage)
        sound.play(lines, self.context.clock)
        self.context.say_sound()

    def on_tick(self, now_s: float) -> Route | None:
        self.context.devices.sound.tick(now_s)
        return None

    def on_gesture(self, plucks: int, now_s: float) -> Route | None:  # noqa: ARG002 - part of the interface
        """The free string plucked once goes on to other bars, more often back to the shelf."""
        return self._on() if plucks == 1 else ToShelf()

    def _on(self) -> Route:
        return other_bars_route(self.request, self.decision, self._then)

    def on_note(self, event: NoteStarted) -> Route | None:
        """After a second of silence the first note at its home goes on as advised; noodling does nothing."""
        silent_s = event.note.started_s - self._last_heard_s
        self._last_heard_s = max(self._last_heard_s, event.note.started_s)
        first = self.finished.passage.notes[0]
        if event.note.started_s < self._opened_s or self._is_owed(event.note.sounding):
            return None
        home = self.request.neck_map.home_of(first.sounding)
        at_home = event.note.place is None or home is None or event.note.place == home.place
        begins = silent_s >= SILENCE_S and event.note.sounding == first.sounding and at_home
        return self._as_advised() if begins else None

    def _is_owed(self, sounding: int) -> bool:
        """Whether the take still waited for a note when it ended: such a note, come late, begins nothing."""
        if sounding not in self._owed:
            return False
        self._owed = self._owed[self._owed.index(sounding) + 1 :]
        return True

    def draw(self, surface: pygame.Surface) -> bool:
        lay_paper(self.context, surface)
        passage = self.finished.passage
        where = passage_in_words(passage, self.request.neck_map)
        beside = stage_in_words(self.request)
        title = tell(title_told(passage.score.title))
        draw_heading(surface, self.context.sheet, self.context.theme, title, below=where, beside=beside)
        self.page.draw(surface, dict.fromkeys(self._clean_heads, self.context.theme.read))
        self._draw_words(surface)
        return True

    def _words(self) -> Iterator[tuple[str, Face, int, Colour]]:
        """Paragraphs: what was right, how it went, what comes next."""
        sheet, theme = self.context.sheet, self.context.theme
        first, *rest = self._summary
        yield first, Face.TEXT, sheet.px(30), theme.ink
        if rest:
            yield " ".join(rest), Face.ITALIC, sheet.small_px, theme.faded
        if self._advice:
            yield self._advice, Face.TEXT, sheet.text_px, theme.ink

    def _draw_words(self, surface: pygame.Surface) -> None:
        sheet = self.context.sheet
        room = pygame.Rect(sheet.text_area.left, self._words_top, sheet.text_area.width, 0)
        for text, face, px, colour in self._words():
            used = draw_paragraph(surface, text, room, face, px, colour)
            room = room.move(0, used.height + sheet.px(3))
        draw_keys(self.context, surface, self._keys())
        draw_keys(self.context, surface, self._more_keys(), row=1)
        if strings := self._string_keys():
            draw_keys(self.context, surface, strings, row=2)

    def _keys(self) -> tuple[KeyHint, ...]:
        """The keys that lead on, at the foot."""
        return key_hints(
            ("keys.enter", "keys.advised"),
            ("→", "keys.next"),
            ("B", "keys.sibling"),
            ("keys.tab", "keys.stage"),
            ("keys.escape", "keys.shelf"),
        )

    def _more_keys(self) -> tuple[KeyHint, ...]:
        """The row above: what is asked for now and then."""
        heard = isinstance(self.finished, FinishedTake)
        keys = key_hints(("P", "keys.hear"), ("W", "keys.hear_written")) if heard else ()
        more = key_hints(("keys.updown", "keys.more_lines")) if self.page.more else ()
        return (*more, *keys, *self._by_ear)

    def _string_keys(self) -> tuple[KeyHint, ...]:
        """What a guitar in hand does, in a row of its own; nothing without one."""
        free = free_string_keys(self.context, self.request.neck_map, "keys.free_result")
        return (KeyHint((say("result.first_note"),), say("keys.advised")), *free) if free else ()
