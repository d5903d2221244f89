"""The app on a table: no window, a clock set by hand, notes and keys handed in."""

from datetime import UTC, date, datetime, time, timedelta
from pathlib import Path

import msgspec
import pygame

from game.app import App
from game.clock import HandClock
from game.instrument.decoding.played import NoteStarted, PlayedNote
from game.neck.tuning import Place
from game.player.profiles import Profile
from game.player.session import open_session
from game.player.settings import Settings
from game.practice.take_request import TakeRequest, request_for
from game.screens.choosing.shelf_screen import ShelfScreen
from game.screens.context import ScreenContext
from game.screens.devices import Devices, StaticInstruments
from game.screens.instrument_events import InstrumentEvents
from game.screens.routes import ToPage
from game.screens.window import Window
from game.screens.window_size import open_window
from tests.made import score
from tests.sampling import runs_all

FRAME_S = 1 / 60
FREE_STRING = Place(6, 0)
# Every frame is lived through; to draw each of them, too, is most of what these tests cost.
DRAWN_EVERY = 1 if runs_all() else 60
# A take in time is the same at any frame rate, which has tests of its own: by default it has half as many frames.
IN_TIME_FRAME_S = FRAME_S if runs_all() else 2 * FRAME_S
_OF_CORNERS = (pygame.K_RETURN, pygame.K_KP_ENTER, pygame.K_ESCAPE, pygame.K_SPACE)


def _seen(name: str) -> property:
    """What is on the picture of a window: whoever asks for it has the picture drawn before."""

    def get(window):
        if look := vars(window).get("look"):
            look()
        return vars(window)[name]

    def put(window, value):
        vars(window)[name] = value

    return property(get, put)


class _SeenWindow(Window):
    """A window whose picture is drawn when somebody asks what is on it: `look` sees to that."""

    _boxes, told_keys, corner, followed = map(_seen, ("_boxes", "told_keys", "corner", "followed"))
    count, words, words_stay = map(_seen, ("count", "words", "words_stay"))

    def leads_by_corner(self, event: pygame.event.Event) -> bool:
        """Any other key leads nowhere by the corner, whatever picture is there; and where no page is turned it is no
        matter which leads by it.
        """
        may_lead = Table.turns_pages and event.type == pygame.KEYDOWN and event.key in _OF_CORNERS
        return may_lead and super().leads_by_corner(event)


class Table:
    """One game of a player with a folder or a profile. `play`, `key`, `click` do as players do; `wait` lets time go.

    By default a picture is drawn when somebody looks at the table: those that nobody would ever see are not. Where a
    test puts something of its own in the place of what draws, and where everything is asked for, each is drawn, the
    corner is turned over as a page, and the last picture of each table is drawn; by default the last of some.
    """

    draws_at_once = True
    turns_pages = True
    draws_last = True

    def __init__(
        self,
        folder: Path | None = None,
        settings: Settings | None = None,
        size: tuple[int, int] = (1280, 720),
        *,
        guitar: bool = False,
        profile: Profile | None = None,
        day: date = date(2026, 11, 24),
        from_start: bool = False,
    ) -> None:
        pygame.display.init()
        pygame.font.init()
        self.clock = HandClock(100.0)
        self.day = day.toordinal()
        if profile is None:
            assert folder is not None
            profile = Profile(name="", folder=folder, settings_path=folder / "settings.json")
        session = open_session(
            profile,
            self.clock,
            now=self.now,
            settings=settings or (None if from_start else Settings()),
        )
        self._first_session = session
        TABLES_LAID.append(self)
        devices = Devices(instruments=StaticInstruments(present=guitar))
        self._context = ScreenContext(session=session, devices=devices, window=_SeenWindow())
        # Most of what is tested begins at the shelf; `from_start` is what a player sees first.
        screen = None if from_start else ShelfScreen(self._context)
        self._app = App(open_window(size), self._context, screen=screen)
        self._to_draw, self._drawn_of, self._looked_at = 0, None, None
        vars(self._context.window)["look"] = self._look
        self._step()
        if from_start:
            self._app.begin()
            self._step()

    def clear(self) -> None:
        """Close what is open: instruments, and the sessions of whoever sat here first and of whoever sits here now. The
        last picture, too, is one that can be drawn.
        """
        if self.draws_last and "_to_draw" in vars(self):
            self._look()
        events = self._app.instrument_events if "_app" in vars(self) else None
        if isinstance(events, InstrumentEvents):
            events.close()
        self._first_session.close()
        if "_context" in vars(self) and self._context.session is not self._first_session:
            self._context.session.close()

    def now(self) -> datetime:
        """The time on the wall: the day that is set by hand, as much after noon as the clock has gone."""
        noon = datetime.combine(date.fromordinal(self.day), time(12), UTC)
        return noon + timedelta(seconds=self.clock.now_s())

    def _step(self, events=()) -> None:
        self._app.take_in(events)
        self._draw()

    def _draw(self) -> None:
        """Draw now, or when somebody looks. The view of a larger sheet goes where the picture was drawn last."""
        screen = self._app.screen
        self._to_draw = (self._to_draw if screen is self._drawn_of else 0) + self._app.running
        self._drawn_of = screen
        if self.draws_at_once or self._app.picture.view.enlarged:
            self._look()

    def _look(self) -> None:
        """Draw the picture of now if it was to be drawn. Twice if it would have been on a new screen: some leave what
        takes its time to their second picture.
        """
        times, self._to_draw = self._to_draw, 0
        if times:
            new, self._looked_at = self._app.screen is not self._looked_at, self._app.screen
            self._app.draw()
            if new and times > 1:
                self._app.draw()

    @property
    def app(self) -> App:
        self._look()
        return self._app

    @property
    def context(self) -> ScreenContext:
        return self._context

    @property
    def screen(self):
        self._look()
        return self._app.screen

    @property
    def screen_undrawn(self):
        """The screen, for what does not depend on its picture."""
        return self._app.screen

    @property
    def screen_name(self) -> str:
        return type(self._app.screen).__name__

    def open(self, *rows: str, key: int = 0) -> TakeRequest:
        request = request_for(score(*rows, key=key), self._context.settings.neck_map())
        self.go(ToPage(request))
        return request

    def settle(self, **changes) -> None:
        """Other settings from now on, as if they had been kept so."""
        if self._looked_at is not None:
            self._look()
        session = self._context.session
        session.settings = msgspec.structs.replace(session.settings, **changes)

    def play_in_time(self, *, offset_s=0.0, wrong=(), until=None) -> None:
        """Play the waiting page against its click: each note at its home, `offset_s` late, `wrong` ones a tone up."""
        page = self.screen
        page.begin()
        for note in page.take.expected[:until]:
            due_s = page.take.zero_s + page.take._grid.onsets_s[note.n - 1] + offset_s
            self.wait(max(0.0, due_s - self.clock.now_s()), IN_TIME_FRAME_S)
            sounding = note.sounding + (2 if note.n in wrong else 0)
            home = self._context.settings.neck_map().home_of(sounding)
            place = home.place if home else None
            played = PlayedNote(started_s=due_s, sounding=sounding, place=place, source="test guitar")
            self.note_started(played)

    def go(self, route) -> None:
        self._app.go(route)
        self._step()

    def wait(self, seconds: float, frame_s: float = FRAME_S) -> None:
        """Let so many seconds go, a frame after the other; the last is drawn, and of those before it a sample."""
        for left in reversed(range(max(1, round(seconds / frame_s)))):
            self.clock.advance(frame_s)
            self._app.take_in([])
            if left % DRAWN_EVERY == 0:
                self._draw()

    def play(self, sounding: int, place: Place | None = None, *, off_neck=None) -> None:
        """A note at its home, or at a place; `place` given as False comes from a keyboard."""
        home = self._context.settings.neck_map().home_of(sounding)
        where = None if place is False else place or (home.place if home else None)
        note = PlayedNote(started_s=self.clock.now_s(), sounding=sounding, place=where, source="test guitar")
        self.note_started(note, off_neck=off_neck)
        self.wait(0.1)

    def note_started(self, note: PlayedNote, *, off_neck=None) -> None:
        """A note as an instrument tells it, at this moment."""
        self._app.note_started(NoteStarted(note=note, channel=1, off_neck=off_neck))

    def play_through(self, *, each_s: float = 0.0, after_s: float = 1.5) -> None:
        """Every note that the open page asks for, `each_s` apart besides a tenth of a second, up to its result."""
        for note in self.screen.take.expected:
            self.play(note.sounding)
            if each_s:
                self.wait(each_s, frame_s=0.1)
        self.wait(after_s, frame_s=0.1)
        assert self.screen_name == "ResultScreen"

    def pluck_free_string(self, times: int) -> None:
        """The gesture, and the moment until it is taken for one."""
        for _ in range(times):
            self.play(40, FREE_STRING)
            self.wait(0.2)
        self.wait(0.7)

    @property
    def verdicts(self) -> list[str]:
        """Those of the result that is shown."""
        return [verdict.verdict.value for verdict in self.screen.finished.judgement.verdicts]

    def logged(self, question: str) -> list[tuple]:
        """What the log answers, in SQL, when everything played is written."""
        log = self._context.session.log
        assert log.flush()
        with log.reading() as connection:
            return connection.execute(question).fetchall()

    def picture(self) -> bytes:
        """What stands on the window now."""
        self._app.draw()
        return self.app.surface.get_view("2").raw

    def drop(self, *paths: Path) -> None:
        """Drop files on the window, and wait until they are read."""
        self._step([pygame.event.Event(pygame.DROPFILE, file=str(path)) for path in paths])
        self.wait_for_imports()

    def wait_for_imports(self) -> None:
        """Until files were read, in a thread and a process of their own."""
        for _ in range(6000):
            self._app.take_in([])
            if not self._context.window.imports.busy and not self._context.window.awaited.busy:
                self._step()
                return
            pygame.time.wait(5)
        raise AssertionError("the files were never read")

    def key(self, key: int, text: str = "", *, scancode: int = 0, mod: int = 0) -> None:
        event = pygame.event.Event(pygame.KEYDOWN, key=key, unicode=text, mod=mod, scancode=scancode)
        self._step([event])

    def letters(self, text: str) -> None:
        for letter in text:
            self.key(ord(letter), letter)

    def click(self, at: tuple[float, float]) -> None:
        position = (round(at[0]), round(at[1]))
        self._step([pygame.event.Event(pygame.MOUSEBUTTONDOWN, pos=position, button=1)])


TABLES_LAID: list[Table] = []
"""What a test laid and has to clear: each has files and threads of its own. `tests/conftest.py` sees to it."""
