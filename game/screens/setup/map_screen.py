"""The map on screen. Whatever is clicked, played or gone to is shown: a written note and its home. A home is moved only
when that was asked.
"""

from dataclasses import dataclass
from typing import Final

import msgspec
import pygame

from game.coach.notes.ink_of_map import InkOfMap
from game.desk.kit.boxed_key import HIT_HEIGHT, draw_key, key_width
from game.desk.kit.canvas import Canvas, Point, Style
from game.desk.kit.fitted_line import fitted
from game.desk.part_in_view import Followed
from game.desk.typography import Face
from game.errors import HomefretError
from game.instrument.decoding.played import NoteRevised, NoteStarted, PlayedNote
from game.neck.neck_map import NeckMap, roman
from game.neck.tuning import Place
from game.screens.base_screen import BaseScreen
from game.screens.context import ScreenContext
from game.screens.key_hints import KeyHint, key_hints
from game.screens.routes import Back, Route, ToToday
from game.screens.setup.map_choice import LookedAt, look_at_pitch, look_at_place, next_other, next_pitch
from game.screens.setup.map_margin import MapMargin
from game.screens.setup.map_sheet import LEFT, RIGHT_MARGIN, MapSheet
from game.screens.setup.map_words import given_up, named, notes_moved, place_told
from game.screens.shown_keys import draw_keys, foot_top
from game.screens.tabbed_sheet import SheetTab, draw_next, lay_sheet
from game.text.catalogue import say
from game.tunes.library.library import shelf

_ARROWS_LEFT: Final = 742.0
_TO_CORNER: Final = 24.0
Homes = dict[int, tuple[int, int]]


@dataclass(frozen=True, slots=True)
class _Change:
    """A change of the map that waits for a yes: what it would be, what is said of it, and what the yes is called."""

    position: int
    choices: Homes
    told: str
    yes: str


class MapScreen(BaseScreen):
    """The player's map."""

    tab = SheetTab.MAP
    free_string_commands = True
    at_rest = True

    def __init__(self, context: ScreenContext) -> None:
        super().__init__(context)
        self.looked: LookedAt | None = None
        self.asked: _Change | None = None
        self._more = False
        # What can be taken back: position and homes before each change, the newest last.
        self._before: list[tuple[int, Homes]] = []
        # The note played last and what was looked at before it, in case it turns out to be none.
        self._lately: tuple[PlayedNote, LookedAt | None] | None = None
        self._heads: tuple[Point, ...] = ()
        # The map whose ink was made last, and its ink: it takes as long as all the rest of the picture.
        self._inked: tuple[NeckMap, InkOfMap] | None = None
        self._foot = 0.0

    @property
    def _map(self) -> NeckMap:
        return self.context.settings.neck_map()

    def _sheet(self, foot: float) -> MapSheet:
        sheet, neck_map = self.context.sheet, self._map
        return MapSheet(
            size=(sheet.size[0] / sheet.unit, sheet.size[1] / sheet.unit),
            neck_map=neck_map,
            ink=self._ink(neck_map),
            looked=self.looked,
            left_handed=self.context.settings.left_handed,
            capo=self.context.settings.capo_in_use,
            more=self._more,
            foot=foot,
        )

    def _ink(self, neck_map: NeckMap) -> InkOfMap:
        if self._inked is None or self._inked[0] != neck_map:
            self._inked = neck_map, self.context.session.notes.ink(neck_map)
        return self._inked[1]

    def read_anew(self) -> None:
        """More may have been read, also on another computer."""
        self._inked = None
        super().read_anew()

    def on_key(self, event: pygame.event.Event) -> Route | None:
        if self.asked is not None:
            self._answer(event.key)
            return None
        if event.key == pygame.K_ESCAPE:
            return Back()
        if event.key in (pygame.K_RETURN, pygame.K_KP_ENTER):
            return ToToday()
        if event.key in (pygame.K_LEFT, pygame.K_RIGHT):
            self._go_to(self._map.position + (1 if event.key == pygame.K_RIGHT else -1))
        elif event.key in (pygame.K_UP, pygame.K_DOWN):
            self._look_at(next_pitch(self._map, self.looked, 1 if event.key == pygame.K_UP else -1))
        elif event.key == pygame.K_TAB and self.looked is not None:
            self.looked = next_other(self._map, self.looked)
        elif event.key == pygame.K_F12:
            self._more = not self._more
        else:
            self._change(event.key)
        return None

    def _change(self, key: int) -> None:
        if key == pygame.K_INSERT and self.looked is not None and self.looked.other is not None:
            self._ask_to_move(self.looked.other)
        elif key == pygame.K_DELETE and self.context.settings.choices:
            self._ask_for_plain_homes()
        elif key == pygame.K_BACKSPACE and self._before:
            position, choices = self._before.pop()
            self._settle(position, choices)

    def on_click(self, at: tuple[int, int]) -> Route | None:
        """A note or a place is shown, a position gone to. While something is asked nothing else is."""
        if self.asked is not None:
            return None
        unit = self.context.sheet.unit
        point, sheet = (at[0] / unit, at[1] / unit), self._sheet(self._foot)
        place, sounding = sheet.place_at(point), sheet.pitch_at(point, self._heads)
        if place is not None:
            self._look_at(look_at_place(self._map, place))
        elif sounding is not None:
            self._look_at(look_at_pitch(self._map, sounding))
        elif (position := sheet.position_at(point)) is not None:
            self._go_to(position)
        return None

    def on_wheel(self, up: int) -> Route | None:
        if self.asked is None:
            self._look_at(next_pitch(self._map, self.looked, up))
        return None

    def on_note(self, event: NoteStarted) -> Route | None:
        """What is played is shown. It sounds already."""
        if self.asked is None:
            self._lately = event.note, self.looked
            self._show(event.note)
        return None

    def on_revised(self, event: NoteRevised) -> None:
        """What nobody played is not shown any more; what was slid to is."""
        if self._lately is None or self._lately[0] != event.before:
            return
        _, self.looked = self._lately
        self._lately = None
        if event.after is not None:
            self._show(event.after)

    def _show(self, note: PlayedNote) -> None:
        if note.place is not None:
            self.looked = look_at_place(self._map, note.place)
        elif self._map.home_of(note.sounding) is not None:
            self.looked = look_at_pitch(self._map, note.sounding)

    def _look_at(self, looked: LookedAt) -> None:
        """Show a note and let it be heard."""
        self.looked = looked
        self.context.devices.sound.pluck(looked.sounding)

    def _go_to(self, position: int) -> None:
        """Another position; homes chosen by hand belonged to the old one, so they are asked about first."""
        settings = self.context.settings
        try:
            moved = msgspec.structs.replace(settings, position=position, choices={}).neck_map()
        except HomefretError as error:
            self.context.say_error(error)
            return
        if position == settings.position:
            return
        if not settings.choices:
            self._keep(position, {})
            return
        told = say("map.ask_position", count=len(settings.choices), position=roman(settings.position))
        yes = say("map.yes_position", position=roman(position))
        self._ask(position, {}, f"{told} {self._moved_told(moved)}", yes)

    def _ask_to_move(self, place: Place) -> None:
        neck_map = self._map
        moved = neck_map.with_choice(place)
        choices = {sounding: (at.string, at.fret) for sounding, at in moved.choices.items()}
        sounding = neck_map.tuning.sounding(place)
        name = named(sounding, neck_map, self.context.settings.note_names)
        kind = "move" if neck_map.home_of(sounding) else "add"
        told = place_told(kind, place, note=name)
        self._ask(neck_map.position, choices, f"{told} {self._moved_told(moved)}", say("map.yes_move", note=name))

    def _ask_for_plain_homes(self) -> None:
        settings = self.context.settings
        plain = msgspec.structs.replace(settings, choices={}).neck_map()
        told = say("map.ask_plain", count=len(settings.choices))
        self._ask(settings.position, {}, f"{told} {self._moved_told(plain)}", say("map.yes_plain"))

    def _moved_told(self, moved: NeckMap) -> str:
        """How many notes of the shelf are played elsewhere then."""
        return say("map.notes_move", count=notes_moved(self._map, moved, shelf()))

    def _ask(self, position: int, choices: Homes, told: str, yes: str) -> None:
        self.asked = _Change(position, choices, told, yes)

    def _answer(self, key: int) -> None:
        """Enter is yes; Esc, and taking back, no."""
        change = self.asked
        if key in (pygame.K_RETURN, pygame.K_KP_ENTER) and change is not None:
            self._keep(change.position, change.choices)
        if key in (pygame.K_RETURN, pygame.K_KP_ENTER, pygame.K_ESCAPE, pygame.K_BACKSPACE):
            self.asked = None

    def _keep(self, position: int, choices: Homes) -> None:
        settings = self.context.settings
        self._before.append((settings.position, dict(settings.choices)))
        self._settle(position, choices)

    def _settle(self, position: int, choices: Homes) -> None:
        """Take a map over. What was looked at is looked at in it."""
        settings = msgspec.structs.replace(self.context.settings, position=position, choices=choices)
        neck_map = settings.neck_map()
        self.context.change_settings(settings)
        if self.looked is not None:
            has_home = neck_map.home_of(self.looked.sounding) is not None
            self.looked = look_at_pitch(neck_map, self.looked.sounding) if has_home else None

    def draw(self, surface: pygame.Surface) -> bool:
        canvas = lay_sheet(self.context, surface, SheetTab.MAP)
        corner = draw_next(self.context, surface, self.asked.yes if self.asked else say("corner.today"))
        right = corner.left / canvas.sheet.unit - _TO_CORNER
        keys = self._keys()
        draw_keys(self.context, surface, keys, most_rows=2, right=right)
        self._foot = foot_top(self.context, surface, keys, most_rows=2, right=right)
        sheet, names = self._sheet(self._foot), self.context.settings.note_names
        self._draw_head(canvas, sheet)
        self._heads = sheet.draw(canvas, names)
        if self.asked is None:
            self._draw_position_keys(canvas, sheet.numerals_y - 8)
        margin = MapMargin(canvas, self.context, sheet)
        if self.asked is not None:
            margin.draw_question(self.asked.told)
            self.context.window.follow(margin.question_rect)
            self.context.window.say_below(self.asked.told, stay=True)
        elif self.looked is None:
            margin.draw_legend()
        else:
            margin.draw_note(self.looked)
        followed = sheet.followed(self._heads)
        if followed is not None:
            most, core = (canvas.rect(*one) for one in followed)
            self.context.window.follow(Followed(most, core))
        return True

    def _draw_head(self, canvas: Canvas, sheet: MapSheet) -> None:
        """The title, the position, and what it gives up."""
        theme, width = canvas.theme, sheet.size[0] - LEFT - RIGHT_MARGIN
        title = Style(Face.TITLE, 42, theme.ink)
        canvas.write(say("map.title"), (LEFT, 116), title)
        left = LEFT + canvas.width_of(say("map.title"), title) + 20
        count, position = len(sheet.neck_map.homes), roman(sheet.neck_map.position)
        below = say("map.position", position=position, count=count)
        text, style = fitted(canvas, below, Style(Face.ITALIC, 24, theme.faded), LEFT + width - left)
        canvas.write(text, (left, 116), style)
        sums = given_up(sheet.neck_map, self.context.settings.note_names)
        text, style = fitted(canvas, sums, Style(Face.TEXT, 22, theme.ink), width)
        canvas.write(text, (LEFT, 150), style)

    def _draw_position_keys(self, canvas: Canvas, middle: float) -> None:
        """The arrows beside the positions."""
        x = _ARROWS_LEFT
        for hint in key_hints(("keys.arrows", "keys.position")):
            self.context.window.tell_keys((hint,))
            for label, press in zip(hint.labels, hint.presses, strict=True):
                draw_key(canvas, label, (x, middle))
                width = key_width(canvas, label)
                self.context.window.let_click(canvas.rect(x, middle - HIT_HEIGHT / 2, width, HIT_HEIGHT), press)
                x += width + 4

    def _keys(self) -> tuple[KeyHint, ...]:
        if self.asked is not None:
            return key_hints(("keys.escape", "keys.leave_as_is"))
        other = self.looked is not None and next_other(self._map, self.looked) != self.looked
        return key_hints(
            ("keys.updown", "keys.another_note"),
            *((("keys.tab", "keys.another_place"),) if other else ()),
            ("F12", "keys.less_neck" if self._more else "keys.more_neck"),
            *((("keys.backspace", "keys.take_back"),) if self._before else ()),
            *((("keys.delete", "map.plain"),) if self.context.settings.choices else ()),
            ("keys.escape", "keys.today"),
        )
