"""The page as it is read: title, the music, pencil marks, the margin, the neck."""

import math
from collections.abc import Callable, Mapping
from dataclasses import dataclass, field, replace

import pygame

from game.desk.count_drawing import Count
from game.desk.kit.canvas import Canvas
from game.desk.neck_drawing import NeckDrawing, draw_margin_sketch
from game.desk.part_in_view import Followed
from game.desk.theme import Colour
from game.music.passage import Passage
from game.music.written import HeadId
from game.neck.neck_map import NeckMap
from game.neck.tuning import Place
from game.practice.pencilled import PlacedMark
from game.screens.context import ScreenContext
from game.screens.key_hints import KeyHint
from game.screens.reading.filling_ink import FillingInk
from game.screens.reading.music_view import MusicView
from game.screens.reading.neck_letters import letters_of_places
from game.screens.reading.notated_music import NotatedMusic
from game.screens.reading.notes_in_work import NoteInWork
from game.screens.reading.page_foot import PageFoot, draw_foot
from game.screens.reading.page_heading import draw_page_heading, needs_two_lines
from game.screens.reading.page_layout import LEFT, PageLayout
from game.screens.reading.page_margin import draw_climb
from game.screens.reading.page_neck import OnNeck, draw_page_neck
from game.screens.reading.passage_climb import PassageClimb
from game.screens.reading.scrolling_music import ScrollingMusic
from game.screens.reading.sight_sheet import (
    SightSheet,
    above_corner_px,
    corner_is_free,
    draw_sight_sheet,
    music_room,
    sentences_rect,
)
from game.screens.reading.work_column import draw_work
from game.screens.shown_keys import lay_paper

_FINGER_SHOWN_S = 0.8
_A_LITTLE_S = 0.05
# Above and below what is seen of a page, in units.
_SEEN_AIR = 22.0
# So high the music is at least, and so high where only a part of the page is seen at once.
_LEAST_MUSIC, _LEAST_MUSIC_SEEN = 160.0, 130.0
# The room of the teacher's sketch below music that waits, in units.
_SKETCH_ROOM = 106.0


@dataclass
class PageView:
    """Draws a passage and what was pencilled on it. Set its fields; nothing is decided here.

    `music_for` makes the music for an area: how the notes are seen. Where `stands_still` says so it has all of the
    sheet, and `at_sight` its foot, too, for nothing is written there while it is read: `sight` is what stands around
    it. `clocked` where rhythm counts, `letters` where the computer's keys play the neck. `status` is what is said of
    the take, `count` the visible beat, when there is one, `climb` stands in the margin, `work` are the notes in the
    column, `found` places on the neck, which is drawn up to `highest_fret` at least.
    """

    context: ScreenContext
    passage: Passage
    neck_map: NeckMap
    title: str
    facts: str
    music_for: Callable[[pygame.Rect], MusicView]
    stands_still: Callable[[], bool] = lambda: False
    at_sight: bool = False
    clocked: bool = False
    letters: bool = False
    colours: dict[HeadId, Colour] = field(default_factory=dict)
    marks: list[PlacedMark] = field(default_factory=list)
    sketch: Place | None = None
    neck_shown: bool = False
    highest_fret: int = 0
    status: str = ""
    count: Count | None = None
    climb: PassageClimb | None = None
    work: tuple[NoteInWork, ...] = ()
    found: frozenset[Place] = frozenset()
    keys: tuple[KeyHint, ...] = ()
    sight: SightSheet | None = None
    _finger: tuple[Place, float] | None = None

    def __post_init__(self) -> None:
        self._ink = FillingInk()
        self._ground_drawn: object = None
        self._rungs: tuple[tuple[pygame.Rect, int], ...] = ()
        self._area_fitted = self.staff_area
        self.music: MusicView = self.music_for(self.staff_area)

    def rebuild_music(self) -> None:
        """The player wants to see the music otherwise."""
        self.music = self.music_for(self.staff_area)

    @property
    def covered(self) -> bool:
        """Whether the page has still to be turned up."""
        return self.music.covered

    def uncover(self, *, to_look: bool = False) -> None:
        """Let the player see the page: turned up by and by where it is only looked at, and at once to be read."""
        turns = to_look and not self.context.settings.still_desk
        if isinstance(self.music, NotatedMusic):
            self.music.turned_up_s = self.context.clock.now_s() if turns else None
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
        self.mark_clean(self._ink.heads)

    def mark_clean(self, heads: frozenset[HeadId]) -> None:
        """Turn these notes to the ink of what was read."""
        self._ink.fill(heads, self.context.clock.now_s())
        self.colours = dict.fromkeys(heads, self.context.theme.read)

    def _colours_at(self, now_s: float) -> Mapping[HeadId, Colour]:
        """The colours of now: ink fills a note by and by, where the staff is drawn anew in every frame anyhow."""
        if self.context.settings.still_desk or not isinstance(self.music, ScrollingMusic):
            return self.colours
        filling = self._ink.colours(self.context.theme, now_s)
        return {**self.colours, **filling} if filling else self.colours

    def look_at(self, head: HeadId, now_s: float) -> None:
        """Bring a note before the eyes."""
        self.music.look_at(head, now_s)

    @property
    def moving(self) -> bool:
        """Whether the staff glides, or a finger on the neck is to be taken away."""
        now_s = self.context.clock.now_s()
        return self.music.moving(now_s) or self._finger_shown(now_s - _A_LITTLE_S) or self._ink.is_filling(now_s)

    def _finger_shown(self, now_s: float) -> bool:
        return self._finger is not None and now_s - self._finger[1] < _FINGER_SHOWN_S

    def show_finger(self, place: Place, now_s: float) -> None:
        """Show a finger on the neck for a moment, if the neck is there."""
        self._finger = (place, now_s)

    @property
    def layout(self) -> PageLayout:
        """Where things stand, as the window and the page are now."""
        sheet, still = self.context.sheet, self.stands_still()
        layout = PageLayout(
            width=sheet.size[0] / sheet.unit,
            height=sheet.size[1] / sheet.unit,
            clocked=self.clocked,
            ladder=self.climb is not None,
            column=bool(self.work),
            neck=self.neck_shown,
            string_row=not all(key.presses for key in self.keys),
            still=still,
            seen=self._seen,
        )
        right = layout.music_right if layout.ladder else layout.right
        return replace(layout, two_lines=needs_two_lines(sheet, self.title, self.facts, right))

    @property
    def _seen(self) -> float:
        """How much of the page's height is seen at once, in units."""
        seen = self.context.window.seen_px
        return math.inf if seen is None else seen[1] / self.context.sheet.unit - _SEEN_AIR

    @property
    def neck(self) -> NeckDrawing | None:
        """The neck to be played with the mouse, when it is shown."""
        if not self.neck_shown:
            return None
        room = self._canvas().rect(*self.layout.neck_room)
        return NeckDrawing(
            room=room,
            neck_map=self.neck_map,
            left_handed=self.context.settings.left_handed,
            capo=self.context.settings.capo_in_use,
            highest_fret=self.highest_fret,
        )

    @property
    def staff_area(self) -> pygame.Rect:
        """Where the music stands."""
        layout, sheet = self.layout, self.context.sheet
        if self._on_whole_sheet:
            left, top, right, bottom = music_room(self._canvas())
            return self._canvas().rect(left, top, right - left, bottom - top)
        bottom = layout.music_bottom
        if not self.neck_shown and not self.clocked:
            bottom = min(bottom, replace(layout, seen=math.inf).music_bottom - _SKETCH_ROOM)
        left, top, right = sheet.px(LEFT), sheet.px(layout.music_top), sheet.px(layout.music_right)
        least = _LEAST_MUSIC if layout.seen == math.inf else _LEAST_MUSIC_SEEN
        return pygame.Rect(left, top, right - left, max(sheet.px(bottom) - top, sheet.px(least)))

    @property
    def _on_whole_sheet(self) -> bool:
        """Whether the music has all of the sheet: at first sight, unless a neck is to be played."""
        return self.at_sight and not self.neck_shown

    def rung_at(self, at: tuple[int, int]) -> int | None:
        """The tempo of the rung at a point of the picture drawn last, None beside the ladder."""
        return next((bpm for hit, bpm in self._rungs if hit.collidepoint(at)), None)

    def _canvas(self, surface: pygame.Surface | None = None) -> Canvas:
        return Canvas(surface or pygame.Surface((0, 0)), self.context.sheet, self.context.theme)

    def draw(self, surface: pygame.Surface) -> bool:
        """Draw the page. While only the staff moves, only the staff is drawn; returns whether all was."""
        now_s = self.context.clock.now_s()
        pressed = self._finger if self.neck_shown and self._finger_shown(now_s) else None
        context = self.context
        ground = (
            id(surface), context.sheet, context.theme, context.message_shown and context.window.message,
            self.status, self.count is None, self.facts, self.sketch, self.neck_shown, self.keys, pressed,
            self.climb, self.work, self.found, self.sight, self.covered,
            isinstance(self.music, NotatedMusic) and self.music.turned_up(now_s),
        )  # fmt: skip
        fresh = ground != self._ground_drawn
        if fresh:
            self._ground_drawn = ground
            self._draw_ground(surface, pressed)
        area = self.staff_area if fresh else self._area_fitted
        if area != self._area_fitted:
            self._area_fitted = area
            self.music.fit(area)
        surface.set_clip(self._clear_of_corner(area))
        self.music.draw(surface, self._colours_at(now_s), now_s)
        self.music.draw_marks(surface, self.marks)
        surface.set_clip(None)
        if self.count and not self.covered:
            self.music.draw_count(surface, self.count)
        if context.window.seen_px is not None:
            self._follow(fresh=fresh)
        return fresh

    def _follow(self, *, fresh: bool) -> None:
        """Where text is larger than the window, the music is followed, and with it the hand on the neck."""
        window, scrolls = self.context.window, isinstance(self.music, ScrollingMusic)
        window.count = None if scrolls else self.count
        if scrolls and not fresh:
            # The reading mark stands still.
            return
        window.say_below(self.status)
        music, neck = self.music.followed, self.neck
        if self.covered and self.sight is not None and self._on_whole_sheet:
            window.say_below(" ".join(self.sight.sentences))
            window.follow(sentences_rect(self._canvas(), self.sight))
            return
        if neck is None:
            window.follow(music)
            return
        hand = neck.under_hand(self.neck_map.position)
        window.follow(
            Followed(music.core.union(hand.inflate(room := neck.room.height // neck.strings, room)), music.core)
        )

    def _clear_of_corner(self, area: pygame.Rect) -> pygame.Rect:
        """Where the music may draw: it paints its paper anew, which must not lie on what stands in the corner."""
        canvas = self._canvas()
        turned_up = self._on_whole_sheet and self.sight is not None and self.sight.enter is not None
        if self.covered or not turned_up or not corner_is_free(canvas, self.music.lowest_px):
            return area
        return pygame.Rect(area.left, area.top, area.width, min(above_corner_px(canvas), area.bottom) - area.top)

    def _draw_ground(self, surface: pygame.Surface, pressed: tuple[Place, float] | None) -> None:
        lay_paper(self.context, surface)
        canvas, layout = self._canvas(surface), self.layout
        if self._on_whole_sheet and self.sight is not None:
            corner = self.covered or corner_is_free(canvas, self.music.lowest_px)
            draw_sight_sheet(self.context, canvas, self.sight, corner=corner)
            self.context.window.tell_keys(self.keys)
            return
        right = layout.music_right if layout.ladder else layout.right
        draw_page_heading(canvas, self.title, self.facts, right, two_lines=layout.two_lines)
        self._rungs = draw_climb(canvas, self.climb, layout.ladder_room) if self.climb else ()
        if self.work:
            settings = self.context.settings
            draw_work(canvas, layout, self.work, settings.note_names, self.passage.reading)
        self._draw_neck(canvas, pressed)
        foot = PageFoot(keys=self.keys, words=self._said, climb=self.climb)
        draw_foot(self.context, canvas, layout, foot)

    @property
    def _said(self) -> str:
        """What the foot says: above a neck that is played at first sight, too, which step this is."""
        if self.sight is None:
            return self.status
        return self.sight.sentences[-1] if self.sight.sentences else self.sight.how

    def _draw_neck(self, canvas: Canvas, pressed: tuple[Place, float] | None) -> None:
        """The neck with what was found on it, or the teacher's sketch of a place where there is none."""
        neck, layout = self.neck, self.layout
        if neck is not None:
            on_neck = OnNeck(
                found=self.found,
                letters=letters_of_places(self.neck_map) if self.letters else {},
                shows=self.sketch,
                pressed=pressed[0] if pressed else None,
            )
            draw_page_neck(canvas, neck, on_neck, layout.music_right)
        elif self.sketch is not None:
            left_handed = self.context.settings.left_handed
            room = canvas.rect(LEFT + 20, layout.sentence_baseline - 112, 170, 76)
            draw_margin_sketch(canvas.surface, room, self.sketch, self.neck_map, canvas.theme, left_handed=left_handed)
