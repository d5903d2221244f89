"""A passage is signed off: its page turns from print to ink, the date writes itself, and the player signs: when it was
earned just now, or later from the book.
"""

from datetime import date
from functools import cached_property

import pygame

from game.desk.kit.canvas import Canvas
from game.desk.theme import Colour
from game.instrument.decoding.played import NoteRevised, NoteStarted
from game.music.written import HeadId
from game.player.kept_signature import PlayerSignature
from game.practice.page_positions import numerals_of
from game.practice_log.rows.passage_key import passage_key
from game.screens.base_screen import BaseScreen
from game.screens.context import ScreenContext
from game.screens.key_hints import KeyHint, key_hints
from game.screens.reading.bass_and_chords_for import hear_passage
from game.screens.reading.bass_and_chords_key import (
    BASS_AND_CHORDS_KEY,
    bass_and_chords_hint,
    has_chords,
    toggle_bass_and_chords,
)
from game.screens.reading.marked_page import MarkedPage
from game.screens.reading.result_words import run_underline
from game.screens.reading.signing_hand import SigningHand, typed_signature
from game.screens.reading.signing_sheet import SigningSheet
from game.screens.reading.signing_times import SigningTimes
from game.screens.reading.signing_words import earned_in_words
from game.screens.routes import Back, Route, ToBook, ToPlanned, ToSigning, ToToday
from game.screens.shown_keys import draw_keys, draw_next, lay_paper
from game.text.catalogue import say

_TO_CORNER = 24.0
# So long the last note must be held alone to sign with it.
HELD_S = 0.6


class SigningScreen(BaseScreen):
    """The page of a passage that was signed off, just now or before."""

    free_string_commands = True

    def __init__(self, context: ScreenContext, route: ToSigning) -> None:
        super().__init__(context, route.request.neck_map)
        self.route, self.request = route, route.request
        self.passage = route.finished.passage if route.finished else self.request.passage
        self._facts = context.session.log.facts
        self._has_chords = has_chords(self.passage)
        self.hand = SigningHand()
        self._kept = self._facts.desk.signature
        self._times = SigningTimes(context.clock.now_s(), still=context.settings.still_desk)
        self._held_s: float | None = None
        self._pages = self._laid_out()
        self._shown: object = None
        self._drawn: tuple[pygame.Surface, pygame.Surface] | None = None
        if self._kept is not None:
            self._sign(self._kept)
        self._sounds()

    def _laid_out(self) -> tuple[MarkedPage, MarkedPage]:
        """The page in print, and as it is read."""
        run = run_underline(self.route.finished) if self.route.finished else None
        area = self._sheet_on(None).page_area
        numerals = numerals_of(self.passage, self.request.neck_map)
        printed, read = (
            MarkedPage(self.context, self.passage, (), area, run, read=read, numerals=numerals)
            for read in (False, True)
        )
        return printed, read

    def _sheet_on(self, surface: pygame.Surface | None) -> SigningSheet:
        """The sheet as it lies in the window now."""
        canvas = Canvas(surface or pygame.Surface((1, 1)), self.context.sheet, self.context.theme)
        return SigningSheet(canvas, self.request)

    def _sounds(self) -> None:
        hear_passage(self.context, self.passage, tempo_bpm=self.request.tempo_bpm)

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

    def resized(self) -> None:
        self._drawn = None
        for page in self._pages:
            page.fit(self._sheet_on(None).page_area)

    def handle(self, event: pygame.event.Event) -> Route | None:
        if event.type in (pygame.MOUSEMOTION, pygame.MOUSEBUTTONUP) and not self.signed:
            if event.type == pygame.MOUSEBUTTONUP:
                self.hand.lift()
            else:
                self.hand.move(self._units(event.pos), self._sheet_on(None).room)
            return None
        return super().handle(event)

    def on_click(self, at: tuple[int, int]) -> Route | None:
        if not self.signed:
            self.hand.press(self._units(at), self._sheet_on(None).room)
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
            self._sounds()
            self.context.say_sound()
        elif event.key == BASS_AND_CHORDS_KEY and self._has_chords:
            toggle_bass_and_chords(self.context)
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
        self._facts.sign_page(passage_key(self.passage))
        if by_hand and signature is not None:
            self._facts.keep_signature(signature)
        self._kept = signature
        now_s = self.context.clock.now_s()
        self._times = SigningTimes(self._times.opened_s, self._times.still or by_hand, now_s)

    def on_note(self, event: NoteStarted) -> Route | None:
        """The last note, held, signs."""
        self._held_s = None
        last = self.passage.notes[-1]
        if not self.signed and event.note.sounding == last.sounding and event.note.started_s > self._times.opened_s:
            self._held_s = event.note.started_s
        return None

    def on_revised(self, event: NoteRevised) -> None:
        """What nobody played, or was another note, signs nothing."""
        held = self._held_s is not None and event.before.started_s == self._held_s
        if held and (event.after is None or event.after.sounding != event.before.sounding):
            self._held_s = None
        elif held and event.after is not None:
            self._held_s = event.after.started_s

    def on_tick(self, now_s: float) -> Route | None:
        self.context.devices.sound.tick(now_s)
        if self._held_s is not None and now_s - self._held_s >= HELD_S:
            self._held_s = None
            self._sign(self.hand.signature or typed_signature(self.context.session.name), by_hand=True)
        return None

    def draw(self, surface: pygame.Surface) -> bool:
        now_s = self.context.clock.now_s()
        printed, read = self._pictures(surface)
        # Ink from the left as far as it has come, print beyond.
        paper = self.context.sheet.paper
        edge = paper.left + round(paper.width * self._times.turned(now_s))
        surface.blit(read, (0, 0), (0, 0, edge, surface.get_height()))
        surface.blit(printed, (edge, 0), (edge, 0, surface.get_width() - edge, surface.get_height()))
        sheet = self._sheet_on(surface)
        sheet.draw_date(date.fromordinal(self._today), self._times.dated(now_s))
        if self.signed:
            sheet.draw_signature(self._kept, self._times.signed(now_s), signed=True)
        else:
            sheet.draw_signature(self.hand.signature, 1.0, signed=False)
        self.context.window.follow(sheet.page_area if self.signed else sheet.followed)
        return True

    def _pictures(self, surface: pygame.Surface) -> tuple[pygame.Surface, pygame.Surface]:
        """The sheet with its page in print, and as it is read: drawn when anything of it has changed."""
        context = self.context
        shown = (surface.get_size(), context.theme, self.signed, self._pages[0].in_sight, context.settings.accompanied)
        if self._drawn is None or self._shown != shown:
            self._shown = shown
            lay_paper(context, surface)
            self._sheet_on(surface).draw_words(self._earned, self._page_number)
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
        self._sheet_on(sheet).draw_title(colour)
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
        band = bass_and_chords_hint(self.context) if self._has_chords else ()
        return (*key_hints(("W", "keys.hear_line")), *band, *key_hints(("keys.delete", "keys.sign_anew"), *more, back))

    @cached_property
    def _heads(self) -> tuple[HeadId, ...]:
        return tuple(head for note in self.passage.notes for head in note.heads)

    @cached_property
    def _earned(self) -> str:
        record = self.context.session.coach.record_of(self.passage)
        return earned_in_words(record, self.request.tempo_bpm or 0, self._today)

    @property
    def _today(self) -> int:
        return self.context.session.notes.day

    @cached_property
    def _page_number(self) -> int:
        """The how-manieth of the player's signed pages it is."""
        signed = list(self._facts.desk.signed)
        name = passage_key(self.passage)
        return signed.index(name) + 1 if name in signed else len(signed) + 1
