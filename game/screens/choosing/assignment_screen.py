"""An assignment of the teacher's: what is to be practised until when, and what is done of it. Enter lays the chosen
part on the desk, in the stage that is next.
"""

from dataclasses import replace

import pygame

from game.assignments.assignment import AssignedTune
from game.assignments.set_against_done import DoneOfPart, Part, SetAgainstDone, parts_of, set_against_done
from game.desk.kit.by_pencil import draw_pencil, draw_tick
from game.desk.kit.canvas import Align, Canvas, Style
from game.desk.kit.fitted_line import fitted
from game.desk.typography import Face, shortened, text_width, wrapped
from game.player.player_assignments import OpenedAssignment
from game.screens.base_screen import BaseScreen
from game.screens.choosing.assignment_words import due_in_words, lines_in_words, part_in_words, stage_in_words
from game.screens.context import ScreenContext
from game.screens.key_hints import NamedKey, key_hints
from game.screens.reading.page_keys import free_string_keys
from game.screens.routes import Back, Route, ToAssigned, ToToday
from game.screens.rows_in_sight import first_in_sight
from game.screens.shown_keys import draw_keys, lay_paper
from game.screens.tabbed_sheet import draw_next
from game.text.catalogue import say, tell

_LEFT, _PART_LEFT, _RIGHT_MARGIN = 70.0, 116.0, 68.0
_HEADING, _NOTE, _NOTE_LINE, _FIRST, _STEP, _BELOW = 92.0, 132.0, 30.0, 182.0, 66.0, 28.0
_FOOT = 150.0
"""What keys and corner take at the foot, in units."""
_MOST_NOTE_LINES = 6
_TICK_ROOM, _BETWEEN = 26.0, 22.0
_TITLE_SAID = 60
"""So many letters of a title stand in a message."""
_ENTER = (pygame.K_RETURN, pygame.K_KP_ENTER)


class AssignmentScreen(BaseScreen):
    """The parts of an assignment, each with its stages. Its map and its tempi hold for takes that are begun here."""

    free_string_commands = True
    at_rest = True

    def __init__(self, context: ScreenContext, opened: OpenedAssignment) -> None:
        super().__init__(context)
        self.opened = opened
        self._chosen = 0
        self._asked = False
        self._rows: dict[int, pygame.Rect] = {}
        self._look()
        left = (number for number, part in enumerate(self.done.parts) if not part.done_today)
        self._chosen = next(left, 0)
        held = context.session.assignments.map_of(opened.assignment)
        if held.trouble is not None:
            context.say(tell(held.trouble))

    def _look(self) -> None:
        """What is done of it, and which of its tunes are not to be had."""
        assignments, assignment = self.context.session.assignments, self.opened.assignment
        self.opened = assignments.of(self.opened.id)
        self._day = self.context.session.today()
        today = self._day.toordinal()
        nothing = set_against_done(assignment, (), (), opened=today, today=today)
        self.done: SetAgainstDone = assignments.against_done(self.opened.id) or nothing
        self._missing = {
            number
            for number, part in enumerate(self.parts)
            if isinstance(part, AssignedTune) and assignments.tune_of(self.opened.id, number) is None
        }

    @property
    def parts(self) -> tuple[object, ...]:
        """What was set, tunes first."""
        return parts_of(self.opened.assignment)

    def read_anew(self) -> None:
        self._look()

    def on_tick(self, now_s: float) -> Route | None:  # noqa: ARG002 - part of the interface
        if self.context.session.today() != self._day:
            self._look()
        return None

    def on_key(self, event: pygame.event.Event) -> Route | None:
        asked, self._asked = self._asked, False
        match event.key:
            case pygame.K_ESCAPE:
                return Back()
            case key if key in _ENTER:
                return self._begin()
            case pygame.K_UP | pygame.K_DOWN:
                self._chosen = (self._chosen + (1 if event.key == pygame.K_DOWN else -1)) % len(self.parts)
            case pygame.K_DELETE if not self.opened.withdrawn:
                self._withdraw(asked=asked)
            case pygame.K_BACKSPACE if self.opened.withdrawn:
                self._take_back()
        return None

    def on_wheel(self, up: int) -> Route | None:
        self._chosen = min(max(self._chosen - up, 0), len(self.parts) - 1)
        return None

    def _withdraw(self, *, asked: bool) -> None:
        """Asked for twice; what was done of it is kept, and it can be taken back."""
        title = self.opened.assignment.title[:_TITLE_SAID]
        if not asked:
            self._asked = True
            self.context.say(say("assignment.ask_withdraw", title=title))
            return
        self.context.session.assignments.withdraw(self.opened.id)
        self.context.say(say("assignment.now_withdrawn", title=title))
        self._look()

    def _take_back(self) -> None:
        """It is set again."""
        self.context.session.assignments.withdraw(self.opened.id, withdrawn=False)
        self.context.say(say("assignment.taken_back", title=self.opened.assignment.title[:_TITLE_SAID]))
        self._look()

    def _begin(self) -> Route | None:
        return ToToday() if self.done.done else ToAssigned(self.opened.id, self._chosen)

    def on_click(self, at: tuple[int, int]) -> Route | None:
        """A click chooses a part; one on the chosen part begins it."""
        row = next((number for number, box in self._rows.items() if box.collidepoint(at)), None)
        if row is None:
            return None
        if row == self._chosen:
            return ToAssigned(self.opened.id, self._chosen)
        self._chosen, self._asked = row, False
        return None

    def draw(self, surface: pygame.Surface) -> bool:
        lay_paper(self.context, surface)
        canvas = Canvas(surface, self.context.sheet, self.context.theme)
        right = canvas.sheet.size[0] / canvas.sheet.unit - _RIGHT_MARGIN
        y = self._draw_head(canvas, right)
        self._rows.clear()
        shown = self._in_sight(canvas, y)
        for number in shown:
            top = y + _STEP * (number - shown.start)
            self._rows[number] = canvas.rect(_LEFT - 8, top - 30, right + 8 - _LEFT, _STEP)
            self._draw_part(canvas, self.done.parts[number], number, top, right)
        self.context.window.follow(self._rows[self._chosen])
        at = (_PART_LEFT, y + _STEP * len(shown) - 4)
        canvas.write(self._out_of_sight(shown), at, Style(Face.ITALIC, 21, canvas.theme.faded))
        self._draw_foot(surface, canvas)
        return True

    def _out_of_sight(self, shown: range) -> str:
        """How many parts there are besides those that are shown, above and below."""
        below, above = len(self.parts) - shown.stop, shown.start
        return ", ".join(
            (
                *([say("today.more_below", count=below)] if below else ()),
                *([say("assignment.more_above", count=above)] if above else ()),
            )
        )

    def _draw_head(self, canvas: Canvas, right: float) -> float:
        """Title, due day and note; returns where the first part stands."""
        theme, assignment = canvas.theme, self.opened.assignment
        said = say("assignment.withdrawn") if self.opened.withdrawn else due_in_words(self.done, assignment.due)
        late = self.done.overdue and not self.opened.withdrawn
        beside = Style(Face.TEXT, 26, theme.accent if late else theme.ink)
        canvas.write(said, (right, _HEADING), beside, Align.RIGHT)
        room = right - _LEFT - canvas.width_of(said, beside) - 40
        title, style = fitted(canvas, assignment.title, Style(Face.TITLE, 44, theme.ink), room)
        canvas.write(title, (_LEFT, _HEADING), style)
        quiet = Style(Face.ITALIC, 24, theme.faded)
        px, room_px = canvas.px(quiet.size), canvas.px(right - _LEFT)
        lines = wrapped(assignment.note, quiet.face, px, room_px)
        if len(lines) > _MOST_NOTE_LINES:
            rest = " ".join(lines[_MOST_NOTE_LINES - 1 :])
            lines = (*lines[: _MOST_NOTE_LINES - 1], shortened(rest, quiet.face, px, room_px))
        for row, line in enumerate(lines):
            canvas.write(line, (_LEFT, _NOTE + _NOTE_LINE * row), quiet)
        return _FIRST + _NOTE_LINE * max(0, len(lines) - 1)

    def _in_sight(self, canvas: Canvas, top: float) -> range:
        """The parts that have room below a height, the chosen one among them."""
        height = canvas.sheet.size[1] / canvas.sheet.unit
        shown = max(1, int((height - _FOOT - top) // _STEP) + 1)
        first = first_in_sight(chosen=self._chosen, shown=shown, count=len(self.parts))
        return range(first, min(len(self.parts), first + shown))

    def _draw_part(self, canvas: Canvas, part: DoneOfPart, number: int, y: float, right: float) -> None:
        theme, chosen = canvas.theme, number == self._chosen
        if chosen:
            draw_pencil(canvas, [(64, y - 8), (96, y - 10)], 5.5, theme.accent, 8)
        elif part.done:
            draw_tick(canvas, (72, y - 7), 18, theme.read, 30 + number)
        colour = theme.faded if part.done and not chosen else theme.ink
        wanted = Style(Face.TITLE if chosen else Face.TEXT, 28, colour)
        words, style = _fitted_part(canvas, part.part, wanted, right - _PART_LEFT)
        canvas.write(words, (_PART_LEFT, y), style)
        self._draw_stages(canvas, part, number, y + _BELOW, right)

    def _draw_stages(self, canvas: Canvas, part: DoneOfPart, number: int, y: float, right: float) -> None:
        """The stages in a row, a tick before each that is done; what of lines is counted after them."""
        x, quiet = _PART_LEFT, Style(Face.ITALIC, 22, canvas.theme.faded)
        if number in self._missing:
            words, style = fitted(canvas, say("assignment.not_on_shelf"), quiet, right - x)
            canvas.write(words, (x, y), style)
            return
        for at, stage in enumerate(part.stages):
            if stage.done or part.done:
                draw_tick(canvas, (x, y - 5), 15, canvas.theme.read, 60 + 7 * number + at)
                x += _TICK_ROOM
            x = canvas.write(stage_in_words(stage, part.part), (x, y), quiet).right / canvas.sheet.unit + _BETWEEN
        counted = lines_in_words(part)
        if counted:
            words, style = fitted(canvas, counted, Style(Face.TEXT, 22, canvas.theme.read), right - x)
            canvas.write(words, (x, y), style)

    def _draw_foot(self, surface: pygame.Surface, canvas: Canvas) -> None:
        part = self.done.parts[self._chosen]
        if self.done.done:
            corner = draw_next(self.context, surface, say("assignment.to_today"), above=say("assignment.all_done"))
        else:
            words = stage_in_words(part.next_up, part.part)
            corner = draw_next(self.context, surface, say("assignment.begin"), above=words)
        out = ("keys.backspace", "keys.take_back") if self.opened.withdrawn else ("keys.delete", "keys.remove")
        keys: tuple[NamedKey, ...] = (
            ("keys.updown", "keys.choose"),
            out,
            ("keys.escape", "keys.back"),
        )
        string = free_string_keys(self.context, self.neck_map, "keys.free_result")
        right = corner.left / canvas.sheet.unit - 20
        draw_keys(self.context, surface, (*string, *key_hints(*keys)), right=right, most_rows=2)


def _fitted_part(canvas: Canvas, part: Part, wanted: Style, room: float) -> tuple[str, Style]:
    """What is set in one line: smaller where it is long; then the title is cut, never the bars."""
    words, style = fitted(canvas, part_in_words(part), wanted, room)
    if words == part_in_words(part) or not isinstance(part, AssignedTune):
        return words, style
    px = canvas.px(style.size)
    bars = part_in_words(replace(part, title="", file_name=""))
    title = shortened(part.title or part.file_name, style.face, px, canvas.px(room) - text_width(bars, style.face, px))
    return part_in_words(replace(part, title=title)), style
