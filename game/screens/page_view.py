"""The page as it is read: title, the moving staff under its reading mark, pencil marks, the margin, the neck."""

from collections.abc import Iterable
from dataclasses import dataclass, field

import pygame

from game.desk import pencil
from game.desk.account import bars_in_words
from game.desk.neck_drawing import NeckDrawing, draw_margin_sketch
from game.desk.paper import lay_paper, set_keys, set_line, set_line_ending
from game.desk.pencil_marks import Spot, draw_marks
from game.desk.surroundings import Surroundings
from game.desk.theme import Colour
from game.desk.type import Face, fitted, width_of
from game.desk.words import say
from game.engraving.engraver import Face as EngravedFace
from game.engraving.layout import lay_out_line
from game.engraving.staff import Staff, View
from game.music.passage import Passage
from game.music.pitch import pitch
from game.music.written import HeadId
from game.neck.map import NeckMap, roman
from game.neck.tuning import Place
from game.practice.pencilled import PlacedMark
from game.settings import MusicFace

GLIDE_S = 0.28
_READING_MARK_AT = 1 / 3
_LOWEST_LINE = pitch("E4").staff_step
_FINGER_SHOWN_S = 0.8
# So that the last picture of a movement is drawn too.
_A_LITTLE_S = 0.05

ENGRAVED_FACES = {MusicFace.ENGRAVED: EngravedFace.ENGRAVED, MusicFace.HANDWRITTEN: EngravedFace.HANDWRITTEN}


@dataclass
class Gliding:
    """Where the staff stands: it waits at `target_px` once `GLIDE_S` have passed since it was sent there."""

    from_px: float = 0.0
    target_px: float = 0.0
    since_s: float = 0.0

    def at(self, now_s: float) -> float:
        """The scroll position at a time: slow, quick, slow."""
        share = min(1.0, max(0.0, (now_s - self.since_s) / GLIDE_S))
        eased = share * share * (3 - 2 * share)
        return self.from_px + (self.target_px - self.from_px) * eased

    def send(self, target_px: float, now_s: float) -> None:
        """Glide to a place from wherever it is now."""
        if target_px != self.target_px:
            self.from_px, self.target_px, self.since_s = self.at(now_s), target_px, now_s


@dataclass
class PageView:
    """Draws a passage and what was pencilled on it. Set its fields; nothing is decided here."""

    around: Surroundings
    passage: Passage
    neck_map: NeckMap
    stage_name: str
    colours: dict[HeadId, Colour] = field(default_factory=dict)
    marks: list[PlacedMark] = field(default_factory=list)
    sketch: Place | None = None
    neck_shown: bool = False
    asked_head: HeadId | None = None
    aside: str = ""
    keys: tuple[tuple[str, str], ...] = ()
    _finger: tuple[Place, float] | None = None
    _gliding: Gliding = field(default_factory=Gliding)

    def __post_init__(self) -> None:
        self._clean: frozenset[HeadId] = frozenset()
        self._ground_drawn: object = None
        self.look_changed()

    def look_changed(self) -> None:
        """The look or the music face was changed: engrave anew, the take is not touched."""
        face = ENGRAVED_FACES[self.around.settings.music_face]
        self._engraving = lay_out_line(self.passage.bars, self.passage.reading, face, ends=self.passage.ends)
        self.resized()

    def resized(self) -> None:
        """Draw everything for the window as it is now: nothing is engraved again, nothing of the take is touched."""
        sheet, settings, theme = self.around.sheet, self.around.settings, self.around.theme
        self._ground_drawn = None
        space_px = sheet.staff_space(settings.staff_space_px)
        self._staff = Staff(self._engraving, space_px, theme.paper, theme.ink)
        self.mark_clean(self._clean)
        if self.asked_head is not None:
            self._gliding = Gliding()
            self.look_at(self.asked_head, self.around.clock.now_s())
            self._gliding.since_s -= GLIDE_S

    def mark_clean(self, heads: frozenset[HeadId]) -> None:
        """Turn these notes to the ink of what was read."""
        self._clean = heads
        self.colours = dict.fromkeys(heads, self.around.theme.read)

    def look_at(self, head: HeadId, now_s: float) -> None:
        """Bring a note under the reading mark."""
        self.asked_head = head
        self._gliding.send(self._staff.rect_of(head).centerx - self._reading_x, now_s)

    @property
    def moving(self) -> bool:
        """Whether the staff glides, or a finger on the neck is to be taken away."""
        now_s = self.around.clock.now_s()
        pressed_s = self._finger[1] if self._finger else -_FINGER_SHOWN_S
        gliding = now_s - self._gliding.since_s < GLIDE_S + _A_LITTLE_S
        return gliding or now_s - pressed_s < _FINGER_SHOWN_S + _A_LITTLE_S

    def press(self, place: Place, now_s: float) -> None:
        """Show a finger on the neck for a moment, if the neck is there."""
        self._finger = (place, now_s)

    @property
    def neck(self) -> NeckDrawing | None:
        """The neck to be played with the mouse, when it is shown."""
        if not self.neck_shown:
            return None
        sheet = self.around.sheet
        area = sheet.text_area
        room = pygame.Rect(area.left, sheet.paper.bottom - sheet.px(226), area.width, sheet.px(150))
        return NeckDrawing(room=room, neck_map=self.neck_map, left_handed=self.around.settings.left_handed)

    @property
    def _staff_area(self) -> pygame.Rect:
        sheet = self.around.sheet
        top = sheet.text_area.top + sheet.px(84)
        bottom = sheet.paper.bottom - sheet.px(252 if self.neck_shown else 200)
        return pygame.Rect(sheet.text_area.left, top, sheet.text_area.width, max(bottom - top, sheet.px(160)))

    @property
    def _top_line_y(self) -> int:
        """The staff stands in the middle of its area, moved where high or low notes need the room."""
        area, staff = self._staff_area, self._staff
        middle = area.centery - 2 * staff.space_px
        highest = area.top + staff.above_px
        lowest = area.bottom - max(staff.below_px, 4 * staff.space_px)
        return max(highest, min(middle, lowest)) if lowest >= highest else middle

    @property
    def _reading_x(self) -> float:
        """The reading mark, in pixels from the left of the staff area."""
        clear_of_clef = self._staff.opening_px + 3.5 * self._staff.space_px
        return max(self._staff_area.width * _READING_MARK_AT, clear_of_clef)

    def draw(self, surface: pygame.Surface) -> bool:
        """Draw the page. While only the staff moves, only the staff is drawn; returns whether all was."""
        now_s = self.around.clock.now_s()
        pressed = self._finger if self._finger and now_s - self._finger[1] < _FINGER_SHOWN_S else None
        around = self.around
        ground = (
            id(surface), around.sheet, around.theme, around.message_shown and around.message,
            self.aside, self.sketch, self.neck_shown, self.keys, pressed,
        )  # fmt: skip
        fresh = ground != self._ground_drawn
        if fresh:
            self._ground_drawn = ground
            lay_paper(surface, around.sheet, around.theme)
            self._draw_heading(surface)
            self._draw_below(surface, pressed)
        view = View(self._staff_area, self._top_line_y, round(self._gliding.at(now_s)))
        self._staff.draw(surface, view, self.colours)
        surface.set_clip(view.area)
        self._draw_reading_mark(surface)
        draw_marks(surface, self._marks_in_sight(view), lambda head: self._spot(head, view), around.theme)
        surface.set_clip(None)
        return fresh

    def _marks_in_sight(self, view: View) -> Iterable[PlacedMark]:
        """Marks whose notes stand between the clef and the right edge; the pencil does not write on the clef."""
        left = view.area.left + self._staff.opening_px
        for mark in self.marks:
            if left < self._staff.on_screen(self._staff.rect_of(mark.head), view).centerx < view.area.right:
                yield mark

    def _spot(self, head: HeadId, view: View) -> Spot:
        staff = self._staff
        return Spot(
            head=staff.on_screen(staff.rect_of(head), view),
            group=staff.on_screen(staff.group_rect_of(head), view),
            bottom_line_y=view.top_line_y + staff.step_y(_LOWEST_LINE),
            space_px=staff.space_px,
            step_y=lambda step: view.top_line_y + staff.step_y(step),
        )

    def _draw_heading(self, surface: pygame.Surface) -> None:
        sheet, theme = self.around.sheet, self.around.theme
        area = sheet.text_area
        stage_width = width_of(self.stage_name, Face.TEXT, sheet.text_px)
        title = fitted(self.passage.score.title, Face.TITLE, sheet.title_px, area.width - stage_width - sheet.px(40))
        set_line(surface, title, area.topleft, Face.TITLE, sheet.title_px, theme.ink)
        set_line_ending(
            surface,
            self.stage_name,
            (area.right, area.top + sheet.px(10)),
            Face.TEXT,
            sheet.text_px,
            theme.ink,
        )
        below = (area.left, area.top + sheet.px(52))
        set_line(
            surface,
            place_in_tune(self.passage, self.neck_map),
            below,
            Face.ITALIC,
            sheet.small_px,
            theme.faded,
        )

    def _draw_reading_mark(self, surface: pygame.Surface) -> None:
        """Two pencil ticks, above and below the staff."""
        theme, space = self.around.theme, self._staff.space_px
        x = self._staff_area.left + self._reading_x
        above = self._top_line_y - 5.2 * space
        below = self._top_line_y + 4 * space + 5.2 * space
        for y, seed in ((max(self._staff_area.top, above), 5), (below, 6)):
            tick = pencil.line(1.4 * space, max(2.2, space * 0.15), theme.pencil, seed, upright=True)
            surface.blit(tick, tick.get_rect(midtop=(x, y)))

    def _draw_below(self, surface: pygame.Surface, pressed: tuple[Place, float] | None) -> None:
        sheet, theme = self.around.sheet, self.around.theme
        area = sheet.text_area
        if self.sketch is not None and not self.neck_shown:
            room = pygame.Rect(
                area.left + sheet.px(20), sheet.paper.bottom - sheet.px(150), sheet.px(170), sheet.px(88)
            )
            draw_margin_sketch(
                surface, room, self.sketch, self.neck_map, theme, left_handed=self.around.settings.left_handed
            )
        neck = self.neck
        if neck:
            neck.draw(surface, theme)
            if self.sketch is not None:
                neck.draw_finger(surface, self.sketch, theme, seed=4)
            if pressed:
                neck.draw_finger(surface, pressed[0], theme)
        set_keys(surface, self.keys, sheet, theme)
        if self.aside:
            y = sheet.paper.bottom - sheet.px(258 if self.neck_shown else 100)
            x = area.left + (0 if self.neck_shown or self.sketch is None else sheet.px(230))
            text = fitted(self.aside, Face.ITALIC, sheet.text_px, area.right - x)
            set_line(surface, text, (x, y), Face.ITALIC, sheet.text_px, theme.faded)


def place_in_tune(passage: Passage, neck_map: NeckMap) -> str:
    """The line under the title: which bars, which position, which octave."""
    octave = say(f"page.octave.{passage.reading.value}")
    where = say("page.whole") if passage.whole else bars_in_words(passage)
    return say("page.where", bars=where, position=roman(neck_map.position), octave=octave)
