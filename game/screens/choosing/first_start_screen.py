"""The first start: its picture is the first note. Playing it, or clicking its place, turns the page over to Today.

A door keeps the page and settles how notes come in; that of the plain guitar leads to how it is heard, and from there
back. No name, tuning or test is asked, and nothing listens that was not chosen.
"""

from dataclasses import dataclass
from enum import Enum
from typing import TYPE_CHECKING

import msgspec
import pygame

from game.desk.kit.canvas import Canvas
from game.desk.kit.door import Door, Sketch
from game.desk.kit.note_fill import Fill
from game.desk.kit.sketches import draw_guitar_with_cable, draw_guitar_with_microphone, draw_neck_with_pointer
from game.instrument.decoding.played import NoteRevised, PlayedNote
from game.instrument.sources.computer_keys import ComputerKey, played_by
from game.instrument.sources.note_sources import SCREEN_NECK_SOURCE
from game.lines.first_note import FIRST_HOME, FIRST_NOTE
from game.music.keys import Key, spelled
from game.music.names import name_in, spelling_of
from game.neck.tuning import Place
from game.player.settings import InstrumentKind
from game.screens.base_screen import BaseScreen
from game.screens.choosing.first_start_drawing import DOORS_LEFT, FirstStartDrawing
from game.screens.context import ScreenContext
from game.screens.kept_picture import KeptPicture
from game.screens.key_hints import key_hints
from game.screens.routes import Route, ToMicrophones, ToToday
from game.screens.shown_keys import draw_keys, row_at
from game.screens.tabbed_sheet import ENTER, draw_next
from game.text.catalogue import say

if TYPE_CHECKING:
    from game.screens.choosing.first_take import FirstTake

SEEN_S = 0.8
"""The note stays in sight in blue for a moment before the page is turned."""

_FOOT_UP = 26.0


@dataclass(frozen=True, slots=True)
class _How:
    """A door: its words in the catalogue, and its drawing."""

    word: str
    sketch: Sketch


class HowToPlay(Enum):
    """The doors, from above."""

    PICKUP = _How("pickup", draw_guitar_with_cable)
    PLAIN = _How("plain", draw_guitar_with_microphone)
    NO_GUITAR = _How("none", draw_neck_with_pointer)


_DOORS = tuple(HowToPlay)


class FirstStartScreen(BaseScreen):
    """The first note, and how one plays."""

    at_rest = True

    def __init__(self, context: ScreenContext) -> None:
        super().__init__(context)
        self._manual_input = self
        self._chosen = 0
        self._opened: HowToPlay | None = None
        self._said = ""
        # What is looked at where not all of it is in sight: the doors once one was chosen, what is said to a note.
        self._at_doors = self._calls = False
        self._read_s: float | None = None
        self._take: FirstTake | None = None
        self._doors: tuple[pygame.Rect, ...] = ()
        self._drawing: FirstStartDrawing | None = None
        self._kept = KeptPicture(context)
        self._come_back()

    def _come_back(self) -> None:
        """From how a plain guitar is heard."""
        settings = self.context.settings
        if settings.by_microphone:
            self._said = say("first.opened.heard", device=settings.microphone)
        elif settings.instrument is InstrumentKind.NO_PICKUP:
            self._said = say("first.opened.plain")
        else:
            return
        self._opened, self._chosen = HowToPlay.PLAIN, _DOORS.index(HowToPlay.PLAIN)

    def note_of_key(self, event: pygame.event.Event) -> PlayedNote | None:
        """The note of a key of the left half of the keyboard."""
        neck_map, key = self.neck_map, ComputerKey(event.scancode, shift=bool(event.mod & pygame.KMOD_SHIFT))
        now_s = self.context.clock.now_s()
        played = played_by(key, at_s=now_s, position=neck_map.position, tuning=neck_map.tuning, frets=neck_map.frets)
        return self._sounded(played)

    def note_of_click(self, at: tuple[int, int]) -> PlayedNote | None:
        """The note of a click on the neck."""
        if self._drawing is None:
            return None
        unit = self.context.sheet.unit
        found = self._drawing.neck.place_at((at[0] / unit, at[1] / unit))
        if found is None:
            return None
        place, now_s = Place(*found), self.context.clock.now_s()
        sounding = self.neck_map.tuning.sounding(place)
        return self._sounded(PlayedNote(started_s=now_s, sounding=sounding, place=place, source=SCREEN_NECK_SOURCE))

    def _sounded(self, played: PlayedNote | None) -> PlayedNote | None:
        if played is not None:
            self.context.devices.sound.pluck(played.sounding)
        return played

    def on_played(self, played: PlayedNote) -> Route | None:
        if self._read_s is not None:
            return None
        self._at_doors, self._calls = False, True
        if (played.sounding - FIRST_NOTE.midi) % 12:
            self._said = say("first.other_note", note=self._name_of(played.sounding))
        elif played.place not in (None, FIRST_HOME):
            self._said = say("first.other_place")
        else:
            self._read(played)
        return None

    def _name_of(self, sounding: int) -> str:
        return name_in(spelling_of(spelled(sounding, Key())), self.context.settings.note_names)

    def _read(self, played: PlayedNote) -> None:
        """The first note."""
        from game.screens.choosing.first_take import FirstTake  # noqa: PLC0415 - nothing is judged in the first frame

        now_s = self.context.clock.now_s()
        if self._take is None:
            self._take = FirstTake(self.context, played.started_s)
        if self._take.hear(played):
            self._read_s, self._said = now_s, ""

    def on_revised(self, event: NoteRevised) -> None:
        """What was taken for the note turns out to be another, or none."""
        if self._take is not None and not self._take.revise(event.before, event.after):
            self._read_s = None

    def on_tick(self, now_s: float) -> Route | None:
        if self._read_s is None or self._take is None or now_s - self._read_s < SEEN_S:
            return None
        self._take.end()
        self.context.window.corner_taken = True
        return ToToday()

    def device_found(self, name: str) -> None:
        """It is told where one looks: a slip would cover the title."""
        self._said = say("first.heard_now", device=name)

    def on_key(self, event: pygame.event.Event) -> Route | None:
        match event.key:
            case pygame.K_ESCAPE:
                return ToToday()
            case pygame.K_UP | pygame.K_DOWN:
                by = 1 if event.key == pygame.K_DOWN else -1
                self._chosen, self._at_doors = min(max(self._chosen + by, 0), len(_DOORS) - 1), True
            case pygame.K_RETURN | pygame.K_KP_ENTER:
                return self._enter()
        return None

    def _enter(self) -> Route | None:
        """Open the chosen door; where nothing listens to a plain guitar the player says when the note was played."""
        return ToToday() if self._says_it_was_played else self._open(_DOORS[self._chosen])

    @property
    def _says_it_was_played(self) -> bool:
        plain = _DOORS[self._chosen] is HowToPlay.PLAIN is self._opened
        return plain and not self.context.listens

    def on_click(self, at: tuple[int, int]) -> Route | None:
        for number, box in enumerate(self._doors):
            if box.collidepoint(at):
                self._chosen = number
                return self._open(_DOORS[number])
        return None

    def _open(self, door: HowToPlay) -> Route | None:
        if door is HowToPlay.PLAIN:
            return ToMicrophones(first=True)
        self._opened, self._at_doors, self._calls = door, False, True
        settings = msgspec.structs.replace(self.context.settings, instrument=InstrumentKind.GUITAR, microphone="")
        if settings != self.context.settings:
            self.context.change_settings(settings)
        word = door.value.word
        if door is HowToPlay.PICKUP and self.context.devices.instruments.present:
            word = "pickup_present"
        self._said = say(f"first.opened.{word}")
        return None

    def resized(self) -> None:
        self._kept.forget()

    def draw(self, surface: pygame.Surface) -> bool:
        settings = self.context.settings
        shown = (
            self._read_s is None,
            self._said,
            self._chosen,
            self._opened,
            self._at_doors,
            settings.left_handed,
            settings.note_names,
        )
        self._kept.show(surface, shown, self._draw)
        return True

    def _draw(self, surface: pygame.Surface) -> None:
        context = self.context
        canvas = Canvas(surface, context.sheet, context.theme)
        fill = Fill.PRINT if self._read_s is None else Fill.INK
        name = self._name_of(FIRST_NOTE.midi)
        self._drawing = FirstStartDrawing(
            canvas, fill, name, left_handed=context.settings.left_handed, strings=self.neck_map.tuning.strings
        )
        self._drawing.draw_music()
        call = say("first.call" if self._read_s is None else "first.read")
        self._drawing.draw_call(call, self._said or say("first.method"))
        self._doors = self._drawing.draw_doors(tuple(self._door(how) for how in _DOORS))
        self._draw_foot(canvas)
        context.window.say_below(self._said)
        context.window.follow(self._doors[self._chosen] if self._at_doors else self._drawing.followed(call=self._calls))

    def _door(self, how: HowToPlay) -> Door:
        word = how.value.word
        return Door(
            title=say(f"first.door.{word}"),
            text=say(f"first.door_text.{word}"),
            sketch=how.value.sketch,
            key=say("keys.enter"),
            chosen=how is _DOORS[self._chosen],
            opened=how is self._opened,
        )

    def _draw_foot(self, canvas: Canvas) -> None:
        """The keys below the doors; in the corner the next thing, where Enter is that and no door."""
        context, window = self.context, self.context.window
        keys = key_hints(("keys.updown", "keys.choose_door"), ("keys.escape", "keys.without_note"))
        window.tell_keys((*key_hints(("keys.enter", "keys.open_door")), *keys))
        if self._says_it_was_played:
            draw_next(context, canvas.surface, say("first.played_it"), press=ENTER)
            return
        size = canvas.sheet.size
        draw_keys(
            context, canvas.surface, keys, left=DOORS_LEFT, right=size[0] / canvas.sheet.unit - 40, row=row_at(_FOOT_UP)
        )
