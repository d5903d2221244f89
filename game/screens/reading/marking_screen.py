"""After a take in rhythm that nothing listened to: the player marks the notes that were wrong.

The written line can be heard for comparison. What is not marked counts as right.
"""

import pygame

from game.desk import pencil
from game.desk.mark_drawing import draw_marks
from game.desk.paper import lay_paper, set_block, set_heading, set_keys
from game.desk.type import Face
from game.judging.swing import STRAIGHT
from game.practice.pencilled import PlacedMark, SaidWrong
from game.practice.self_marked_take import marked_afterwards
from game.practice_log.rows.log_records import Terms
from game.screens.base_screen import BaseScreen
from game.screens.context import ScreenContext
from game.screens.reading.music_on_page import StillMusic
from game.screens.reading.page_view import stage_in_words
from game.screens.reading.played_back import USUAL_BPM, written_line
from game.screens.routes import Destination, TakeRequest, ToPage, ToResult, ToShelf
from game.text.catalogue import say


class MarkingScreen(BaseScreen):
    """The page of the take just played, with a pencil in the player's hand."""

    def __init__(self, around: ScreenContext, tune: TakeRequest) -> None:
        super().__init__(around)
        self.tune = tune
        self._notes = tune.passage.notes
        self._at = 0
        self._right = {note.n: True for note in self._notes}
        self._music = StillMusic(around, tune.passage, self._area)
        self._look()

    @property
    def _area(self) -> pygame.Rect:
        sheet = self.around.sheet
        top = sheet.text_area.top + sheet.px(70)
        return pygame.Rect(sheet.text_area.left, top, sheet.text_area.width, sheet.paper.bottom - sheet.px(170) - top)

    def resized(self) -> None:
        self._music.fit(self._area)

    def handle(self, event: pygame.event.Event) -> Destination | None:
        if event.type == pygame.MOUSEBUTTONDOWN and event.button == 1:
            self._click(event.pos)
        if event.type != pygame.KEYDOWN:
            return None
        if event.key in (pygame.K_LEFT, pygame.K_RIGHT):
            step = 1 if event.key == pygame.K_RIGHT else -1
            self._at = max(0, min(len(self._notes) - 1, self._at + step))
            self._look()
        elif event.key == pygame.K_SPACE:
            self._toggle(self._at)
        elif event.key == pygame.K_w:
            self._hear_written()
        elif event.key == pygame.K_BACKSPACE:
            return ToPage(self.tune, chosen=True)
        elif event.key == pygame.K_ESCAPE:
            return ToShelf()
        elif event.key == pygame.K_RETURN:
            return self._done()
        return None

    def _look(self) -> None:
        self._music.look_at(self._notes[self._at].heads[0], self.around.clock.now_s())

    def _toggle(self, index: int) -> None:
        n = self._notes[index].n
        self._right[n] = not self._right[n]

    def _click(self, at: tuple[int, int]) -> None:
        """A click on a note marks it."""
        for index, note in enumerate(self._notes):
            spot = self._music.spot(note.heads[0])
            if spot is not None and spot.group.inflate(spot.space_px, spot.space_px).collidepoint(at):
                self._at = index
                self._toggle(index)
                return

    def _hear_written(self) -> None:
        if self.around.sound is not None:
            beat = float(self.tune.passage.bars[0].meter.beat_length)
            line = written_line(self._notes, quarter_bpm=(self.tune.tempo_bpm or USUAL_BPM) * beat)
            self.around.sound.play((line,), self.around.clock)
            if self.around.keeping is not None:
                self.around.keeping.was_heard(self.tune.passage)

    def tick(self, now_s: float) -> Destination | None:
        if self.around.sound is not None:
            self.around.sound.tick(now_s)
        return None

    def _done(self) -> Destination:
        tune = self.tune
        finished = marked_afterwards(
            tune.passage, tune.neck_map, stage=tune.stage, tempo_bpm=tune.tempo_bpm, right=self._right
        )
        terms = Terms(
            stage=tune.stage,
            pulse=tune.pulse,
            tempo_bpm=tune.tempo_bpm,
            beat_length=tune.passage.bars[0].meter.beat_length,
            swing=STRAIGHT,
            settling=tune.settling,
            self_marked=True,
        )
        now_s = self.around.clock.now_s()
        kept = self.around.kept_take(tune.passage, tune.neck_map, terms, zero_s=now_s)
        for n, right in self._right.items():
            kept.said(n, said_right=right, at_s=now_s)
        kept.ended(finished)
        return ToResult(tune, finished, self.around.coach_heard(finished, kept))

    def draw(self, surface: pygame.Surface) -> bool:
        sheet, theme = self.around.sheet, self.around.theme
        lay_paper(surface, sheet, theme)
        area = sheet.text_area
        set_heading(surface, sheet, theme, self.tune.passage.score.title, below=stage_in_words(self.tune))
        self._music.draw(surface, {}, self.around.clock.now_s())
        wrong = [PlacedMark(note.heads[0], SaidWrong()) for note in self._notes if not self._right[note.n]]
        draw_marks(surface, wrong, self._music.spot, theme)
        self._draw_pencil(surface)
        room = pygame.Rect(area.left, sheet.paper.bottom - sheet.px(130), area.width, sheet.px(60))
        set_block(surface, say("marked.afterwards"), room, Face.TEXT, sheet.text_px, theme.ink)
        keys = (
            ("← →", say("keys.choose")),
            (say("keys.space"), say("keys.was_wrong")),
            ("W", say("keys.hear_line")),
            (say("keys.enter"), say("keys.done")),
            (say("keys.backspace"), say("keys.again")),
            (say("keys.escape"), say("keys.shelf")),
        )
        set_keys(surface, keys, sheet, theme)
        return True

    def _draw_pencil(self, surface: pygame.Surface) -> None:
        """A stroke under the note the keys are at."""
        spot = self._music.spot(self._notes[self._at].heads[0])
        if spot is None:
            return
        space = spot.space_px
        stroke = pencil.line(space * 1.6, max(1.6, space * 0.12), self.around.theme.pencil, seed=4)
        y = max(spot.bottom_line_y, spot.group.bottom) + 1.1 * space
        surface.blit(stroke, stroke.get_rect(center=(spot.head.centerx, y)))
