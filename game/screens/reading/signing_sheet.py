"""How a page that is signed lies on its sheet: title and music above, below them why it may be signed, tempo, day and
the room for the name, with the pen.
"""

from dataclasses import dataclass
from datetime import date

import pygame

from game.desk.kit.by_pencil import draw_pencil
from game.desk.kit.canvas import Align, Canvas, Style, blend
from game.desk.kit.fountain_pen import draw_pen
from game.desk.kit.signature import SigningRoom, draw_name, draw_strokes
from game.desk.part_in_view import Followed
from game.desk.theme import Colour
from game.desk.typography import Face, shortened, wrapped
from game.lines.titles import title_told
from game.player.kept_signature import PlayerSignature
from game.practice.take_request import TakeRequest
from game.screens.reading.bars_in_words import bars_in_words
from game.screens.reading.page_heading import beat_in_words
from game.text.catalogue import on_day, say, tell

# From the upper edge of the window, in units: title, what stands below it, the page.
_TITLE, _BELOW_TITLE, _PAGE_TOP = 92.0, 126.0, 146.0
# From the lower edge up: where the page ends, the headline, tempo and date, the room to sign in and its line.
_PAGE_END, _HEADLINE, _DATE, _ROOM_TOP, _LINE = 312.0, 250.0, 259.0, 240.0, 154.0
_ROOM_WIDTH, _ROOM_HEIGHT = 480.0, 112.0
# The pen rests no further right: its end stays on the paper.
_PEN_RIGHT = 230.0
# Where it lies at least, right of the left end of the line.
_PEN_RESTS = 290.0


@dataclass(frozen=True, slots=True)
class SigningSheet:
    """The page of a request in a window."""

    canvas: Canvas
    request: TakeRequest

    @property
    def height(self) -> float:
        """Of the window, in units."""
        return self.canvas.sheet.height

    @property
    def room(self) -> SigningRoom:
        """Where the name is written."""
        middle = self.canvas.sheet.width / 2
        return SigningRoom(middle, self.height - _ROOM_TOP, _ROOM_WIDTH, _ROOM_HEIGHT)

    @property
    def page_area(self) -> pygame.Rect:
        """Where the music has room, in pixels."""
        sheet = self.canvas.sheet
        top, end = sheet.px(_PAGE_TOP), sheet.px(self.height - _PAGE_END)
        return pygame.Rect(sheet.text_area.left, top, sheet.text_area.width, end - top)

    @property
    def followed(self) -> Followed:
        """What is to be seen before it is signed: where the name is written, and what stands beside that."""
        room, left = self.room, self.canvas.sheet.text_area.left
        signing = self.canvas.rect(room.left, room.top, room.width, room.height)
        return Followed(pygame.Rect(left, signing.top, signing.right - left, signing.height), signing)

    def draw_title(self, colour: Colour) -> None:
        """The tune, who made it, and the bars, in print or in ink."""
        canvas, passage = self.canvas, self.request.passage
        middle = canvas.sheet.width / 2
        bars = say("page.whole") if passage.whole else bars_in_words(passage)
        composer = passage.score.composer
        below = say("sign.by", composer=composer, bars=bars) if composer else bars
        for text, y, style in (
            (tell(title_told(passage.score.title)), _TITLE, Style(Face.TITLE, 44, colour)),
            (below, _BELOW_TITLE, Style(Face.ITALIC, 24, colour)),
        ):
            shown = shortened(text, style.face, canvas.px(style.size), canvas.sheet.text_area.width)
            canvas.write(shown, (middle, y), style, Align.CENTRE)

    def draw_words(self, earned: str, number: int) -> None:
        """That it is signed off, by what it was earned, and the how-manieth page of the book it is."""
        canvas, theme, y = self.canvas, self.canvas.theme, self.height - _HEADLINE
        left = canvas.sheet.text_area.left / canvas.sheet.unit
        canvas.write(say("sign.signed_off"), (left, y), Style(Face.TITLE, 46, theme.ink))
        style, width = Style(Face.TEXT, 26, theme.ink), canvas.px(self.room.left - left - 40)
        lines = wrapped(earned, style.face, canvas.px(style.size), width)[:3]
        for row, line in enumerate(lines, 1):
            canvas.write(line, (left, y + 12 + 32 * row), style)
        quiet = Style(Face.ITALIC, 24, theme.faded)
        canvas.write(say("sign.page", number=number), (left, y + 14 + 32 * (len(lines) + 1)), quiet)

    def draw_date(self, day: date, share: float) -> None:
        """Tempo and day, from the left as far as the pen has come."""
        canvas, y, blue = self.canvas, self.height - _DATE, self.canvas.theme.read
        left = self.room.left
        canvas.surface.set_clip(canvas.rect(left, y - 40, _ROOM_WIDTH * share, 56))
        tempo = Style(Face.TEXT, 30, blue)
        beat = beat_in_words(self.request.passage.bars[0].meter)
        told = say("sign.tempo", beat=beat, bpm=round(self.request.tempo_bpm or 0))
        canvas.write(told, (left, y), tempo)
        x = left + canvas.width_of(told, tempo) + 30
        canvas.write(on_day(day), (x, y), Style(Face.ITALIC, 27, blue))
        canvas.surface.set_clip(None)

    def draw_signature(self, signature: PlayerSignature | None, share: float, *, signed: bool) -> None:
        """The line, so much of the signature as is written, and the pen; how to sign where nothing is written yet."""
        canvas, room, theme, y = self.canvas, self.room, self.canvas.theme, self.height - _LINE
        hair = blend(theme.paper, theme.pencil, 0.5)
        draw_pencil(canvas, [(room.left, y), (room.left + room.width, y - 1)], 1.6, hair, 18)
        if signature is None:
            tip = (room.left + 8, y - 6)
            if not signed:
                canvas.write(say("sign.here"), (room.left, y + 30), Style(Face.ITALIC, 22, theme.faded))
        elif signature.strokes:
            tip = draw_strokes(canvas, signature.strokes, room, theme.read, share)
        else:
            tip = draw_name(canvas, signature.typed, room, theme.read, share)
        self._lay_pen(tip, writing=0 < share < 1)

    def _lay_pen(self, tip: tuple[float, float], *, writing: bool) -> None:
        """The pen where it writes; else it lies on the paper beside what is written, clear of the date."""
        right = self.canvas.sheet.paper.right / self.canvas.sheet.unit - _PEN_RIGHT
        x = tip[0] if writing else max(tip[0], self.room.left + _PEN_RESTS)
        draw_pen(self.canvas, (min(x + 6, right), tip[1] - 4))
