"""An assignment of the teacher's: what is to be practised until when. Enter lays the chosen part of it on the desk."""

from pathlib import Path

import pygame

from game.assignments.assigned_map import map_held
from game.assignments.assignment import AssignedLines, AssignedTune, Assignment
from game.assignments.assignment_reader import assignment_text
from game.desk.paper import draw_choice_mark, draw_heading, draw_paragraph, draw_text
from game.desk.typography import Face, shortened
from game.lines.levels import level_of
from game.screens.base_screen import BaseScreen
from game.screens.context import ScreenContext
from game.screens.key_hints import key_hints
from game.screens.reading.page_keys import free_string_keys
from game.screens.routes import Back, Route, ToAssigned
from game.screens.rows_in_sight import first_in_sight
from game.screens.shown_keys import draw_keys, lay_paper
from game.screens.tabbed_sheet import draw_next
from game.text.catalogue import say, tell

Part = AssignedTune | AssignedLines

_ROW, _FOOT = 40, 118
"""From one part to the next, and what keys and corner take at the foot, in units."""


class AssignmentScreen(BaseScreen):
    """The parts of an assignment, one a line. Its map and its tempi hold for the takes that are begun from here."""

    free_string_commands = True

    def __init__(self, context: ScreenContext, path: Path, assignment: Assignment) -> None:
        super().__init__(context)
        self._path, self.assignment = path, assignment
        self.parts: tuple[Part, ...] = (*assignment.tunes, *assignment.lines)
        self._chosen = 0
        self._rows: dict[int, pygame.Rect] = {}
        due = assignment.due.isoformat() if assignment.due else ""
        context.session.log.facts.open_assignment(assignment_text(path), title=assignment.title, due=due)
        held = map_held(assignment.neck_map, context.settings.neck_map())
        self._map = held.neck_map
        if held.trouble is not None:
            context.say(tell(held.trouble))

    def on_key(self, event: pygame.event.Event) -> Route | None:
        if event.key == pygame.K_ESCAPE:
            return Back()
        if event.key in (pygame.K_UP, pygame.K_DOWN) and self.parts:
            self._chosen = (self._chosen + (1 if event.key == pygame.K_DOWN else -1)) % len(self.parts)
        if event.key in (pygame.K_RETURN, pygame.K_KP_ENTER):
            return self._begin()
        return None

    def _begin(self) -> Route | None:
        return ToAssigned(self._path.parent, self.parts[self._chosen], self._map) if self.parts else None

    def on_click(self, at: tuple[int, int]) -> Route | None:
        """A click chooses a part; one on the chosen part begins it."""
        row = next((number for number, box in self._rows.items() if box.collidepoint(at)), None)
        if row is None:
            return None
        if row == self._chosen:
            return self._begin()
        self._chosen = row
        return None

    def draw(self, surface: pygame.Surface) -> bool:
        sheet, theme = self.context.sheet, self.context.theme
        lay_paper(self.context, surface)
        area = sheet.text_area
        due = self.assignment.due
        beside = say("assignment.due", day=due) if due else ""
        draw_heading(surface, sheet, theme, self.assignment.title, beside=beside)
        room = pygame.Rect(area.left, area.top + sheet.px(64), area.width, sheet.px(90))
        used = draw_paragraph(surface, self.assignment.note, room, Face.ITALIC, sheet.small_px, theme.faded)
        y = used.bottom + sheet.px(24)
        self._rows.clear()
        for index in self._in_sight(y):
            part = self.parts[index]
            self._rows[index] = pygame.Rect(area.left, y - sheet.px(5), area.width, sheet.px(_ROW))
            words = shortened(_in_words(part), Face.TEXT, sheet.text_px, area.width - sheet.px(36))
            draw_text(surface, words, (area.left + sheet.px(36), y), Face.TEXT, sheet.text_px, theme.ink)
            if index == self._chosen:
                draw_choice_mark(surface, sheet, theme, y + sheet.text_px * 0.65)
                self.context.window.follow(self._rows[index])
            y += sheet.px(_ROW)
        corner = draw_next(self.context, surface, say("assignment.begin"))
        keys = (("keys.updown", "keys.choose"), ("keys.escape", "keys.back"))
        string = free_string_keys(self.context, self.neck_map, "keys.free_result")
        draw_keys(self.context, surface, (*string, *key_hints(*keys)), right=corner.left / sheet.unit - 20)
        return True

    def _in_sight(self, top: int) -> range:
        """The parts that have room below a height, with the chosen one among them."""
        sheet = self.context.sheet
        shown = max(1, (sheet.paper.bottom - sheet.px(_FOOT) - top) // sheet.px(_ROW))
        first = first_in_sight(chosen=self._chosen, shown=shown, count=len(self.parts))
        return range(first, min(len(self.parts), first + shown))


def _in_words(part: Part) -> str:
    """A part: what, which bars, in which stages, to which tempo."""
    if isinstance(part, AssignedLines):
        words = [say("assignment.lines", level=level_of(part.level).told, count=part.a_day)]
    else:
        words = [part.title or part.file_name]
        if part.bars:
            words.append(say("assignment.bars", first=part.bars[0], last=part.bars[1]))
    words += [say(f"{stage.value}.name") for stage in part.stages]
    if part.target_bpm:
        words.append(say("assignment.tempo", bpm=part.target_bpm))
    return say("assignment.part", facts=tuple(words))
