"""Progress: the neck by how quickly each note is found, first sight and minutes by day, and what the days brought."""

from dataclasses import dataclass
from datetime import date, datetime, timedelta

import pygame

from game.desk import pencil
from game.desk.neck_drawing import NeckDrawing
from game.desk.paper import lay_paper, set_block, set_heading, set_keys, set_line, set_line_ending
from game.desk.surroundings import Surroundings
from game.desk.theme import Colour
from game.desk.type import Face, musical, typeset
from game.desk.words import say
from game.errors import LogError
from game.neck.tuning import Place
from game.practice_log.figures import DayFigures, NoteFigures, PassageFigures, gathered
from game.report.student import WEEK, WEEKS_OF_NOTES, Quicker, quicker
from game.screens.destinations import Destination, ToShelf
from game.screens.screen import Still

# The neck shows the reading of so many days; what got quicker is told week by week.
_DAYS_ON_NECK = WEEK * WEEKS_OF_NOTES
_DAYS_SHOWN = 21
_SLOWEST, _PASSAGES, _QUICKER = 5, 4, 3
# From here a note is found at once, and from here on the hand is looking for it (ours: the bridge of `places`).
_QUICK_S, _SLOW_S = 0.6, 2.5
_LEAST_TIMED = 2


@dataclass(frozen=True, slots=True, kw_only=True)
class Progress:
    """What there is to show: days, notes of the last weeks and of the one before, passages with marks."""

    days: tuple[DayFigures, ...] = ()
    notes: tuple[NoteFigures, ...] = ()
    quicker: tuple[Quicker, ...] = ()
    passages: tuple[PassageFigures, ...] = ()

    @property
    def slowest(self) -> tuple[NoteFigures, ...]:
        """The notes that take longest, the slowest first."""
        timed = [note for note in self.notes if note.find_s is not None and note.timed >= _LEAST_TIMED]
        return tuple(sorted(timed, key=lambda note: -(note.find_s or 0.0))[:_SLOWEST])


def progress_of(around: Surroundings, today: date) -> Progress:
    """What the player's log comes to. Raises `LogError` for one that cannot be read."""
    keeping = around.keeping
    if keeping is None:
        return Progress()
    with keeping.log.reading() as connection, gathered(connection, keeping.player.uuid) as figures:
        gains = quicker(figures.notes(today - timedelta(days=WEEK), WEEK), figures.notes(today, WEEK))
        return Progress(
            days=figures.days()[-_DAYS_SHOWN:],
            notes=figures.notes(today, _DAYS_ON_NECK),
            quicker=gains[:_QUICKER],
            passages=tuple(passage for passage in figures.passages() if passage.marks)[:_PASSAGES],
        )


class ProgressScreen(Still):
    """What the practice came to."""

    def __init__(self, around: Surroundings) -> None:
        super().__init__(around)
        today = date.fromordinal(around.mastering.day) if around.mastering else datetime.now().astimezone().date()
        try:
            self.progress = progress_of(around, today)
        except LogError as error:
            self.progress = Progress()
            around.say_error(error)

    def handle(self, event: pygame.event.Event) -> Destination | None:
        left = event.type == pygame.KEYDOWN and event.key in (pygame.K_ESCAPE, pygame.K_RETURN)
        return ToShelf() if left else None

    def draw(self, surface: pygame.Surface) -> bool:
        sheet, theme = self.around.sheet, self.around.theme
        lay_paper(surface, sheet, theme)
        area = sheet.text_area
        set_heading(surface, sheet, theme, say("progress.title"), below=self._in_short())
        if self.progress.days:
            self._draw_neck(surface, pygame.Rect(area.left, area.top + sheet.px(120), area.width, sheet.px(186)))
            top = area.top + sheet.px(342)
            half = (area.width - sheet.px(50)) // 2
            self._draw_days(surface, pygame.Rect(area.left, top, half, sheet.paper.bottom - sheet.px(96) - top))
            self._draw_words(surface, pygame.Rect(area.left + half + sheet.px(50), top, half, sheet.px(220)))
        set_keys(surface, ((say("keys.escape"), say("keys.shelf")),), sheet, theme)
        return True

    def _in_short(self) -> str:
        days = self.progress.days
        if not days:
            return say("progress.nothing")
        week = [day for day in days if (days[-1].day - day.day).days < WEEK]
        minutes = round(sum(day.minutes for day in week))
        return say("progress.week", days=len(week), minutes=minutes)

    def _draw_neck(self, surface: pygame.Surface, room: pygame.Rect) -> None:
        """The homes that were read: the darker the quicker, the slowest ringed."""
        settings, theme = self.around.settings, self.around.theme
        neck = NeckDrawing(room=room, neck_map=settings.neck_map(), left_handed=settings.left_handed)
        neck.draw(surface, theme)
        slowest = {Place(note.string, note.fret) for note in self.progress.slowest}
        for note in self.progress.notes:
            place = Place(note.string, note.fret)
            if note.fret > neck.last_fret or note.string > neck.strings:
                continue
            centre, diameter = neck.centre_of(place), room.height / neck.strings * 0.86
            fill = _between(theme.paper, theme.read, _quickness(note.find_s))
            pygame.draw.circle(surface, fill, centre, diameter / 2)
            ink = theme.paper if _quickness(note.find_s) > 0.5 else theme.ink
            name = typeset(musical(note.written.rstrip("0123456789")), Face.TEXT, round(diameter * 0.52), ink)
            surface.blit(name, name.get_rect(center=centre))
            if place in slowest:
                ring = pencil.ring(diameter * 1.18, max(1.8, diameter * 0.08), theme.accent, seed=note.fret)
                surface.blit(ring, ring.get_rect(center=centre))

    def _draw_days(self, surface: pygame.Surface, room: pygame.Rect) -> None:
        """Dots: the share read clean at first sight, with where it surely lies. Bars below: minutes."""
        sheet, theme, days = self.around.sheet, self.around.theme, self.progress.days
        at = (room.left, room.top)
        set_line(surface, say("progress.sight"), at, Face.ITALIC, sheet.small_px, theme.faded)
        plot = pygame.Rect(room.left, room.top + sheet.px(34), room.width, round(room.height * 0.5))
        bars = pygame.Rect(room.left, plot.bottom + sheet.px(8), room.width, room.bottom - plot.bottom - sheet.px(32))
        for share in (0.5, 1.0):
            y = plot.bottom - share * plot.height
            pygame.draw.line(surface, theme.edge, (plot.left, y), (plot.right, y), 1)
            at = (plot.right, round(y) + sheet.px(1))
            set_line_ending(surface, f"{share:.0%}", at, Face.FIGURES, sheet.small_px, theme.faded)
        most = max(day.minutes for day in days) or 1.0
        step = room.width / _DAYS_SHOWN
        for index, day in enumerate(days):
            x = room.left + (index + 0.5) * step
            if day.share is not None:
                low, high = (plot.bottom - edge * plot.height for edge in day.interval)
                pygame.draw.line(surface, theme.pencil, (x, low), (x, high), max(1, sheet.px(2)))
                centre = (x, plot.bottom - day.share * plot.height)
                pygame.draw.circle(surface, theme.read, centre, max(3.0, sheet.px(5)))
            height = max(1, round(bars.height * day.minutes / most))
            surface.fill(
                theme.faded, pygame.Rect(round(x - step * 0.3), bars.bottom - height, round(step * 0.6), height)
            )
        words = say("progress.minutes", first=days[0].day.strftime("%d.%m."), last=days[-1].day.strftime("%d.%m."))
        set_line(surface, words, (room.left, bars.bottom + sheet.px(4)), Face.ITALIC, sheet.small_px, theme.faded)

    def _draw_words(self, surface: pygame.Surface, room: pygame.Rect) -> None:
        sheet, theme = self.around.sheet, self.around.theme
        for sentence in self.sentences:
            used = set_block(surface, sentence, room, Face.TEXT, sheet.small_px, theme.ink)
            room = pygame.Rect(room.left, used.bottom + sheet.px(7), room.width, max(0, room.bottom - used.bottom))

    @property
    def sentences(self) -> tuple[str, ...]:
        """What the days brought, in words."""
        progress = self.progress
        said = []
        if progress.slowest:
            notes = ", ".join(
                say("progress.slow_note", name=musical(note.written), find=f"{note.find_s:.1f}", cause=_cause(note))
                for note in progress.slowest
            )
            said.append(say("progress.slowest", notes=notes))
        if progress.quicker:
            gains = ", ".join(
                say("progress.gain", name=musical(gain.written), before=f"{gain.before_s:.1f}", now=f"{gain.now_s:.1f}")
                for gain in progress.quicker
            )
            said.append(say("progress.quicker", gains=gains))
        for passage in progress.passages:
            mark, _ = passage.marks[-1]
            where = say("progress.passage", title=passage.title, first=passage.first, last=passage.last, mark=mark)
            said.append(where)
        return tuple(dict.fromkeys(said))


def _cause(note: NoteFigures) -> str:
    """Why a note was wrong most often, where that can be told."""
    return f" ({note.causes[0][0]})" if note.causes and note.causes[0][0] != "unknown" else ""


def _quickness(find_s: float | None) -> float:
    """0 for a note that is looked for, or whose time is not known, to 1 for one found at once."""
    if find_s is None:
        return 0.15
    return min(1.0, max(0.15, (_SLOW_S - find_s) / (_SLOW_S - _QUICK_S)))


def _between(first: Colour, second: Colour, share: float) -> Colour:
    red, green, blue = (round(a + (b - a) * share) for a, b in zip(first, second, strict=True))
    return red, green, blue
