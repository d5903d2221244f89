"""A passage is signed off: its page turns from print to ink, the date writes itself, and the player signs."""

from datetime import date
from functools import cached_property

import pygame

from game.desk.kit.by_pencil import draw_pencil
from game.desk.kit.canvas import Align, Canvas, Style, blend
from game.desk.kit.fountain_pen import draw_pen
from game.desk.kit.signature import SigningRoom, draw_name, draw_strokes
from game.desk.theme import Colour
from game.desk.typography import Face, shortened, wrapped
from game.instrument.decoding.played import NoteStarted
from game.lines.titles import title_told
from game.music.written import HeadId
from game.player.kept_signature import PlayerSignature
from game.practice_log.rows.passage_key import passage_key
from game.screens.base_screen import BaseScreen
from game.screens.context import ScreenContext
from game.screens.key_hints import KeyHint, key_hints
from game.screens.reading.bars_in_words import bars_in_words
from game.screens.reading.bass_and_chords_for import hear_passage
from game.screens.reading.marked_page import MarkedPage
from game.screens.reading.page_heading import beat_in_words
from game.screens.reading.result_words import run_underline
from game.screens.reading.signing_hand import SigningHand
from game.screens.reading.signing_times import SigningTimes
from game.screens.routes import Back, Route, ToBook, ToPlanned, ToSigning, ToToday
from game.screens.shown_keys import draw_keys, draw_next, lay_paper
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
_TO_CORNER = 24.0
# So long the last note must be held alone to sign with it.
HELD_S = 0.6


class SigningScreen(BaseScreen):
    """The page of a passage that was just signed off."""

    free_string_commands = True

    def __init__(self, context: ScreenContext, route: ToSigning) -> None:
        super().__init__(context, route.request.neck_map)
        self.route, self.request = route, route.request
        self._facts = context.session.log.facts
        self.hand = SigningHand()
        self._kept = self._facts.desk.signature
        self._times = SigningTimes(context.clock.now_s(), still=context.settings.still_desk)
        self._held_s: float | None = None
        self._pages = self._laid_out()
        self._shown: object = None
        self._drawn: tuple[pygame.Surface, pygame.Surface] | None = None
        if self._kept is not None:
            self._sign(self._kept)
        hear_passage(context, route.finished.passage, tempo_bpm=self.request.tempo_bpm)

    def _laid_out(self) -> tuple[MarkedPage, MarkedPage]:
        """The page in print, and as it is read."""
        passage, run = self.route.finished.passage, run_underline(self.route.finished)
        printed, read = (MarkedPage(self.context, passage, (), self._area, run, read=read) for read in (False, True))
        return printed, read

    @property
    def signed(self) -> bool:
        """Whether the page is signed, or being signed."""
        return self._times.signed_s is not None

    @property
    def typing(self) -> bool:
        return not self.signed

    @property
    def moving(self) -> bool:
        return self._times.moving(self.context.clock.now_s())

    @property
    def _height(self) -> float:
        return self.context.sheet.size[1] / self.context.sheet.unit

    @property
    def _room(self) -> SigningRoom:
        middle = self.context.sheet.size[0] / self.context.sheet.unit / 2
        return SigningRoom(middle, self._height - _ROOM_TOP, _ROOM_WIDTH, _ROOM_HEIGHT)

    @property
    def _area(self) -> pygame.Rect:
        sheet = self.context.sheet
        top, end = sheet.px(_PAGE_TOP), sheet.px(self._height - _PAGE_END)
        return pygame.Rect(sheet.text_area.left, top, sheet.text_area.width, end - top)

    def resized(self) -> None:
        self._drawn = None
        for page in self._pages:
            page.fit(self._area)

    def handle(self, event: pygame.event.Event) -> Route | None:
        if event.type in (pygame.MOUSEMOTION, pygame.MOUSEBUTTONUP) and not self.signed:
            if event.type == pygame.MOUSEBUTTONUP:
                self.hand.lift()
            else:
                self.hand.move(self._units(event.pos), self._room)
            return None
        return super().handle(event)

    def on_click(self, at: tuple[int, int]) -> Route | None:
        if not self.signed:
            self.hand.press(self._units(at), self._room)
        return None

    def _units(self, at: tuple[int, int]) -> tuple[float, float]:
        unit = self.context.sheet.unit
        return at[0] / unit, at[1] / unit

    def on_key(self, event: pygame.event.Event) -> Route | None:
        if event.key in (pygame.K_RETURN, pygame.K_KP_ENTER):
            return self._next()
        if event.key == pygame.K_ESCAPE:
            return ToToday() if self.request.planned else Back()
        if event.key in (pygame.K_UP, pygame.K_DOWN):
            self._turn(1 if event.key == pygame.K_DOWN else -1)
        elif not self.signed:
            self.hand.type(event)
        elif event.key == pygame.K_w:
            hear_passage(self.context, self.route.finished.passage, tempo_bpm=self.request.tempo_bpm)
            self.context.say_sound()
        elif event.key == pygame.K_DELETE:
            self._times = SigningTimes(self._times.opened_s, self._times.still)
            self.hand = SigningHand()
        return None

    def on_wheel(self, up: int) -> Route | None:
        self._turn(-up)
        return None

    def _turn(self, by: int) -> None:
        for page in self._pages:
            page.turn(by)

    def _next(self) -> Route | None:
        """Sign with what was drawn or typed; with nothing the date alone stands there. Then into the book."""
        if not self.signed:
            self._sign(self.hand.signature, by_hand=True)
            return None
        if self.request.planned:
            return ToPlanned(self.request, self.route.decision, self.route.then)
        return ToBook()

    def _sign(self, signature: PlayerSignature | None, *, by_hand: bool = False) -> None:
        """The page is signed. What a hand wrote just now stands there already, and is the player's from now on."""
        self._facts.sign_page(passage_key(self.route.finished.passage))
        if by_hand and signature is not None:
            self._facts.keep_signature(signature)
        self._kept = signature
        now_s = self.context.clock.now_s()
        self._times = SigningTimes(self._times.opened_s, self._times.still or by_hand, now_s)

    def on_note(self, event: NoteStarted) -> Route | None:
        """The last note, held, signs."""
        self._held_s = None
        last = self.route.finished.passage.notes[-1]
        if not self.signed and event.note.sounding == last.sounding and event.note.started_s > self._times.opened_s:
            self._held_s = event.note.started_s
        return None

    def on_tick(self, now_s: float) -> Route | None:
        self.context.devices.sound.tick(now_s)
        if self._held_s is not None and now_s - self._held_s >= HELD_S:
            self._held_s = None
            self._sign(self.hand.signature or self._own_name, by_hand=True)
        return None

    @property
    def _own_name(self) -> PlayerSignature | None:
        """The name under which the player plays, where there is one."""
        hand = SigningHand()
        hand.typed = self.context.session.name
        return hand.signature

    def draw(self, surface: pygame.Surface) -> bool:
        now_s = self.context.clock.now_s()
        canvas = Canvas(surface, self.context.sheet, self.context.theme)
        printed, read = self._pictures(surface)
        # Ink from the left as far as it has come, print beyond.
        paper = self.context.sheet.paper
        edge = paper.left + round(paper.width * self._times.turned(now_s))
        surface.blit(read, (0, 0), (0, 0, edge, surface.get_height()))
        surface.blit(printed, (edge, 0), (edge, 0, surface.get_width() - edge, surface.get_height()))
        self._draw_date(canvas, now_s)
        self._draw_signature(canvas, now_s)
        return True

    def _pictures(self, surface: pygame.Surface) -> tuple[pygame.Surface, pygame.Surface]:
        """The sheet with its page in print, and as it is read: drawn when anything of it has changed."""
        context = self.context
        shown = (surface.get_size(), context.theme, self.signed, self._pages[0].in_sight)
        if self._drawn is None or self._shown != shown:
            self._shown = shown
            lay_paper(context, surface)
            canvas = Canvas(surface, context.sheet, context.theme)
            self._draw_words(canvas)
            right = draw_next(context, surface, self._corner) - _TO_CORNER
            draw_keys(context, surface, self._keys(), right=right)
            colours = context.theme.ink, context.theme.read
            printed, read = (
                self._with_page(surface.copy(), page, colour) for page, colour in zip(self._pages, colours, strict=True)
            )
            self._drawn = printed, read
        return self._drawn

    def _with_page(self, sheet: pygame.Surface, page: MarkedPage, colour: Colour) -> pygame.Surface:
        """The sheet with title and page of one colour."""
        self._draw_title(Canvas(sheet, self.context.sheet, self.context.theme), colour)
        page.draw(sheet, dict.fromkeys(self._heads, colour))
        return sheet

    @property
    def _corner(self) -> str:
        if not self.signed:
            return say("corner.sign")
        return say("corner.on_with_today" if self.request.planned else "corner.into_book")

    def _keys(self) -> tuple[KeyHint, ...]:
        more = (("keys.updown", "keys.more_lines"),) if self._pages[0].more else ()
        back = ("keys.escape", "keys.today" if self.request.planned else "keys.back")
        if not self.signed:
            return key_hints(("keys.backspace", "keys.take_back"), ("keys.delete", "keys.rub_out_all"), *more, back)
        return key_hints(("W", "keys.hear_line"), ("keys.delete", "keys.sign_anew"), *more, back)

    @cached_property
    def _heads(self) -> tuple[HeadId, ...]:
        return tuple(head for note in self.route.finished.passage.notes for head in note.heads)

    def _draw_title(self, canvas: Canvas, colour: Colour) -> None:
        score, passage = self.request.passage.score, self.request.passage
        middle = canvas.sheet.size[0] / canvas.sheet.unit / 2
        bars = say("page.whole") if passage.whole else bars_in_words(passage)
        below = say("sign.by", composer=score.composer, bars=bars) if score.composer else bars
        for text, y, style in (
            (tell(title_told(score.title)), _TITLE, Style(Face.TITLE, 44, colour)),
            (below, _BELOW_TITLE, Style(Face.ITALIC, 24, colour)),
        ):
            shown = shortened(text, style.face, canvas.px(style.size), canvas.sheet.text_area.width)
            canvas.write(shown, (middle, y), style, Align.CENTRE)

    def _draw_words(self, canvas: Canvas) -> None:
        theme, y = canvas.theme, self._height - _HEADLINE
        left = canvas.sheet.text_area.left / canvas.sheet.unit
        canvas.write(say("sign.signed_off"), (left, y), Style(Face.TITLE, 46, theme.ink))
        style, width = Style(Face.TEXT, 26, theme.ink), canvas.px(self._room.left - left - 40)
        lines = wrapped(self._how, style.face, canvas.px(style.size), width)[:3]
        for number, line in enumerate(lines, 1):
            canvas.write(line, (left, y + 12 + 32 * number), style)
        quiet = Style(Face.ITALIC, 24, theme.faded)
        canvas.write(say("sign.page", number=self._page_number), (left, y + 14 + 32 * (len(lines) + 1)), quiet)

    @cached_property
    def _how(self) -> str:
        """By what it was earned: the tempo, and the two days."""
        record = self.context.session.coach.state.records.get(passage_key(self.route.finished.passage))
        days = [half.day for half in record.sign_offs if half.day != self._today] if record else []
        bpm = round(self.request.tempo_bpm or 0)
        if not days:
            return say("sign.clean_today", bpm=bpm)
        return say("sign.clean_again", bpm=bpm, day=date.fromordinal(days[-1]))

    @property
    def _today(self) -> int:
        return self.context.session.notes.day

    @cached_property
    def _page_number(self) -> int:
        """The how-manieth of the player's signed pages it is."""
        signed = list(self._facts.desk.signed)
        name = passage_key(self.route.finished.passage)
        return signed.index(name) + 1 if name in signed else len(signed) + 1

    def _draw_date(self, canvas: Canvas, now_s: float) -> None:
        """Tempo and day, from the left as far as the pen has come."""
        y, share = self._height - _DATE, self._times.dated(now_s)
        left, blue = self._room.left, canvas.theme.read
        whole = canvas.rect(left, y - 40, _ROOM_WIDTH * share, 56)
        canvas.surface.set_clip(whole)
        tempo = Style(Face.TEXT, 30, blue)
        beat = beat_in_words(self.request.passage.bars[0].meter)
        told = say("sign.tempo", beat=beat, bpm=round(self.request.tempo_bpm or 0))
        canvas.write(told, (left, y), tempo)
        x = left + canvas.width_of(told, tempo) + 30
        canvas.write(on_day(date.fromordinal(self._today)), (x, y), Style(Face.ITALIC, 27, blue))
        canvas.surface.set_clip(None)

    def _draw_signature(self, canvas: Canvas, now_s: float) -> None:
        room, theme, y = self._room, canvas.theme, self._height - _LINE
        hair = blend(theme.paper, theme.pencil, 0.5)
        draw_pencil(canvas, [(room.left, y), (room.left + room.width, y - 1)], 1.6, hair, 18)
        signature = self._kept if self.signed else self._on_paper
        share = self._times.signed(now_s) if self.signed else 1.0
        if signature is None:
            tip = (room.left + 8, y - 6)
            if not self.signed:
                hint = Style(Face.ITALIC, 22, theme.faded)
                canvas.write(say("sign.here"), (room.left, y + 30), hint)
        elif signature.strokes:
            tip = draw_strokes(canvas, signature.strokes, room, theme.read, share)
        else:
            tip = draw_name(canvas, signature.typed, room, theme.read, share)
        self._lay_pen(canvas, tip, writing=0 < share < 1)

    def _lay_pen(self, canvas: Canvas, tip: tuple[float, float], *, writing: bool) -> None:
        """The pen where it writes; else it lies on the paper beside what is written, clear of the date."""
        right = canvas.sheet.paper.right / canvas.sheet.unit - _PEN_RIGHT
        x = tip[0] if writing else max(tip[0], self._room.left + _PEN_RESTS)
        draw_pen(canvas, (min(x + 6, right), tip[1] - 4))

    @property
    def _on_paper(self) -> PlayerSignature | None:
        """What the hand has written so far."""
        return self.hand.signature
