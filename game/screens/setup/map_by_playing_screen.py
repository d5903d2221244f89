"""A whole map is written by playing it once: each played or clicked place becomes the home of its pitch. Nothing of the
player's map changes before the end, when what was played is told and asked about once.
"""

from dataclasses import dataclass
from typing import Final

import pygame

from game.desk.kit.canvas import Canvas, Style
from game.desk.kit.fitted_line import fitted
from game.desk.typography import Face
from game.errors import HomefretError
from game.instrument.decoding.played import NoteRevised, NoteStarted, PlayedNote
from game.instrument.sources.note_sources import SCREEN_NECK_SOURCE
from game.judging.extra_notes import ARRIVAL_S
from game.neck.neck_map import NeckMap
from game.neck.tuning import Place
from game.screens.base_screen import BaseScreen
from game.screens.context import ScreenContext
from game.screens.key_hints import KeyHint, key_hints
from game.screens.routes import Back, Route, ToMap
from game.screens.setup.dialog_sheet import LEFT, back_words, lay_dialog, width_of
from game.screens.setup.map_by_playing_sheet import MapByPlayingSheet, is_in_part, word_styles
from game.screens.setup.map_uses import use_map
from game.screens.setup.map_words import named, note_and_line, notes_moved, place_told, plainly_written
from game.screens.setup.played_places import PlayedPlaces, WrittenMap, written_map
from game.screens.shown_keys import draw_keys, foot_top
from game.screens.tabbed_sheet import draw_next
from game.text.catalogue import say
from game.tunes.library.library import shelf

_ENTER: Final = (pygame.K_RETURN, pygame.K_KP_ENTER)
_TO_CORNER: Final = 24.0


@dataclass(frozen=True, slots=True)
class _Asked:
    """A written map that waits for a yes."""

    written: WrittenMap
    told: tuple[str, ...]


class MapByPlayingScreen(BaseScreen):
    """A map being written. `played` is what came so far, `asked` what waits for a yes at the end."""

    in_take = True

    def __init__(self, context: ScreenContext) -> None:
        super().__init__(context)
        self._like: NeckMap = context.settings.neck_map()
        self.played = PlayedPlaces(self._like.tuning)
        self.asked: _Asked | None = None
        # A note without a place, and what is said of it unless its place turns out.
        self._unplaced: tuple[PlayedNote, str] | None = None
        self._upper = False
        self._leaving = False
        self._foot = 0.0

    def on_key(self, event: pygame.event.Event) -> Route | None:
        if self.asked is not None:
            return self._answer(event.key, self.asked)
        if event.key == pygame.K_ESCAPE:
            return self._leave()
        self._leaving = False
        if event.key in _ENTER:
            return self._ask() if self.played.homes else Back()
        if event.key == pygame.K_BACKSPACE:
            self._go_on(self.played.take_back())
        elif event.key == pygame.K_F12 and self._has_parts:
            self._upper = not self._upper
        return None

    def on_click(self, at: tuple[int, int]) -> Route | None:
        """A click on a place writes it, as playing it does; on one of the keys it never comes here."""
        unit = self.context.sheet.unit
        place = self._sheet().place_at((at[0] / unit, at[1] / unit)) if self.asked is None else None
        if place is not None:
            sounding = self._like.tuning.sounding(place)
            if not self.context.hears_itself:
                self.context.devices.sound.pluck(sounding)
            now_s = self.context.clock.now_s()
            self._hear(PlayedNote(started_s=now_s, sounding=sounding, place=place, source=SCREEN_NECK_SOURCE))
        return None

    def on_note(self, event: NoteStarted) -> Route | None:
        """What is played is written, where its place is known."""
        if self.asked is not None:
            return None
        if event.note.place is None:
            told = "playing.heard" if event.note.heard else "playing.off_neck" if event.off_neck else "playing.no_place"
            self._unplaced = event.note, told
        else:
            self._hear(event.note)
        return None

    def on_tick(self, now_s: float) -> Route | None:
        """A pickup that guesses an octave too low at first finds the place a moment later; else it is said."""
        if self._unplaced is not None and now_s - self._unplaced[0].started_s > ARRIVAL_S:
            self.context.say(say(self._unplaced[1]))
            self._unplaced = None
        return None

    def on_revised(self, event: NoteRevised) -> None:
        """A ghost goes, a slide arrives: also while it is asked what the map is to be, which is asked anew then."""
        before = self.played
        if self._unplaced is not None and self._unplaced[0] == event.before:
            self._unplaced = None
        self._go_on(before.revise(event.before, event.after))
        if self.asked is not None and self.played.homes != before.homes:
            self.asked = None

    def on_gesture(self, plucks: int, now_s: float) -> Route | None:  # noqa: ARG002 - as every screen has it
        """A pedal takes back, as the free string does."""
        for _ in range(plucks if self.asked is None else 0):
            self._go_on(self.played.take_back())
        return None

    def _hear(self, note: PlayedNote) -> None:
        self._leaving = False
        self._go_on(self.played.hear(note))
        if self.played.ends_in_chord:
            self.context.say(say("playing.chord"))

    def _go_on(self, played: PlayedPlaces) -> None:
        """Go on from what was played; the part of the neck in sight is that of what came last."""
        self.played = played
        newest = played.newest
        if newest is not None and not is_in_part(newest.fret, self._like.frets, upper=self._upper):
            self._upper = not self._upper

    def _leave(self) -> Route | None:
        """What was written is lost by leaving: that is said once."""
        if not self.played.homes or self._leaving:
            return Back()
        self._leaving = True
        self.context.say(say("playing.leave", count=len(self.played.homes)))
        return None

    def _ask(self) -> Route | None:
        written = written_map(self.played.homes, self._like)
        if written.neck_map.places == self._like.places:
            self.context.say(say("playing.same"))
            return None
        self.asked = _Asked(written, tuple(self._told(written)))
        return None

    def _told(self, written: WrittenMap) -> list[str]:
        """What the map is."""
        neck_map, told = written.neck_map, list[str]()
        if written.outlying:
            told.append(say("map.outlying", count=len(written.outlying)))
        if written.filled:
            told.append(say("playing.filled", count=len(written.filled)))
        if written.missing:
            told.append(say("playing.missing", count=len(written.missing)))
        told.append(say("map.notes_move", count=notes_moved(self._like, neck_map, shelf())))
        return [*told, say("playing.stays", name=self.context.session.maps.current.name)]

    def _answer(self, key: int, asked: _Asked) -> Route | None:
        """Enter is yes; Esc, and taking back, lead back to the neck with all that was written."""
        if key in _ENTER:
            return self._use(asked.written.neck_map)
        if key in (pygame.K_ESCAPE, pygame.K_BACKSPACE):
            self.asked = None
        return None

    def _use(self, neck_map: NeckMap) -> Route | None:
        """The map that was written is kept beside those there are, and used."""
        maps = self.context.session.maps
        try:
            kept = maps.keep("", neck_map)
        except HomefretError as error:
            self.context.say_error(error)
            return None
        return ToMap() if use_map(self.context, kept.id) else None

    @property
    def _has_parts(self) -> bool:
        return not is_in_part(self._like.frets, self._like.frets, upper=False)

    def _sheet(self) -> MapByPlayingSheet:
        sheet = self.context.sheet
        return MapByPlayingSheet(
            size=(sheet.size[0] / sheet.unit, sheet.size[1] / sheet.unit),
            like=self._like,
            homes=self.played.homes,
            newest=self.played.newest,
            upper=self._upper,
            left_handed=self.context.settings.left_handed,
            foot=self._foot,
            capo=self.context.settings.capo_in_use,
        )

    def draw(self, surface: pygame.Surface) -> bool:
        canvas, _ = lay_dialog(self.context, surface, say("playing.title"))
        corner = draw_next(self.context, surface, self._next_words())
        right = corner.left / canvas.sheet.unit - _TO_CORNER
        keys = self._keys()
        draw_keys(self.context, surface, keys, most_rows=2, right=right)
        self._foot = foot_top(self.context, surface, keys, most_rows=2, right=right)
        sheet = self._sheet()
        how, style = fitted(canvas, self._how(), Style(Face.ITALIC, 22, canvas.theme.faded), width_of(canvas))
        canvas.write(how, (LEFT, 130), style)
        sheet.draw(canvas, self.context.settings.note_names)
        self.context.window.follow(canvas.rect(*sheet.followed()))
        self._draw_words(canvas, sheet)
        return True

    def _draw_words(self, canvas: Canvas, sheet: MapByPlayingSheet) -> None:
        heading, text, quiet = word_styles(canvas)
        if self.asked is not None:
            name = self.context.session.maps.name_of(self.asked.written.neck_map)
            title = say("playing.told_homes", name=name, count=len(self.played.homes))
            words = [(title, heading), *((told, text) for told in self.asked.told)]
            self.context.window.follow(sheet.draw_words(canvas, words))
            self.context.window.say_below(" ".join(self.asked.told), stay=True)
            return
        newest = self.played.newest
        if newest is None:
            sheet.draw_words(canvas, [(say("playing.nothing"), text), (say("playing.what_counts"), quiet)])
            return
        written = plainly_written(self._like.tuning.sounding(newest), self._like)
        words = [
            (note_and_line(written, self.context.settings.note_names, self._like.reading.clef), heading),
            (place_told("home", newest), text),
            *(((self._moved_from(newest), text),) if self._moved_from(newest) else ()),
            (say("playing.homes", count=len(self.played.homes)), quiet),
            (say("playing.what_counts"), quiet),
        ]
        sheet.draw_words(canvas, words)

    def _moved_from(self, newest: Place) -> str:
        """Where the pitch had been before, when it was moved."""
        sounding = self._like.tuning.sounding(newest)
        before = [place for place in self.played.written[:-1] if self._like.tuning.sounding(place) == sounding]
        if not before:
            return ""
        name = named(sounding, self._like, self.context.settings.note_names)
        return say("playing.moved", note=name, string=before[-1].string, fret=before[-1].fret)

    def _how(self) -> str:
        """How it is done, by what is played on."""
        if self.context.settings.by_microphone and not self.context.devices.instruments.taken_over:
            return say("playing.by_microphone")
        return say("playing.by_pickup" if self.context.devices.instruments.present else "playing.by_click")

    def _next_words(self) -> str:
        if self.asked is not None:
            return say("playing.yes")
        return say("playing.done") if self.played.homes else back_words()

    def _keys(self) -> tuple[KeyHint, ...]:
        if self.asked is not None:
            return key_hints(("keys.escape", "playing.play_on"))
        keys = key_hints(
            *((("keys.backspace", "keys.take_back"),) if self.played.written else ()),
            *((("F12", "keys.less_neck" if self._upper else "keys.more_neck"),) if self._has_parts else ()),
            ("keys.escape", "keys.back"),
        )
        free = self.played.free
        if free is None or not self.played.written or not self.context.devices.instruments.present:
            return keys
        return (*keys, KeyHint((say("free.open", ordinal=say(f"ordinal.{free.string}")),), say("keys.take_back")))
