"""After a take in rhythm that nothing listened to: the player marks the notes that were wrong.

The written line can be heard for comparison. What is not marked counts as right.
"""

import pygame

from game.desk import pencil
from game.desk.paper import draw_heading, draw_paragraph
from game.desk.typography import Face
from game.lines.titles import title_told
from game.practice.pencilled import PlacedMark, SaidWrongMark
from game.practice.self_marked_take import RhythmTerms, marked_afterwards
from game.practice.take_request import TakeRequest
from game.screens.base_screen import BaseScreen
from game.screens.context import ScreenContext
from game.screens.key_hints import key_hints
from game.screens.reading.bass_and_chords_for import hear_passage
from game.screens.reading.page_view import stage_in_words
from game.screens.reading.still_music import StillMusic
from game.screens.reading.timed_terms import timed_terms
from game.screens.routes import Route, ToPage, ToResult, ToShelf
from game.screens.shown_keys import draw_keys, lay_paper
from game.text.catalogue import say, tell


class MarkingScreen(BaseScreen):
    """The page of the take just played, with a pencil in the player's hand."""

    def __init__(self, context: ScreenContext, request: TakeRequest) -> None:
        super().__init__(context)
        self.request = request
        self._notes = request.passage.notes
        self._at = 0
        self._right = {note.n: True for note in self._notes}
        self._music = StillMusic(context, request.passage, self._area)
        self._look()

    @property
    def _area(self) -> pygame.Rect:
        sheet = self.context.sheet
        top = sheet.text_area.top + sheet.px(84)
        return pygame.Rect(sheet.text_area.left, top, sheet.text_area.width, sheet.paper.bottom - sheet.px(170) - top)

    def resized(self) -> None:
        self._music.fit(self._area)

    def on_key(self, event: pygame.event.Event) -> Route | None:
        if event.key in (pygame.K_LEFT, pygame.K_RIGHT):
            step = 1 if event.key == pygame.K_RIGHT else -1
            self._at = max(0, min(len(self._notes) - 1, self._at + step))
            self._look()
        elif event.key == pygame.K_SPACE:
            self._toggle(self._at)
        elif event.key == pygame.K_w:
            self._hear_written()
        elif event.key == pygame.K_BACKSPACE:
            return ToPage(self.request, chosen=True)
        elif event.key == pygame.K_ESCAPE:
            return ToShelf()
        elif event.key == pygame.K_RETURN:
            return self._done()
        return None

    def _look(self) -> None:
        self._music.look_at(self._notes[self._at].heads[0], self.context.clock.now_s())

    def _toggle(self, index: int) -> None:
        n = self._notes[index].n
        self._right[n] = not self._right[n]

    def on_click(self, at: tuple[int, int]) -> Route | None:
        """A click on a note marks it."""
        for index, note in enumerate(self._notes):
            box = self._music.note_box(note.heads[0])
            if box is not None and box.group.inflate(box.space_px, box.space_px).collidepoint(at):
                self._at = index
                self._toggle(index)
                return None
        return None

    def _hear_written(self) -> None:
        hear_passage(self.context, self.request.passage, tempo_bpm=self.request.tempo_bpm)

    def on_tick(self, now_s: float) -> Route | None:
        self.context.devices.sound.tick(now_s)
        return None

    def _done(self) -> Route:
        request, now_s = self.request, self.context.clock.now_s()
        terms = timed_terms(request, self_marked=True)
        recorder = self.context.session.recorder(request.passage, request.neck_map, terms, zero_s=now_s)
        played_by = RhythmTerms(stage=request.stage, tempo_bpm=request.tempo_bpm)
        finished = marked_afterwards(
            request.passage, request.neck_map, played_by, self._right, now_s=now_s, recorder=recorder
        )
        return ToResult(request, finished, self.context.session.finish_take(finished, recorder))

    def draw(self, surface: pygame.Surface) -> bool:
        sheet, theme = self.context.sheet, self.context.theme
        lay_paper(self.context, surface)
        area = sheet.text_area
        title = tell(title_told(self.request.passage.score.title))
        draw_heading(surface, sheet, theme, title, below=stage_in_words(self.request))
        self._music.draw(surface, {}, self.context.clock.now_s())
        wrong = [PlacedMark(note.heads[0], SaidWrongMark()) for note in self._notes if not self._right[note.n]]
        self._music.draw_marks(surface, wrong)
        self._draw_pencil(surface)
        room = pygame.Rect(area.left, sheet.paper.bottom - sheet.px(130), area.width, sheet.px(60))
        draw_paragraph(surface, say("marked.afterwards"), room, Face.TEXT, sheet.text_px, theme.ink)
        keys = (
            ("keys.arrows", "keys.choose"),
            ("keys.space", "keys.was_wrong"),
            ("W", "keys.hear_line"),
            ("keys.enter", "keys.done"),
            ("keys.backspace", "keys.again"),
            ("keys.escape", "keys.shelf"),
        )
        draw_keys(self.context, surface, key_hints(*keys))
        return True

    def _draw_pencil(self, surface: pygame.Surface) -> None:
        """A stroke under the note the keys are at, below the cross it may have."""
        room = self._music.first_row_of(self._notes[self._at].heads[0])
        if room is not None:
            stroke = pencil.line(room.width, max(2.0, room.width * 0.08), self.context.theme.pencil, seed=4)
            surface.blit(stroke, stroke.get_rect(center=room.midbottom))
