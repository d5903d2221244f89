"""The courses: folders or books of tunes that are worked through in their order, some bars a day, several times; what
each time came to stands beside the time before. Their bars of a day are a step of Today.
"""

import pygame

from game.coach.plan.course import FEWEST_BARS, MOST_BARS, Course, CourseStanding
from game.desk.kit.by_pencil import draw_pencil
from game.desk.kit.canvas import Canvas, Style
from game.desk.kit.fitted_line import fitted
from game.desk.typography import Face
from game.screens.base_screen import BaseScreen
from game.screens.choosing.course_words import course_title, figures_in_words, standing_in_words
from game.screens.choosing.shelf_list import ShelfList
from game.screens.context import ScreenContext
from game.screens.key_hints import NamedKey, key_hints
from game.screens.routes import Back, Route, ToProgramme, ToToday
from game.screens.rows_in_sight import first_in_sight
from game.screens.shown_keys import draw_keys, lay_paper
from game.screens.tabbed_sheet import draw_next
from game.text.catalogue import say
from game.tunes.library.shelf_entry import ShelfEntry

_LEFT, _HEADING, _BELOW = 70.0, 92.0, 132.0
_FIRST, _STEP, _TITLE_LEFT = 200.0, 104.0, 112.0
_ENTER = (pygame.K_RETURN, pygame.K_KP_ENTER)


class CoursesScreen(BaseScreen):
    """The courses, the one begun first at the head. A new one is made of the tunes that came together last, or of what
    the shelf was searched for.
    """

    at_rest = True
    free_string_commands = True

    def __init__(self, context: ScreenContext) -> None:
        super().__init__(context)
        self.chosen = 0
        self._asked_of = ""
        self._look()

    def _look(self) -> None:
        self.standings: tuple[CourseStanding, ...] = self.context.session.plan.course_standings()
        self.chosen = min(self.chosen, max(0, len(self.standings) - 1))

    @property
    def course(self) -> Course | None:
        """The one that is chosen."""
        return self.standings[self.chosen].course if self.standings else None

    @property
    def offered(self) -> tuple[ShelfEntry, ...]:
        """The tunes a new course would be made of, in their order: two at least."""
        last = self.context.window.imports.last
        entries = last.entries if last is not None and last.several else ()
        if not entries and self.context.session.shelf_view.words:
            entries = ShelfList(self.context).entries
        return entries if len(entries) > 1 else ()

    def read_anew(self) -> None:
        self._look()

    def on_key(self, event: pygame.event.Event) -> Route | None:
        match event.key:
            case pygame.K_ESCAPE:
                return Back()
            case key if key in _ENTER:
                return ToToday()
            case pygame.K_TAB:
                return ToProgramme()
            case pygame.K_UP | pygame.K_DOWN if self.standings:
                self.chosen = (self.chosen + (1 if event.key == pygame.K_DOWN else -1)) % len(self.standings)
                self._asked_of = ""
            case pygame.K_LEFT | pygame.K_RIGHT if self.course is not None:
                self._change_bars(self.course, 1 if event.key == pygame.K_RIGHT else -1)
            case pygame.K_INSERT if self.offered:
                self._begin(self.offered)
            case pygame.K_DELETE if self.course is not None:
                self._end(self.course)
        return None

    def _begin(self, entries: tuple[ShelfEntry, ...]) -> None:
        """A course of these tunes, under a title that no other has."""
        taken = {standing.course.title for standing in self.standings}
        title = course_title(entries, taken)
        self._keep(Course(title=title, tunes=tuple(entry.name for entry in entries)))
        titles = [standing.course.title for standing in self.standings]
        self.chosen = titles.index(title) if title in titles else 0

    def _change_bars(self, course: Course, by: int) -> None:
        bars = min(max(course.bars_a_day + by, FEWEST_BARS), MOST_BARS)
        self._keep(Course(title=course.title, tunes=course.tunes, bars_a_day=bars))

    def _keep(self, course: Course) -> None:
        self.context.session.log.facts.keep_course(course)
        self.context.session.plan.begin_again()
        self._look()

    def _end(self, course: Course) -> None:
        """Asked for twice; what was played of it is kept."""
        if self._asked_of != course.title:
            self._asked_of = course.title
            self.context.say(say("courses.end", title=course.title))
            return
        self._asked_of = ""
        self.context.session.log.facts.end_course(course.title)
        self.context.session.plan.begin_again()
        self._look()

    @property
    def _rows_shown(self) -> int:
        height = self.context.sheet.size[1] / self.context.sheet.unit
        return max(1, int((height - 130 - _FIRST) // _STEP) + 1)

    @property
    def _first_shown(self) -> int:
        return first_in_sight(chosen=self.chosen, shown=self._rows_shown, count=len(self.standings))

    def on_click(self, at: tuple[int, int]) -> Route | None:
        """A click chooses a course."""
        row = int((at[1] / self.context.sheet.unit - _FIRST + 36) // _STEP)
        number = self._first_shown + row
        if 0 <= row < self._rows_shown and number < len(self.standings):
            self.chosen, self._asked_of = number, ""
        return None

    def draw(self, surface: pygame.Surface) -> bool:
        lay_paper(self.context, surface)
        canvas = Canvas(surface, self.context.sheet, self.context.theme)
        right = canvas.sheet.size[0] / canvas.sheet.unit - 68
        canvas.write(say("courses.title"), (_LEFT, _HEADING), Style(Face.TITLE, 44, canvas.theme.ink))
        said = say("courses.explain") if self.standings or self.offered else say("courses.none")
        words, style = fitted(canvas, said, Style(Face.ITALIC, 24, canvas.theme.faded), right - _LEFT)
        canvas.write(words, (_LEFT, _BELOW), style)
        first = self._first_shown
        for row, standing in enumerate(self.standings[first : first + self._rows_shown]):
            self._draw_course(canvas, _FIRST + _STEP * row, standing, right, chosen=first + row == self.chosen)
            if first + row == self.chosen:
                self.context.window.follow(canvas.rect(_LEFT, _FIRST + _STEP * row - 36, right - _LEFT, _STEP))
        corner = draw_next(self.context, surface, say("courses.today"))
        draw_keys(
            self.context, surface, key_hints(*self._keys()), right=corner.left / canvas.sheet.unit - 20, most_rows=2
        )
        return True

    def _draw_course(self, canvas: Canvas, y: float, standing: CourseStanding, right: float, *, chosen: bool) -> None:
        theme = canvas.theme
        if chosen:
            draw_pencil(canvas, [(62, y - 8), (80, y - 10), (99, y - 9)], 6.0, theme.accent, 31)
        face, width = Face.TITLE if chosen else Face.TEXT, right - _TITLE_LEFT
        lines = (
            (standing.course.title, Style(face, 30, theme.ink)),
            (standing_in_words(standing), Style(Face.ITALIC, 23, theme.faded)),
            (figures_in_words(standing), Style(Face.TEXT, 23, theme.read)),
        )
        for number, (words, wanted) in enumerate(lines):
            text, style = fitted(canvas, words, wanted, width)
            canvas.write(text, (_TITLE_LEFT, y + 31 * number), style)

    def _keys(self) -> list[NamedKey]:
        keys: list[NamedKey] = []
        if self.standings:
            keys = [("keys.updown", "keys.choose"), ("keys.arrows", "keys.bars_a_day"), ("keys.delete", "keys.remove")]
        if self.offered:
            keys.append(("keys.insert", "keys.new_course"))
        return [*keys, ("keys.tab", "keys.programme"), ("keys.escape", "keys.back")]
