"""Newcomers who sit down for an evening: each has one means only, goes by what is shown, and errs now and then."""

from collections.abc import Callable
from dataclasses import replace
from random import Random

import pygame

from game.instrument.decoding.played import NoteStarted, PlayedNote
from game.instrument.sources.computer_keys import keys_of_places
from game.judging.expected import ExpectedNote
from game.lines.first_note import FIRST_HOME
from game.neck.tuning import STANDARD, Place
from game.screens import shown_keys, tabbed_sheet
from tests.screens.heard_guitar import FREE_PITCH, HeardGuitar
from tests.screens.table import FREE_STRING, Table

ENTER, ESCAPE, SPACE = pygame.K_RETURN, pygame.K_ESCAPE, pygame.K_SPACE
SCREENS_AN_EVENING = 120
"""More than any evening has: who sees as many goes round in a circle."""


class CornerReader:
    """Reads what stands in the turned-up corner, as long as `monkeypatch` holds."""

    def __init__(self, monkeypatch):
        self.words = ""
        for module in (shown_keys, tabbed_sheet):
            monkeypatch.setattr(module, "draw_corner", self._reading(module.draw_corner))

    def _reading(self, draw):
        def drawn(canvas, words, key, above=""):
            self.words = words
            return draw(canvas, words, key, above)

        return drawn


class EveningPlayer:
    """A player at a table. `look` is told of every screen that comes; `right` is the share of notes that come right;
    the take with the number `leaves` is left in its middle; each result is thought about for `thinks_s`.
    """

    def __init__(
        self,
        table: Table,
        look: Callable[[Table], None],
        *,
        right: float = 0.85,
        seed: int = 1,
        leaves: int = 2,
        thinks_s: float = 45.0,
    ) -> None:
        self.table, self.look, self.right, self.leaves, self.thinks_s = table, look, right, leaves, thinks_s
        self.chance = Random(seed)
        self.takes = 0

    def sit_through(self) -> None:
        """From what is in sight until the game is left."""
        for _ in range(SCREENS_AN_EVENING):
            if not self.table.app.running:
                return
            self.look(self.table)
            self.go_on()
        raise AssertionError(f"an evening without an end: {self.table.screen_name}")

    def go_on(self) -> None:
        """Do what the screen in sight asks for."""
        match self.table.screen_name:
            case "FirstStartScreen":
                self.begin_the_first_time()
            case "GoodNightScreen":
                self.back()
            case "PlacesPage" | "FreePage" | "MetronomePage" | "LettersPage" | "SelfMarkedPage":
                self.take()
            case "MarkingScreen":
                self.mark_what_was_wrong()
            case "ResultScreen":
                self.wait(self.thinks_s, frame_s=15.0)
                self.on()
            case "TodayScreen" | "SigningScreen" | "ListeningScreen":
                self.wait(2.0, frame_s=0.5)
                self.on()
            case name:
                raise AssertionError(f"nobody led here: {name}")

    def begin_the_first_time(self) -> None:
        """Play the note that the picture asks for."""
        self.sound(FIRST_HOME)
        self.wait(1.0, frame_s=0.1)

    def wait(self, seconds: float, frame_s: float = 0.1) -> None:
        """Let time go. Nobody looks meanwhile: nothing is drawn."""
        for _ in range(max(1, round(seconds / frame_s))):
            self.table.clock.advance(frame_s)
            self.table.app.take_in([])

    def click(self, at: tuple[float, float]) -> None:
        """Click at a pixel."""
        at = round(at[0]), round(at[1])
        self.table.app.take_in([pygame.event.Event(pygame.MOUSEBUTTONDOWN, pos=at, button=1)])

    def press(self, key: int, text: str, *, scancode: int = 0, mod: int = 0) -> None:
        """Press a key."""
        event = pygame.event.Event(pygame.KEYDOWN, key=key, unicode=text, mod=mod, scancode=scancode)
        self.table.app.take_in([event])

    def on(self) -> None:
        """Do what the corner says."""
        raise NotImplementedError

    def back(self) -> None:
        """Do what Esc does."""
        raise NotImplementedError

    def sound(self, place: Place | None) -> None:
        """Play a place, which takes no time; nothing where the note has none."""
        raise NotImplementedError

    def begin_take(self) -> None:
        """Begin what has to be begun before its first note."""

    def mark_what_was_wrong(self) -> None:
        """Cross notes out: only for one whom nothing hears."""
        raise AssertionError("what was heard is not marked")

    def take(self) -> None:
        """Play the page in sight, or half of it."""
        page, self.takes = self.table.screen, self.takes + 1
        notes = page.take.expected
        if self.takes == self.leaves:
            notes = notes[: len(notes) // 2]
        self.begin_take()
        self.table.picture()
        if self.table.screen_name == "MetronomePage":
            self._play_by_the_click(page, notes)
        else:
            self._play_in_free_time(page, notes)
        if self.takes == self.leaves and self.table.screen is page:
            self.back()
        for _ in range(40):
            if self.table.screen is not page:
                return
            self.wait(1.0, frame_s=0.25)
        raise AssertionError("the take never ends")

    def _play_by_the_click(self, page, notes) -> None:
        assert page.running, "the click was begun"
        for note in notes:
            due_s = page.take.zero_s + page.take._grid.onsets_s[note.n - 1]
            self.wait(max(0.0, due_s + self.chance.gauss(0, 0.03) - self.table.clock.now_s()), frame_s=0.05)
            if self.table.screen is not page:
                return
            self._one(note)

    def _play_in_free_time(self, page, notes) -> None:
        paced = self.table.screen_name == "FreePage"
        for note in notes:
            if self.table.screen is not page:
                return
            if not self._one(note) and not paced:
                self.wait(0.5, frame_s=0.1)
                self.sound(self.home(note.sounding))
            self.wait(0.6 * float(note.note.length) if paced else self.chance.uniform(0.5, 2.0), frame_s=0.1)

    def _one(self, note: ExpectedNote) -> bool:
        """A note, or now and then its neighbour; returns whether it was right."""
        right = self.chance.random() < self.right
        sounding = note.sounding if right else note.sounding + self.chance.choice((-2, -1, 1, 2))
        self.sound(self.home(sounding))
        return right

    def home(self, sounding: int) -> Place | None:
        """Where a note is played on this page."""
        home = self.table.screen.neck_map.home_of(sounding)
        return home.place if home else None


class ShownKeys(EveningPlayer):
    """One for whom a key is there where it is told."""

    def do(self, key: int) -> None:
        """What a key does, which is shown."""
        raise NotImplementedError

    def on(self) -> None:
        self.do(ENTER)

    def back(self) -> None:
        self.do(ESCAPE)

    def begin_take(self) -> None:
        page = self.table.screen
        if getattr(page, "at_sight", False):
            self.do(SPACE)
            self.look(self.table)
        if self.table.screen_name == "MetronomePage":
            self.do(SPACE)


class MousePlayer(ShownKeys):
    """Clicks at pixels where something is drawn."""

    def do(self, key: int) -> None:
        self.table.picture()
        boxes = [box for box, press in self.table.context.window._boxes if press.key == key]
        assert boxes, f"no box for {pygame.key.name(key)} on {self.table.screen_name}"
        self.click(boxes[0].center)

    def begin_take(self) -> None:
        if not self.table.screen.view.neck_shown:
            self.do(pygame.K_F12)
            self.look(self.table)
        super().begin_take()

    def sound(self, place: Place | None) -> None:
        table = self.table
        if table.screen_name == "FirstStartScreen":
            table.picture()
            x, y = table.screen._drawing.neck.middle_of(place.string, place.fret)
            self.click((x * table.context.sheet.unit, y * table.context.sheet.unit))
        elif place is not None:
            self.click(table.screen.view.neck.centre_of(place))


class KeysPlayer(ShownKeys):
    """Presses the keys that are told, and those that play the neck."""

    def do(self, key: int) -> None:
        self.table.picture()
        told = {press.key: press for hint in self.table.context.window.told_keys for press in hint.presses}
        told |= {press.key: press for _, press in self.table.context.window._boxes}
        assert key in told, f"{pygame.key.name(key)} is not told on {self.table.screen_name}"
        self.press(key, told[key].unicode)

    def sound(self, place: Place | None) -> None:
        key = keys_of_places(position=self.table.screen.neck_map.position).get(place)
        if key is not None:
            mod = pygame.KMOD_SHIFT if key.shift else 0
            self.press(pygame.K_a, "A" if key.shift else "a", scancode=key.scancode, mod=mod)


class GuitarPlayer(EveningPlayer):
    """Plays notes, and plucks the free string. Keyboard and mouse are out of reach."""

    def on(self) -> None:
        self._pluck(1)

    def back(self) -> None:
        self._pluck(2)

    def _pluck(self, times: int) -> None:
        for _ in range(times):
            self.sound(FREE_STRING)
            self.wait(0.3)
        self.wait(0.8)

    def sound(self, place: Place | None) -> None:
        table = self.table
        if place is None:
            return
        sounding = STANDARD.sounding(place)
        note = PlayedNote(started_s=table.clock.now_s(), sounding=sounding, place=place, source="test guitar")
        table.app.note_started(NoteStarted(note=note, channel=1))

    def begin_take(self) -> None:
        page = self.table.screen
        if getattr(page, "at_sight", False):
            self._first(page)
            self.look(self.table)
        if self.table.screen_name == "MetronomePage":
            self._first(page)

    def _first(self, page) -> None:
        """The first note, after a second of silence, begins."""
        self.wait(1.2, frame_s=0.1)
        first = page.take.expected[0].sounding
        self.sound(self.home(first))
        self.wait(0.1)


class OwnWordPlayer(KeysPlayer):
    """Has an ordinary guitar that nobody hears, and says by keys what was right."""

    def begin_the_first_time(self) -> None:
        self.do(pygame.K_DOWN)
        self.do(ENTER)
        self.look(self.table)
        assert self.table.screen_name == "MicrophonesScreen", "the second door leads to what a guitar is heard by"
        while self.table.screen.inputs is None:
            pygame.time.wait(5)
            self.wait(0.05)
        self.do(pygame.K_UP)
        self.do(ENTER)
        self.look(self.table)
        self.do(ENTER)

    def take(self) -> None:
        page, self.takes = self.table.screen, self.takes + 1
        left = self.takes == self.leaves
        if self.table.screen_name == "SelfMarkedPage":
            self._say_of_each(page, len(page.take.expected) // 2 if left else 1_000)
        else:
            self.begin_take()
            self.wait(3.0, frame_s=0.25)
            if self.table.screen_name == "FreePage":
                self.do(ESCAPE if left else ENTER)
        if left and self.table.screen is page:
            self.do(ESCAPE)
        self.wait(0.0 if self.table.screen is not page else 90.0, frame_s=0.25)

    def _say_of_each(self, page, most: int) -> None:
        for _ in range(most):
            if self.table.screen is not page:
                return
            self.wait(1.5, frame_s=0.5)
            self.do(SPACE)
            self.do(SPACE if self.chance.random() < self.right else pygame.K_BACKSPACE)

    def mark_what_was_wrong(self) -> None:
        for _ in self.table.screen.request.passage.notes[1:]:
            self.do(SPACE if self.chance.random() < self.right else pygame.K_BACKSPACE)
        self.do(ENTER)


class HeardPlayer(GuitarPlayer):
    """Has an ordinary guitar that a microphone hears: pitches without places, told late, now and then not surely or
    twice, and the low string rings along.
    """

    def __init__(self, table: Table, look: Callable[[Table], None], **player) -> None:
        super().__init__(table, look, **player)
        self.guitar = HeardGuitar(table)

    def begin_take(self) -> None:
        """What was not heard surely begins nothing: then the first note comes again."""
        page = self.table.screen
        super().begin_take()
        for _ in range(5):
            if self.table.screen is not page or self.table.screen_name != "MetronomePage" or page.running:
                return
            self._first(page)

    def _pluck(self, times: int) -> None:
        self.wait(0.6)
        super()._pluck(times)
        self.wait(0.3)

    def sound(self, place: Place | None) -> None:
        if place is None:
            return
        sounding = STANDARD.sounding(place)
        told = self.guitar.note(sounding, sure=place == FREE_STRING or self.chance.random() > 0.03)
        for twice in range(1 + (self.chance.random() < 0.03)):
            self.guitar.tell(replace(told, started_s=told.started_s + 0.05 * twice, sure=told.sure and not twice))
        if place != FREE_STRING and self.chance.random() < 0.05:
            self.guitar.tell(self.guitar.note(FREE_PITCH))
