"""Practice from the paper itself: the click counts in, the bars are counted, and then the player says how it went.

The program knows no note of it. What is kept is time, bars, tempo and the player's own word, never evidence of reading.
"""

from dataclasses import replace

import pygame

from game.desk.paper import draw_choice_mark, draw_heading, draw_text
from game.desk.typography import Face, shortened, text_width
from game.errors import HomefretError
from game.music.meter import Meter
from game.practice.clock_gap import GapWatch
from game.practice.paper_practice import OwnWord, PaperPiece, PaperTake, bar_of_click, bar_s, taken
from game.screens.base_screen import BaseScreen
from game.screens.context import ScreenContext
from game.screens.key_hints import KeyHint, key_hints
from game.screens.reading.page_keys import free_string_keys
from game.screens.routes import Back, Route
from game.screens.shown_keys import draw_keys, lay_paper
from game.screens.tabbed_sheet import draw_next
from game.screens.writing.click_run import beat_shown, start_click
from game.screens.writing.paper_rows import PIECE_ROWS, edited
from game.text.catalogue import say

_ROW_UNITS = 44
_ENTER = (pygame.K_RETURN, pygame.K_KP_ENTER)
_WORDS = tuple(OwnWord)


class PaperPracticeScreen(BaseScreen):
    """One piece on the desk: said what it is, played with the click, and what the player says of it."""

    in_take = True
    free_string_commands = True

    def __init__(self, context: ScreenContext) -> None:
        super().__init__(context)
        self._before = context.session.log.facts.paper_takes
        self.piece = self._before[0].piece if self._before else PaperPiece(meter=Meter())
        self._row = 0
        self._zero_s: float | None = None
        self._passed_s: float | None = None
        self._gaps = GapWatch(context.clock)

    @property
    def moving(self) -> bool:
        return self._zero_s is not None

    @property
    def asks(self) -> bool:
        """Whether the player is asked how it went."""
        return self._passed_s is not None

    @property
    def typing(self) -> bool:
        """While what was played from the paper is put down."""
        return True

    def on_key(self, event: pygame.event.Event) -> Route | None:
        now_s = self.context.clock.now_s()
        if self._zero_s is not None:
            if event.key in (pygame.K_SPACE, pygame.K_ESCAPE):
                self.stop(now_s)
        elif event.key in (pygame.K_UP, pygame.K_DOWN):
            rows = len(_WORDS) if self.asks else len(PIECE_ROWS)
            self._row = (self._row + (1 if event.key == pygame.K_DOWN else -1)) % rows
        elif self.asks:
            self._answer(event)
        elif event.key == pygame.K_ESCAPE:
            return Back()
        elif event.key in _ENTER:
            self.begin()
        else:
            self.piece = edited(self.piece, PIECE_ROWS[self._row], event, self._before)
        return None

    def _answer(self, event: pygame.event.Event) -> None:
        if event.key in _ENTER:
            self._keep(_WORDS[self._row])
        elif event.key == pygame.K_ESCAPE:
            self._keep(None)

    def on_gesture(self, plucks: int, now_s: float) -> Route | None:
        """The free string begins and stops; afterwards it says how it went: once well, twice with slips, three times
        that it fell apart.
        """
        if self._zero_s is not None:
            self.stop(now_s)
        elif self.asks:
            self._keep(_WORDS[plucks - 1])
        else:
            self.begin()
        return None

    def begin(self) -> None:
        """Count in."""
        piece = self.piece = replace(self.piece, bars=max(1, self.piece.bars))
        try:
            click = start_click(self.context, piece.meter, piece.tempo_bpm, bars=piece.bars)
        except HomefretError as error:
            self.context.say_error(error)
            return
        self._gaps.gap()
        self._zero_s = click.zero_s

    def stop(self, now_s: float) -> None:
        """The click stops; what was played in the count-in is no practice."""
        assert self._zero_s is not None
        self.context.devices.sound.metronome.stop()
        passed_s, self._zero_s = now_s - self._zero_s, None
        if taken(self.piece, passed_s, None).bars_played:
            self._passed_s, self._row = passed_s, 0

    def _keep(self, word: OwnWord | None) -> None:
        assert self._passed_s is not None
        take = taken(self.piece, self._passed_s, word)
        facts = self.context.session.log.facts
        facts.practise_from_paper(take)
        self._before, self._passed_s, self._row = facts.paper_takes, None, len(PIECE_ROWS) - 1

    def on_tick(self, now_s: float) -> Route | None:
        gap = self._gaps.gap()
        self.context.devices.sound.tick(now_s)
        if self._zero_s is None:
            return None
        if gap is not None:
            self.stop(gap.from_s)
        elif now_s - self._zero_s >= self.piece.bars * bar_s(self.piece):
            self.stop(now_s)
        return None

    def on_click(self, at: tuple[int, int]) -> Route | None:
        """A click chooses a row."""
        rows = len(_WORDS) if self.asks else len(PIECE_ROWS)
        row = (at[1] - self._rows_top) // self._row_height
        if self._zero_s is None and at[1] >= self._rows_top and row < rows:
            self._row = row
        return None

    @property
    def _top(self) -> int:
        return self.context.sheet.text_area.top + self.context.sheet.px(110)

    @property
    def _rows_top(self) -> int:
        """Below the question, where there is one."""
        return self._top + (self._row_height if self.asks else 0)

    @property
    def _row_height(self) -> int:
        return self.context.sheet.px(_ROW_UNITS)

    def draw(self, surface: pygame.Surface) -> bool:
        sheet, theme = self.context.sheet, self.context.theme
        lay_paper(self.context, surface)
        draw_heading(surface, sheet, theme, say("from_paper.practise"), below=say("paper.explain"))
        if self._zero_s is not None:
            self._draw_count(surface, self._zero_s)
        elif self.asks:
            self._draw_question(surface)
        else:
            self._draw_piece(surface)
        corner = self._corner()
        right = draw_next(self.context, surface, say(corner)).left / sheet.unit - 20 if corner else None
        for row, keys in enumerate(self._hints()):
            draw_keys(self.context, surface, keys, row=row, right=right)
        return True

    def _draw_piece(self, surface: pygame.Surface) -> None:
        sheet, theme = self.context.sheet, self.context.theme
        for number, row in enumerate(PIECE_ROWS):
            value = row.words(self.piece)
            if row.typed and number == self._row:
                value += "…"
            self._draw_row(surface, number, say(row.name), value)
        last = next((take for take in self._before if take.piece.title == self.piece.title), None)
        if last is not None:
            at = (sheet.text_area.left, self._top + self._row_height * (len(PIECE_ROWS) + 1))
            draw_text(surface, take_in_words(last), at, Face.ITALIC, sheet.small_px, theme.faded)

    def _draw_question(self, surface: pygame.Surface) -> None:
        sheet, theme = self.context.sheet, self.context.theme
        played = taken(self.piece, self._passed_s or 0.0, None)
        said = say("paper.how", count=played.bars_played, of=self.piece.bars)
        at = (sheet.text_area.left, self._top - sheet.px(14))
        draw_text(surface, said, at, Face.ITALIC, sheet.text_px, theme.ink)
        for number, word in enumerate(_WORDS):
            self._draw_row(surface, number, "", say(f"paper.word.{word.value}"))

    def _draw_row(self, surface: pygame.Surface, number: int, name: str, value: str) -> None:
        sheet, theme = self.context.sheet, self.context.theme
        y, left = self._rows_top + number * self._row_height, sheet.text_area.left + sheet.px(36)
        if number == self._row:
            draw_choice_mark(surface, sheet, theme, y + sheet.text_px * 0.65)
            room = sheet.text_area
            self.context.window.follow(pygame.Rect(room.left, y, room.width, self._row_height))
        if name:
            draw_text(surface, name, (left, y + sheet.px(5)), Face.ITALIC, sheet.small_px, theme.faded)
            left += sheet.px(220)
        shown = shortened(value, Face.TEXT, sheet.text_px, sheet.text_area.right - left)
        draw_text(surface, shown, (left, y), Face.TEXT, sheet.text_px, theme.ink)

    def _draw_count(self, surface: pygame.Surface, zero_s: float) -> None:
        """The bar in large figures and the beat below: what a glance from the paper needs."""
        sheet, theme, now_s = self.context.sheet, self.context.theme, self.context.clock.now_s()
        bar = bar_of_click(self.piece, now_s - zero_s)
        large = sheet.px(200)
        text = str(min(bar, self.piece.bars)) if bar else say("paper.count_in")
        face, px = (Face.FIGURES, large) if bar else (Face.ITALIC, sheet.title_px)
        centre = sheet.paper.centerx
        y = sheet.paper.centery - sheet.px(150)
        self.context.window.follow(pygame.Rect(centre - sheet.px(200), y, sheet.px(400), sheet.px(300)))
        at = (centre - text_width(text, face, px) // 2, y if bar else y + sheet.px(90))
        draw_text(surface, text, at, face, px, theme.ink if bar else theme.faded)
        if bar:
            of = say("paper.of_bars", of=self.piece.bars)
            at = (centre + sheet.px(170), y + sheet.px(120))
            draw_text(surface, of, at, Face.ITALIC, sheet.title_px, theme.faded)
        beat = beat_shown(self.context, self.piece.meter, now_s)
        at = (centre - text_width(beat, Face.FIGURES, sheet.px(64)) // 2, y + sheet.px(250))
        draw_text(surface, beat, at, Face.FIGURES, sheet.px(64), theme.pencil)

    def _corner(self) -> str:
        """What Enter leads to; nothing while the bars are counted."""
        if self._zero_s is not None:
            return ""
        return "paper.put_down" if self.asks else "paper.begin"

    def _hints(self) -> tuple[tuple[KeyHint, ...], ...]:
        if self._zero_s is not None:
            keys, free = key_hints(("keys.space", "keys.stop")), "keys.stop"
        elif self.asks:
            choose = ("keys.updown", "keys.choose"), ("keys.escape", "keys.say_nothing")
            keys, free = key_hints(*choose), "keys.free_word"
        else:
            change = ("keys.updown", "keys.choose"), ("keys.arrows", "keys.change")
            keys = key_hints(*change, ("keys.escape", "keys.back"))
            free = "keys.begin"
        string = free_string_keys(self.context, self.neck_map, free)
        return (keys, string) if string else (keys,)


def take_in_words(take: PaperTake) -> str:
    """What is known of the last time."""
    word = say(f"paper.word.{take.word.value}") if take.word else say("paper.word.none")
    return say("paper.last", count=take.bars_played, bpm=take.piece.tempo_bpm, word=word)
