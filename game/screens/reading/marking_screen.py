"""After a take in rhythm that nothing listened to: the player crosses out the notes that were wrong.

The written line can be heard for comparison. What is not crossed out counts as right, by the player's own word.
"""

from functools import cached_property

import pygame

from game.coach.tempo_ladder import LadderRung
from game.desk import pencil
from game.desk.kit.by_pencil import draw_pencil, pencil_words
from game.desk.kit.canvas import Canvas, Style, blend
from game.desk.typography import Face, wrapped
from game.lines.titles import title_told
from game.practice.page_positions import numerals_of
from game.practice.pencilled import PlacedMark, SaidWrongMark
from game.practice.self_marked_take import RhythmTerms, marked_afterwards
from game.practice.take_request import TakeRequest
from game.practice_log.rows.passage_key import passage_key
from game.screens.base_screen import BaseScreen
from game.screens.context import ScreenContext
from game.screens.key_hints import key_hints
from game.screens.reading.bass_and_chords_for import hear_passage
from game.screens.reading.bass_and_chords_key import (
    BASS_AND_CHORDS_KEY,
    bass_and_chords_hint,
    has_chords,
    toggle_bass_and_chords,
)
from game.screens.reading.ladder_rungs import drawn_rung, ladder_rungs
from game.screens.reading.margin_ladder import draw_margin_ladder, left_of_ladder
from game.screens.reading.passage_heading import PassageHeading, draw_passage_heading, played_in_words
from game.screens.reading.still_music import StillMusic
from game.screens.reading.timed_terms import timed_terms
from game.screens.routes import Route, ToPage, ToResult
from game.screens.shown_keys import draw_keys, draw_next, lay_paper
from game.text.catalogue import say, tell

# From the upper edge of the window to the music, and from the lower one to the line ruled below it, in units.
_MUSIC_TOP, _RULE = 112.0, 356.0
_HEADLINE, _FIRST_LINE, _LINE, _FIGURE = 54.0, 92.0, 34.0, 202.0
_HEADLINE_SIZE, _WORDS_SIZE, _FIGURE_SIZE, _TOTAL_SIZE = 32.0, 25.0, 62.0, 28.0
_TO_CORNER = 24.0


class MarkingScreen(BaseScreen):
    """The page of the take just played, with a pencil in the player's hand."""

    def __init__(self, context: ScreenContext, request: TakeRequest) -> None:
        super().__init__(context)
        self.request = request
        self._notes = request.passage.notes
        self._has_chords = has_chords(request.passage)
        self._at = 0
        self._right = {note.n: True for note in self._notes}
        numerals = numerals_of(request.passage, request.neck_map, request.stage)
        self._music = StillMusic(context, request.passage, self._area, numerals=numerals)
        self._look()

    @cached_property
    def _rungs(self) -> tuple[LadderRung, ...]:
        """The ladder as it stood when the take began; none where no tempo is climbed."""
        coach = self.context.session.coach
        decision = coach.state.decision
        if self.request.tempo_bpm is None or decision is None or decision.passage != passage_key(self.request.passage):
            return ()
        return ladder_rungs(coach, decision, self.request.passage, self.request.neck_map)

    def _canvas(self, surface: pygame.Surface | None = None) -> Canvas:
        return Canvas(surface or pygame.Surface((1, 1)), self.context.sheet, self.context.theme)

    def _right_edge(self, canvas: Canvas) -> float:
        return left_of_ladder(canvas) if self._rungs else canvas.sheet.text_area.right / canvas.sheet.unit

    @property
    def _rule_y(self) -> float:
        return self.context.sheet.height - _RULE

    @property
    def _area(self) -> pygame.Rect:
        canvas = self._canvas()
        left = canvas.sheet.text_area.left / canvas.sheet.unit
        return canvas.rect(left, _MUSIC_TOP, self._right_edge(canvas) - left, self._rule_y - 6 - _MUSIC_TOP)

    def resized(self) -> None:
        self._music.fit(self._area)

    def on_key(self, event: pygame.event.Event) -> Route | None:
        if event.key in (pygame.K_LEFT, pygame.K_RIGHT):
            step = 1 if event.key == pygame.K_RIGHT else -1
            self._at = max(0, min(len(self._notes) - 1, self._at + step))
            self._look()
        elif event.key in (pygame.K_HOME, pygame.K_END):
            self._at = 0 if event.key == pygame.K_HOME else len(self._notes) - 1
            self._look()
        elif event.key in (pygame.K_SPACE, pygame.K_BACKSPACE):
            self._say(right=event.key == pygame.K_SPACE)
        elif event.key == pygame.K_w:
            self._hear_written()
        elif event.key == BASS_AND_CHORDS_KEY and self._has_chords:
            toggle_bass_and_chords(self.context)
        elif event.key == pygame.K_ESCAPE:
            return ToPage(self.request, chosen=True)
        elif event.key == pygame.K_RETURN:
            return self._done()
        return None

    def _look(self) -> None:
        self._music.look_at(self._notes[self._at].heads[0], self.context.clock.now_s())

    def _say(self, *, right: bool) -> None:
        """What the note at hand was; then the next is at hand."""
        self._right[self._notes[self._at].n] = right
        self._at = min(self._at + 1, len(self._notes) - 1)
        self._look()

    def _toggle(self, index: int) -> None:
        n = self._notes[index].n
        self._right[n] = not self._right[n]

    def on_click(self, at: tuple[int, int]) -> Route | None:
        """A click on a note crosses it out, or takes the cross away."""
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
        decision = self.context.session.finish_take(finished, recorder, target_bpm=request.target_bpm)
        return ToResult(request, finished, decision)

    def draw(self, surface: pygame.Surface) -> bool:
        lay_paper(self.context, surface)
        canvas = self._canvas(surface)
        self._music.draw(surface, {}, self.context.clock.now_s())
        wrong = [PlacedMark(note.heads[0], SaidWrongMark()) for note in self._notes if not self._right[note.n]]
        self._music.draw_marks(surface, wrong)
        self._draw_pencil(surface)
        self._follow()
        draw_passage_heading(canvas, self._heading, self._right_edge(canvas))
        self._draw_words(canvas)
        if self._rungs:
            draw_margin_ladder(canvas, tuple(map(drawn_rung, self._rungs)), self._rule_y + 130)
        right = draw_next(self.context, surface, say("corner.marked")) - _TO_CORNER
        crossing = (
            ("keys.space", "keys.was_right"),
            ("keys.backspace", "keys.was_wrong"),
            ("keys.arrows", "keys.choose_note"),
            ("W", "keys.hear_line"),
        )
        band = bass_and_chords_hint(self.context) if self._has_chords else ()
        back = (("keys.escape", "keys.play_again"),)
        draw_keys(self.context, surface, (*key_hints(*crossing), *band, *key_hints(*back)), most_rows=2, right=right)
        self.context.window.tell_keys(key_hints(("keys.home_end", "keys.ends")))
        return True

    @property
    def _heading(self) -> PassageHeading:
        title = tell(title_told(self.request.passage.score.title))
        return PassageHeading(title=title, where=played_in_words(self.request))

    def _draw_words(self, canvas: Canvas) -> None:
        theme, y = canvas.theme, self._rule_y
        left, right = canvas.sheet.text_area.left / canvas.sheet.unit, self._right_edge(canvas)
        draw_pencil(canvas, [(left, y), (right - 4, y - 2)], 1.6, blend(theme.paper, theme.pencil, 0.5), 18)
        canvas.write(say("marked.click_wrong"), (left, y + _HEADLINE), Style(Face.TITLE, _HEADLINE_SIZE, theme.ink))
        text = Style(Face.TEXT, _WORDS_SIZE, theme.ink)
        lines = wrapped(say("marked.second_click"), text.face, canvas.px(text.size), canvas.px(right - left))
        for number, line in enumerate(lines):
            canvas.write(line, (left, y + _FIRST_LINE + number * _LINE), text)
        figure = Style(Face.FIGURES, _FIGURE_SIZE, theme.pencil)
        at, total = (left, y + _FIGURE), say("count.by_own_word", total=len(self._notes))
        pencil_words(canvas, str(sum(self._right.values())), at, figure)
        x = left + canvas.width_of(str(sum(self._right.values())), figure) + 13
        canvas.write(total, (x, at[1]), Style(Face.TEXT, _TOTAL_SIZE, theme.ink))

    def _follow(self) -> None:
        """The note the keys are at, and the room of its cross."""
        head = self._notes[self._at].heads[0]
        box, room = self._music.note_box(head), self._music.first_row_of(head)
        if box is not None and room is not None:
            space = round(6 * box.space_px)
            self.context.window.follow(box.group.union(room).inflate(space, 0))

    def _draw_pencil(self, surface: pygame.Surface) -> None:
        """A stroke under the note the keys are at, below the cross it may have."""
        room = self._music.first_row_of(self._notes[self._at].heads[0])
        if room is not None:
            stroke = pencil.line(room.width, max(2.0, room.width * 0.08), self.context.theme.pencil, seed=4)
            surface.blit(stroke, stroke.get_rect(center=room.midbottom))
