"""What is seen while a tune is entered: the head of the page, the music in ink and pencil, and the pencil's place."""

from dataclasses import dataclass, replace

import pygame

from game.desk import pencil
from game.desk.kit.canvas import Canvas
from game.desk.kit.key_rows import ROW_HEIGHT
from game.desk.mark_lanes import NoteBox
from game.desk.neck_drawing import NeckDrawing
from game.desk.paper import draw_choice_mark, draw_heading, draw_text, draw_text_right
from game.desk.theme import Colour
from game.desk.typography import Face, shortened, text_width
from game.neck.neck_map import NeckMap
from game.screens.context import ScreenContext
from game.screens.key_hints import KeyHint
from game.screens.reading.neck_letters import draw_letters, letters_of_places
from game.screens.shown_keys import draw_keys, lay_paper
from game.screens.tabbed_sheet import draw_next
from game.screens.writing.draft_music import DraftMusic
from game.screens.writing.head_rows import HEAD_ROWS, head_in_words
from game.text.catalogue import say
from game.tunes.entering.draft import Draft
from game.tunes.entering.entering import Entering, EntryStep
from game.tunes.entering.rhythm_entry import notes_before, pitch_due

_ROW_UNITS = 31
_TOP_UNITS = 92
_KEY_ROWS = 2
_TO_CORNER = 20.0
"""From the keys to the corner, in units."""


@dataclass(frozen=True, slots=True, kw_only=True)
class EntryWords:
    """What is said: `status` below the music, the `beat` of the click, the `keys` at the foot and above them what the
    `free` string does; `on` is what the corner leads to, by its key in the catalogue, empty for nothing.
    """

    status: str
    beat: str
    keys: tuple[KeyHint, ...]
    free: tuple[KeyHint, ...]
    on: str
    row: int
    typed: str | None


class EnteringView:
    """Draws a tune being entered. Nothing is decided here."""

    def __init__(self, context: ScreenContext, state: Entering) -> None:
        self._context = context
        self.neck_shown = not context.devices.instruments.present
        self.music = DraftMusic(context, pygame.Rect(0, 0, 0, 0))
        self._drawn: object = None
        self._state = state
        self.resized()

    @property
    def neck_map(self) -> NeckMap:
        """The map that holds."""
        return self._context.settings.neck_map()

    def show(self, state: Entering) -> None:
        """The state as it is now; a run leaves the page as it stands."""
        self._state = state
        if state.run is None:
            self.music.show(self._shown_draft, self._music_area)
        self.music.look_at(self._pencil_pitch, ahead=state.run is not None)

    def resized(self) -> None:
        """The window or the look has changed."""
        self._drawn = None
        self.music.show(self._shown_draft, self._music_area)
        self.music.forget()
        self.music.look_at(self._pencil_pitch)

    @property
    def _shown_draft(self) -> Draft:
        """Below the rows of the head there is room for an empty staff with its signatures."""
        draft = self._state.draft
        return replace(draft, pitches=(), onsets=()) if self._state.step is EntryStep.HEAD else draft

    @property
    def _pencil_pitch(self) -> int | None:
        state, notes = self._state, len(self._state.draft.pitches)
        if not notes or state.step is EntryStep.HEAD:
            return None
        if state.step is EntryStep.RHYTHM:
            return min(pitch_due(state), notes - 1)
        return max(0, state.at - 1) if state.step is EntryStep.PITCHES else state.at

    @property
    def neck(self) -> NeckDrawing | None:
        """The neck to be played with the mouse, where pitches are played without an instrument. In the rhythm its room
        is better used by the lines to come.
        """
        if not self.neck_shown or self._state.step not in (EntryStep.PITCHES, EntryStep.PAGE):
            return None
        sheet = self._context.sheet
        area = sheet.text_area
        room = pygame.Rect(area.left, sheet.paper.bottom - sheet.px(276), area.width, sheet.px(150))
        return NeckDrawing(
            room=room,
            neck_map=self.neck_map,
            left_handed=self._context.settings.left_handed,
            capo=self._context.settings.capo_in_use,
        )

    @property
    def _music_area(self) -> pygame.Rect:
        sheet = self._context.sheet
        area = sheet.text_area
        top = area.top + sheet.px(_TOP_UNITS)
        if self._state.step is EntryStep.HEAD:
            top = self._row_y(len(HEAD_ROWS)) + sheet.px(6)
        below = sheet.px(316 if self.neck else self._status_units + 32)
        return pygame.Rect(area.left, top, area.width, max(sheet.paper.bottom - below - top, sheet.px(110)))

    @property
    def _status_units(self) -> float:
        """From the lower edge of the paper up to what is said, above the rows of keys: the string says nothing to the
        head, which has one row and needs the room.
        """
        return 139 + (0 if self._state.step is EntryStep.HEAD else ROW_HEIGHT)

    def _row_y(self, row: int) -> int:
        sheet = self._context.sheet
        return sheet.text_area.top + sheet.px(_TOP_UNITS + row * _ROW_UNITS)

    def row_at(self, at: tuple[int, int]) -> int | None:
        """The row of the head under a point."""
        rows = (row for row in range(len(HEAD_ROWS)) if self._row_y(row) <= at[1] < self._row_y(row + 1))
        return next(rows, None) if self._state.step is EntryStep.HEAD else None

    def draw_entry(self, surface: pygame.Surface, words: EntryWords) -> bool:
        """Draw the page; while a run goes on only the music unless something else is new. Whether all was drawn."""
        context = self._context
        ground = (id(surface), context.sheet, context.theme, context.message_shown and context.window.message, words)
        fresh = ground != self._drawn or self._state.run is None
        if fresh:
            self._drawn = ground
            lay_paper(self._context, surface)
            self._draw_top(surface, words)
            self._draw_foot(surface, words)
        surface.set_clip(self._music_area)
        self.music.draw(surface, self._colours())
        self._draw_pencil(surface)
        surface.set_clip(None)
        self._follow(words)
        return fresh

    def _follow(self, words: EntryWords) -> None:
        """What is typed; the row, the note or the bar the pencil is at."""
        sheet, window, state = self._context.sheet, self._context.window, self._state
        window.say_below(words.status if words.typed is None else "")
        area, pitch = sheet.text_area, self._pencil_pitch
        if words.typed is not None:
            window.follow(pygame.Rect(area.left, self._status_y, area.width, 2 * sheet.text_px))
        elif state.step is EntryStep.HEAD:
            y = self._row_y(words.row)
            window.follow(pygame.Rect(area.left, y, area.width, self._row_y(words.row + 1) - y))
        elif state.step is EntryStep.RHYTHM:
            staff = self.music.staff_of_bar(state.bar + (1 if state.draft.begins_early else 0))
            if staff is not None:
                window.follow(staff.inflate(0, staff.height))
        else:
            box = None if pitch is None else self.music.box_of(pitch)
            staff = self.music.staff_of_bar(0) if box is None else box.group
            if staff is not None:
                window.follow(staff.inflate(staff.height, staff.height))

    def _colours(self) -> dict[int, Colour]:
        """Pencil for what has no place in time, blue for what was tapped just now; the rest is ink."""
        theme, draft, state = self._context.theme, self._shown_draft, self._state
        colours: dict[int, Colour] = dict.fromkeys(range(draft.timed, len(draft.pitches)), theme.pencil)
        if state.run is not None:
            tapped = range(notes_before(draft, state.run.start), pitch_due(state))
            colours |= dict.fromkeys(tapped, theme.read)
        return colours

    def _draw_top(self, surface: pygame.Surface, words: EntryWords) -> None:
        sheet, theme, draft = self._context.sheet, self._context.theme, self._state.draft
        title = draft.title or say("writing.untitled")
        below = head_in_words(draft, self._context.settings.note_names)
        room = self._draw_steps(surface) - sheet.text_area.left - sheet.px(20)
        draw_heading(surface, sheet, theme, shortened(title, Face.TITLE, sheet.title_px, room), below=below)
        if words.beat:
            at = (sheet.text_area.right, sheet.text_area.top + sheet.px(46))
            draw_text_right(surface, words.beat, at, Face.FIGURES, sheet.text_px, theme.pencil)
        if self._state.step is EntryStep.HEAD:
            self._draw_rows(surface, words)

    def _draw_steps(self, surface: pygame.Surface) -> int:
        """The steps in the right corner, the one of now in ink with a stroke of the red pencil under it; returns where
        they begin.
        """
        sheet, theme = self._context.sheet, self._context.theme
        x, y = sheet.text_area.right, sheet.text_area.top + sheet.px(12)
        for step in reversed(EntryStep):
            here = step is self._state.step
            name = say(f"writing.step.{step.value}")
            width = text_width(name, Face.TEXT, sheet.small_px)
            colour = theme.ink if here else theme.faded
            draw_text(surface, name, (x - width, y), Face.TEXT, sheet.small_px, colour)
            if here:
                stroke = pencil.line(width, max(1.6, sheet.px(3)), theme.accent, seed=5)
                surface.blit(stroke, stroke.get_rect(midtop=(x - width / 2, y + sheet.small_px * 1.2)))
            x -= width + sheet.px(26)
        return x

    def _draw_rows(self, surface: pygame.Surface, words: EntryWords) -> None:
        sheet, theme = self._context.sheet, self._context.theme
        left, names = sheet.text_area.left + sheet.px(34), self._context.settings.note_names
        for number, row in enumerate(HEAD_ROWS):
            y = self._row_y(number)
            draw_text(surface, say(row.name), (left, y), Face.ITALIC, sheet.small_px, theme.faded)
            value = row.words(self._state.draft, names)
            if row.text and number == words.row:
                value += "…"
            at = (left + sheet.px(220), y)
            shown = shortened(value, Face.TEXT, sheet.small_px, sheet.text_area.right - at[0])
            draw_text(surface, shown, at, Face.TEXT, sheet.small_px, theme.ink)
            if number == words.row:
                draw_choice_mark(surface, sheet, theme, y + sheet.small_px * 0.65)

    def _draw_foot(self, surface: pygame.Surface, words: EntryWords) -> None:
        sheet, theme = self._context.sheet, self._context.theme
        neck = self.neck
        if neck:
            neck.draw(surface, theme, numbered=False)
            draw_letters(Canvas(surface, sheet, theme), neck, letters_of_places(self.neck_map))
        right = None
        if words.on:
            right = draw_next(self._context, surface, say(words.on)).left / sheet.unit - _TO_CORNER
        draw_keys(self._context, surface, words.keys, most_rows=_KEY_ROWS, right=right)
        if words.free:
            draw_keys(self._context, surface, words.free, row=_KEY_ROWS)
        y = self._status_y
        text = words.status if words.typed is None else say("writing.typed", text=f"{words.typed}…")
        face = Face.ITALIC if words.typed is None else Face.TEXT
        shown = shortened(text, face, sheet.text_px, sheet.text_area.width)
        draw_text(surface, shown, (sheet.text_area.left, y), face, sheet.text_px, theme.ink)

    @property
    def _status_y(self) -> int:
        """Where the sentence above the keys stands."""
        sheet = self._context.sheet
        return sheet.paper.bottom - sheet.px(308 if self.neck else self._status_units)

    def _draw_pencil(self, surface: pygame.Surface) -> None:
        """Where the pencil is: behind a note, under a note, or under the bar to be tapped."""
        state, pitch = self._state, self._pencil_pitch
        box = None if pitch is None else self.music.box_of(pitch)
        if state.step is EntryStep.PITCHES:
            self._draw_insertion(surface, box)
        elif state.step is EntryStep.RHYTHM and state.run is None:
            self._draw_bar_mark(surface)
        elif box is not None and state.step is not EntryStep.HEAD:
            self._stroke_under(surface, box.head.centerx, self._below(box), 1.8 * box.space_px)

    @staticmethod
    def _below(box: NoteBox) -> float:
        return max(box.bottom_line_y, box.group.bottom) + 1.1 * box.space_px

    def _stroke_under(self, surface: pygame.Surface, centre_x: float, y: float, width: float) -> None:
        thick = max(1.8, self.music.space_px * 0.2)
        stroke = pencil.line(width, thick, self._context.theme.accent, seed=4)
        surface.blit(stroke, stroke.get_rect(center=(centre_x, y)))

    def _draw_insertion(self, surface: pygame.Surface, box: NoteBox | None) -> None:
        """An upright stroke where the next pitch comes."""
        space = self.music.space_px
        staff = self.music.staff_of_bar(0) if box is None else None
        if box is not None:
            x = box.group.right + 0.45 * space if self._state.at else box.group.left - 0.7 * space
            bottom = box.bottom_line_y
        elif staff is not None:
            x, bottom = staff.right - 1.5 * space, staff.bottom
        else:
            return
        thick = max(1.8, space * 0.2)
        stroke = pencil.line(6 * space, thick, self._context.theme.accent, seed=6, upright=True)
        surface.blit(stroke, stroke.get_rect(center=(x, bottom - 2 * space)))

    def _draw_bar_mark(self, surface: pygame.Surface) -> None:
        state = self._state
        staff = self.music.staff_of_bar(state.bar + (1 if state.draft.begins_early else 0))
        if staff is not None:
            self._stroke_under(surface, staff.centerx, staff.bottom + 3.2 * self.music.space_px, 0.7 * staff.width)
