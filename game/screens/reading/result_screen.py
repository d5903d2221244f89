"""After a take: the page with its pencil marks, what was clean in words, and what comes next and why."""

from collections.abc import Callable
from functools import cached_property

import pygame

from game.coach.decisions import Offer
from game.coach.reasons import without_report
from game.desk.mark_drawing import NoteBox, draw_marks
from game.desk.paper import draw_heading, draw_key_hints, draw_paper, draw_paragraph
from game.desk.staff_text import measured_on_staff, rendered_on_staff
from game.desk.typography import Face
from game.engraving.layout import lay_out_page
from game.engraving.still_page import StillPage
from game.instrument.decoding.played import NoteStarted
from game.lines.titles import title_told
from game.music.pitch import pitch
from game.music.written import HeadId
from game.practice.finished_take import FinishedTake, owed_soundings
from game.screens.base_screen import BaseScreen
from game.screens.choosing.planned_route import then_in_plan
from game.screens.context import ScreenContext
from game.screens.key_hints import KeyHint, key_hints
from game.screens.reading.known_by_ear_key import KNOWN_BY_EAR_KEY, known_by_ear_hint, toggle_known_by_ear
from game.screens.reading.look_keys import change_look
from game.screens.reading.music_view import ENGRAVED_FACES
from game.screens.reading.page_keys import free_string_keys
from game.screens.reading.page_view import passage_in_words, stage_in_words
from game.screens.reading.playback_lines import playback_lines
from game.screens.reading.take_in_words import marks_of_finished, summary_in_words
from game.screens.routes import Route, ToFreshLine, ToPage, ToPlanned, ToResult, ToShelf, ToSibling, ToToday
from game.text.catalogue import say, tell, tell_all

_LOWEST_LINE = pitch("E4").staff_step
# A guitarist replays the bad spot at once: only a first note after this much silence begins again.
SILENCE_S = 1.0
_SCROLL_SHARE = 0.4
# A passage is set smaller, down to this share, to be seen as a whole; a longer one is scrolled.
_SMALLEST_SHARE = 0.6


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
        self._scroll_px = 0
        self._lay_out()

    def _lay_out(self) -> None:
        sheet, settings, theme = self.context.sheet, self.context.settings, self.context.theme
        passage, area = self.finished.passage, self._page_area
        face = ENGRAVED_FACES[settings.music_face]
        wanted = sheet.staff_space(settings.staff_space_px)
        for space_px in range(wanted, round(wanted * _SMALLEST_SHARE), -1):
            width = area.width / space_px
            engraving = lay_out_page(
                passage.bars, passage.reading, width, face, final_barline=passage.ends_tune, measure=measured_on_staff
            )
            self._page = StillPage(engraving, space_px, theme.paper, theme.ink, rendered_on_staff)
            if self._page.size[1] + 2 * space_px <= area.height:
                break
        self._scroll_px = min(self._scroll_px, self._most_scroll)

    @property
    def _page_area(self) -> pygame.Rect:
        sheet = self.context.sheet
        area = sheet.text_area
        top = area.top + sheet.px(92)
        return pygame.Rect(area.left, top, area.width, sheet.paper.bottom - sheet.px(254) - top)

    @property
    def _most_scroll(self) -> int:
        return max(0, self._page.size[1] + 4 * self._page.space_px - self._page_area.height)

    @cached_property
    def _clean_heads(self) -> frozenset[HeadId]:
        return self.finished.clean_heads

    def resized(self) -> None:
        self._lay_out()

    def on_key(self, event: pygame.event.Event) -> Route | None:
        if change_look(event, self.context):
            self._lay_out()
            return None
        return self._command(event.key)

    def on_wheel(self, up: int) -> Route | None:
        self._scroll(-up)
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
            self._scroll(1 if key == pygame.K_DOWN else -1)
        return None

    def _as_advised(self) -> Route:
        """What the coach says comes next."""
        decision = self.decision
        if self.request.planned:
            return ToPlanned(self.request, decision, self._then)
        if self.request.stage.named:
            return ToPage(self.request, chosen=True)
        if decision.offer is Offer.AGAIN:
            return ToPage(self.request.as_decided(decision), chosen=True)
        if decision.offer is Offer.SIBLING and not self.request.stage.once_through:
            return ToSibling(self.request)
        return self._on()

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
        if self.request.planned:
            return ToPlanned(self.request, self.decision, self._then)
        if self.request.fresh and self.request.is_last:
            return ToFreshLine()
        return ToShelf() if self.request.is_last else ToPage(self.request.moved(1))

    def _scroll(self, by: int) -> None:
        step = round(self._page_area.height * _SCROLL_SHARE)
        self._scroll_px = max(0, min(self._most_scroll, self._scroll_px + by * step))

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
        draw_paper(surface, self.context.sheet, self.context.theme)
        passage = self.finished.passage
        where = passage_in_words(passage, self.request.neck_map)
        beside = stage_in_words(self.request)
        title = tell(title_told(passage.score.title))
        draw_heading(surface, self.context.sheet, self.context.theme, title, below=where, beside=beside)
        self._draw_page(surface)
        self._draw_words(surface)
        return True

    def _draw_page(self, surface: pygame.Surface) -> None:
        area, theme = self._page_area, self.context.theme
        colours = dict.fromkeys(self._clean_heads, theme.read)
        self._page.draw(surface, area, colours, self._scroll_px)
        clip = surface.get_clip()
        surface.set_clip(area.inflate(0, self._page.space_px * 2))
        draw_marks(surface, self._marks, self._note_box, theme)
        surface.set_clip(clip)

    def _note_box(self, head: HeadId) -> NoteBox | None:
        page, area = self._page, self._page_area
        dx, dy = area.left, area.top - self._scroll_px
        line = page.line_of(head)
        return NoteBox(
            head=page.rect_of(head).move(dx, dy),
            group=page.group_rect_of(head).move(dx, dy),
            bottom_line_y=page.step_y(line, _LOWEST_LINE) + dy,
            space_px=page.space_px,
            step_y=lambda step: page.step_y(line, step) + dy,
        )

    def _draw_words(self, surface: pygame.Surface) -> None:
        sheet, theme = self.context.sheet, self.context.theme
        area = sheet.text_area
        room = pygame.Rect(area.left, sheet.paper.bottom - sheet.px(236), area.width, sheet.px(168))
        first, *rest = self._summary
        used = draw_paragraph(surface, first, room, Face.TEXT, sheet.px(30), theme.ink)
        room = pygame.Rect(room.left, used.bottom + sheet.px(2), room.width, room.bottom - used.bottom)
        if rest:
            used = draw_paragraph(surface, " ".join(rest), room, Face.ITALIC, sheet.small_px, theme.faded)
            room = pygame.Rect(room.left, used.bottom + sheet.px(4), room.width, room.bottom - used.bottom)
        draw_paragraph(surface, self._advice, room, Face.TEXT, sheet.text_px, theme.ink)
        draw_key_hints(surface, self._keys(), sheet, theme)
        if not self.context.message_shown:
            draw_key_hints(surface, self._more_keys(), sheet, theme, row=1)

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
        """The row above: what a guitar in hand does, and what is asked for now and then."""
        keys: list[KeyHint] = []
        free = free_string_keys(self.context, self.request.neck_map, "keys.free_result")
        if free:
            keys += [(say("result.first_note"), say("keys.advised")), *free]
        if isinstance(self.finished, FinishedTake):
            keys += key_hints(("P", "keys.hear"), ("W", "keys.hear_written"))
        return (*keys, *self._by_ear)
