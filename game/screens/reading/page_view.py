"""The page as it is read: title, the music, pencil marks, the margin, the neck."""

from collections.abc import Callable, Mapping
from dataclasses import dataclass, field
from functools import partial

import pygame

from game.desk.count_drawing import Count
from game.desk.kit.canvas import blend
from game.desk.kit.key_rows import ROW_HEIGHT
from game.desk.neck_drawing import NeckDrawing, draw_margin_sketch
from game.desk.paper import draw_heading, draw_text, heading_room
from game.desk.theme import Colour
from game.desk.typography import Face, shortened
from game.lines.titles import title_told
from game.music.meter import Meter
from game.music.passage import Passage
from game.music.written import HeadId
from game.neck.neck_map import NeckMap, roman
from game.neck.tuning import Place
from game.practice.pencilled import PlacedMark
from game.practice.take_request import TakeRequest
from game.screens.context import ScreenContext
from game.screens.key_hints import KeyHint
from game.screens.reading.bars_in_words import bars_in_words
from game.screens.reading.music_view import MusicView
from game.screens.reading.music_view_for import stands_still
from game.screens.reading.scrolling_music import ScrollingMusic
from game.screens.shown_keys import draw_keys, lay_paper
from game.text.catalogue import say, tell

_FINGER_SHOWN_S = 0.8
_A_LITTLE_S = 0.05
# Ink fills a note within that time, in so many steps: each has a picture of its own.
_FILL_S, _FILL_STEPS = 0.18, 4


@dataclass
class PageView:
    """Draws a passage and what was pencilled on it. Set its fields; nothing is decided here.

    `music_for` makes the music for an area: how the notes are seen. Where `stands_still` says so it has all of the
    sheet, and `at_sight` its foot, too, for nothing is written there while it is read. `status` is one line below it,
    `count` the visible beat, when there is one.
    """

    context: ScreenContext
    passage: Passage
    neck_map: NeckMap
    stage_name: str
    music_for: Callable[[pygame.Rect], MusicView]
    stands_still: Callable[[], bool] = lambda: False
    at_sight: bool = False
    colours: dict[HeadId, Colour] = field(default_factory=dict)
    marks: list[PlacedMark] = field(default_factory=list)
    sketch: Place | None = None
    neck_shown: bool = False
    status: str = ""
    count: Count | None = None
    keys: tuple[KeyHint, ...] = ()
    _finger: tuple[Place, float] | None = None

    def __post_init__(self) -> None:
        self._clean: frozenset[HeadId] = frozenset()
        self._inked_s: dict[HeadId, float] = {}
        self._ground_drawn: object = None
        self._area_fitted = self.staff_area
        self.music: MusicView = self.music_for(self.staff_area)

    def rebuild_music(self) -> None:
        """The player wants to see the music otherwise."""
        self.music = self.music_for(self.staff_area)

    @property
    def covered(self) -> bool:
        """Whether the page has still to be turned up."""
        return self.music.covered

    def uncover(self) -> None:
        """Let the player see the page."""
        if self.music.covered:
            self.music.covered = False
            self.status = ""

    def appearance_changed(self) -> None:
        """The look or the music face was changed: engrave anew, the take is not touched."""
        self.music.engrave()
        self.resized()

    def resized(self) -> None:
        """Draw everything for the window as it is now: nothing of the take is touched."""
        self._ground_drawn = None
        self._area_fitted = self.staff_area
        self.music.fit(self.staff_area)
        self.mark_clean(self._clean)

    def mark_clean(self, heads: frozenset[HeadId]) -> None:
        """Turn these notes to the ink of what was read."""
        now_s = self.context.clock.now_s()
        self._inked_s = {head: self._inked_s.get(head, now_s) for head in heads}
        self._clean = heads
        self.colours = dict.fromkeys(heads, self.context.theme.read)

    def _colours_at(self, now_s: float) -> Mapping[HeadId, Colour]:
        """The colours of now: ink fills a note by and by, where the staff is drawn anew in every frame anyhow."""
        if self.context.settings.still_desk or not isinstance(self.music, ScrollingMusic):
            return self.colours
        theme = self.context.theme
        filling = {
            head: blend(theme.ink, theme.read, int(_FILL_STEPS * (now_s - since_s) / _FILL_S) / _FILL_STEPS)
            for head, since_s in self._inked_s.items()
            if 0 <= now_s - since_s < _FILL_S
        }
        return {**self.colours, **filling} if filling else self.colours

    def look_at(self, head: HeadId, now_s: float) -> None:
        """Bring a note before the eyes."""
        self.music.look_at(head, now_s)

    @property
    def moving(self) -> bool:
        """Whether the staff glides, or a finger on the neck is to be taken away."""
        now_s = self.context.clock.now_s()
        inked_s = max(self._inked_s.values(), default=float("-inf"))
        return (
            self.music.moving(now_s)
            or self._finger_shown(now_s - _A_LITTLE_S)
            or now_s - inked_s < _FILL_S + _A_LITTLE_S
        )

    def _finger_shown(self, now_s: float) -> bool:
        return self._finger is not None and now_s - self._finger[1] < _FINGER_SHOWN_S

    def show_finger(self, place: Place, now_s: float) -> None:
        """Show a finger on the neck for a moment, if the neck is there."""
        self._finger = (place, now_s)

    @property
    def neck(self) -> NeckDrawing | None:
        """The neck to be played with the mouse, when it is shown."""
        if not self.neck_shown:
            return None
        sheet = self.context.sheet
        area = sheet.text_area
        room = pygame.Rect(area.left, sheet.paper.bottom - sheet.px(236 + self._string_row), area.width, sheet.px(150))
        return NeckDrawing(room=room, neck_map=self.neck_map, left_handed=self.context.settings.left_handed)

    @property
    def staff_area(self) -> pygame.Rect:
        """Where the music stands."""
        sheet = self.context.sheet
        top = sheet.text_area.top + sheet.px(52 if self._in_one_line else 84)
        foot = 262 if self.neck_shown else 64 if self.at_sight else 108 if self.stands_still() else 172
        bottom = sheet.paper.bottom - sheet.px(foot + self._string_row)
        return pygame.Rect(sheet.text_area.left, top, sheet.text_area.width, max(bottom - top, sheet.px(160)))

    @property
    def _string_row(self) -> float:
        """The height, in units, of the row that tells what the free string does; 0 where no guitar is in hand."""
        return 0.0 if all(key.presses for key in self.keys) else ROW_HEIGHT

    @property
    def _in_one_line(self) -> bool:
        """Whether the heading is one line: where the page stands still, and there is room after the title."""
        return self.stands_still() and heading_room(self.context.sheet, *self._heading, self.stage_name)

    @property
    def _heading(self) -> tuple[str, str]:
        """The title, and where in the tune the page is."""
        return tell(title_told(self.passage.score.title)), passage_in_words(self.passage, self.neck_map)

    def draw(self, surface: pygame.Surface) -> bool:
        """Draw the page. While only the staff moves, only the staff is drawn; returns whether all was."""
        now_s = self.context.clock.now_s()
        pressed = self._finger if self.neck_shown and self._finger_shown(now_s) else None
        context = self.context
        ground = (
            id(surface), context.sheet, context.theme, context.message_shown and context.window.message,
            self.status, self.count is None, self.stage_name, self.sketch, self.neck_shown, self.keys, pressed,
        )  # fmt: skip
        fresh = ground != self._ground_drawn
        if fresh:
            self._ground_drawn = ground
            lay_paper(context, surface)
            self._draw_heading(surface)
            self._draw_below(surface, pressed)
        area = self.staff_area
        if area != self._area_fitted:
            self._area_fitted = area
            self.music.fit(area)
        surface.set_clip(area)
        self.music.draw(surface, self._colours_at(now_s), now_s)
        self.music.draw_marks(surface, self.marks)
        surface.set_clip(None)
        if self.status and self.at_sight and not self.neck_shown:
            self._draw_slip(surface, area)
        if self.count and not self.covered:
            self.music.draw_count(surface, self.count)
        return fresh

    def _draw_heading(self, surface: pygame.Surface) -> None:
        sheet, theme = self.context.sheet, self.context.theme
        title, where = self._heading
        below, after = ("", where) if self._in_one_line else (where, "")
        draw_heading(surface, sheet, theme, title, below=below, after=after, beside=self.stage_name)

    def _draw_slip(self, surface: pygame.Surface, area: pygame.Rect) -> None:
        """What is said before a page is read at first sight, or where it waits, lies on a slip over its foot."""
        sheet, theme = self.context.sheet, self.context.theme
        slip = pygame.Rect(area.left, area.bottom - sheet.px(38), area.width, sheet.px(38))
        surface.fill(theme.paper, slip)
        text = shortened(self.status, Face.ITALIC, sheet.text_px, area.width)
        at = (area.left, slip.top + sheet.px(2))
        draw_text(surface, text, at, Face.ITALIC, sheet.text_px, theme.faded)

    def _draw_below(self, surface: pygame.Surface, pressed: tuple[Place, float] | None) -> None:
        sheet, theme = self.context.sheet, self.context.theme
        area = sheet.text_area
        if self.sketch is not None and not self.neck_shown:
            room = pygame.Rect(
                area.left + sheet.px(20),
                sheet.paper.bottom - sheet.px(150 + self._string_row),
                sheet.px(170),
                sheet.px(88),
            )
            draw_margin_sketch(
                surface, room, self.sketch, self.neck_map, theme, left_handed=self.context.settings.left_handed
            )
        neck = self.neck
        if neck:
            # The heading tells the position, and words about the take stand above the neck.
            neck.draw(surface, theme, numbered=False)
            if self.sketch is not None:
                neck.draw_finger(surface, self.sketch, theme, seed=4)
            if pressed:
                neck.draw_finger(surface, pressed[0], theme)
        draw_keys(self.context, surface, tuple(key for key in self.keys if key.presses))
        if self._string_row:
            draw_keys(self.context, surface, tuple(key for key in self.keys if not key.presses), row=1)
        if self.status and (self.neck_shown or not self.at_sight):
            y = sheet.paper.bottom - sheet.px((258 if self.neck_shown else 100) + self._string_row)
            x = area.left + (0 if self.neck_shown or self.sketch is None else sheet.px(230))
            text = shortened(self.status, Face.ITALIC, sheet.text_px, area.right - x)
            draw_text(surface, text, (x, y), Face.ITALIC, sheet.text_px, theme.faded)


def page_view_for(
    context: ScreenContext,
    request: TakeRequest,
    music_for: Callable[[pygame.Rect], MusicView] | None = None,
    *,
    neck_shown: bool | None = None,
) -> PageView:
    """The page of a request: a staff that moves, unless `music_for` says otherwise. Without an instrument the neck
    is there to be played, unless `neck_shown` says otherwise or the click counts: then it comes when it is asked for.
    """
    if neck_shown is None:
        asked = request.tempo_bpm is None or context.window.neck_in_time
        neck_shown = asked and context.listens and not context.devices.instruments.present
    return PageView(
        context=context,
        passage=request.passage,
        neck_map=request.neck_map,
        stage_name=stage_in_words(request),
        music_for=music_for or (lambda area: ScrollingMusic(context, request.passage, area)),
        stands_still=partial(stands_still, context, request) if music_for else lambda: False,
        at_sight=bool(music_for) and request.stage.once_through,
        neck_shown=neck_shown,
    )


def passage_in_words(passage: Passage, neck_map: NeckMap) -> str:
    """The line under the title: which bars, which position, which octave."""
    octave = say(f"page.octave.{passage.reading.value}")
    where = say("page.whole") if passage.whole else bars_in_words(passage)
    return say("page.where", bars=where, position=roman(neck_map.position), octave=octave)


def stage_in_words(request: TakeRequest) -> str:
    """What is asked, and by which clock: "places", "time, your own pace", "time, ♩ = 76"."""
    stage = say(f"{request.stage.value}.name")
    if request.tempo_bpm is None:
        return say("time.free", stage=stage) if request.stage.rhythm_counts else stage
    key = "time.one_a_click" if request.one_a_click else "time.click"
    return say(key, stage=stage, beat=beat_in_words(request.passage.bars[0].meter), bpm=request.tempo_bpm)


def beat_in_words(meter: Meter) -> str:
    """What one beat of the tempo is, as a note: "♩", "♩." where three eighths make a beat."""
    beat = meter.beat_length
    dotted = beat.numerator == 3
    plain = beat * 2 / 3 if dotted else beat
    sign = "♪" if plain < 1 else "♩" if plain == 1 else "\U0001d15e"
    return f"{sign}." if dotted else sign
