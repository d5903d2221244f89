"""The programme: three tunes that the player picked, and how far their pages have come. When all are signed, the
evening is played: one tune after the other, whole, with bass and chords.
"""

import pygame

from game.coach.plan.programme import TUNES, Programme, ProgrammeStanding, with_picked
from game.practice.take_request import request_for
from game.screens.base_screen import BaseScreen
from game.screens.choosing.evening import EveningTune, evening_tunes, tempo_of, whole_request
from game.screens.choosing.programme_rows import ProgrammeRow, draw_programme, row_at, row_rect
from game.screens.choosing.shelf_pages import page_mark
from game.screens.context import ScreenContext
from game.screens.key_hints import KeyHint, key_hints
from game.screens.reading.bass_and_chords_for import hear_passage
from game.screens.reading.bass_and_chords_key import (
    BASS_AND_CHORDS_KEY,
    bass_and_chords_hint,
    toggle_bass_and_chords,
)
from game.screens.routes import Back, Route, ToCourses, ToPage, ToShelf
from game.screens.shown_keys import draw_keys, lay_paper
from game.screens.tabbed_sheet import draw_next
from game.text.catalogue import say
from game.tunes.library.library import open_entry, shelf

_ENTER = (pygame.K_RETURN, pygame.K_KP_ENTER)


class ProgrammeScreen(BaseScreen):
    """Three places for tunes. `picked` is the name of a tune that was brought along: it takes a free place at once, and
    waits to be put in the place of another where there is none.
    """

    at_rest = True
    free_string_commands = True

    def __init__(self, context: ScreenContext, picked: str = "") -> None:
        super().__init__(context)
        self.chosen = 0
        self.waiting = ""
        if picked and picked not in self._names:
            if len(self._names) < TUNES:
                context.session.log.facts.pick_programme(with_picked(self._programme, picked))
            else:
                self.waiting = picked
        self._look()
        names = self._names
        self.chosen = names.index(picked) if picked in names else 0

    @property
    def _programme(self) -> Programme | None:
        return self.context.session.log.facts.desk.programme

    @property
    def _names(self) -> tuple[str, ...]:
        return self._programme.tunes if self._programme else ()

    def _look(self) -> None:
        """Look how far it has come; an evening that was played to its end is kept."""
        self.tunes: tuple[EveningTune, ...] = evening_tunes(self.context, self._names)
        self.standing: ProgrammeStanding | None = self.context.session.plan.known.programme()
        over = self.ready and all(tune.played_today for tune in self.tunes)
        if over and self.standing and self.context.session.today() not in self.standing.played:
            self.context.session.log.facts.play_programme()
            self.standing = self.context.session.plan.known.programme()

    @property
    def ready(self) -> bool:
        """Whether every page of three tunes is signed."""
        records = self.context.session.coach.state.records
        return len(self.tunes) == TUNES and all(tune.pages.all_signed(records) for tune in self.tunes)

    @property
    def tune(self) -> EveningTune | None:
        """The tune in the chosen place."""
        return self.tunes[self.chosen] if self.chosen < len(self.tunes) else None

    def read_anew(self) -> None:
        self._look()

    def handle(self, event: pygame.event.Event) -> Route | None:
        """What sounds ends with the sheet."""
        route = super().handle(event)
        if route is not None:
            self.context.devices.sound.stop()
        return route

    def on_tick(self, now_s: float) -> Route | None:
        self.context.devices.sound.tick(now_s)
        return None

    def on_key(self, event: pygame.event.Event) -> Route | None:
        match event.key:
            case pygame.K_ESCAPE:
                return Back()
            case key if key in _ENTER:
                return self._on()
            case pygame.K_TAB:
                return ToCourses()
            case pygame.K_UP | pygame.K_DOWN:
                self.chosen = (self.chosen + (1 if event.key == pygame.K_DOWN else -1)) % TUNES
            case pygame.K_SPACE:
                self._start_or_stop()
            case key if key == BASS_AND_CHORDS_KEY and self.tune is not None:
                toggle_bass_and_chords(self.context)
            case pygame.K_DELETE if self.tune is not None:
                self.context.session.log.facts.pick_programme(with_picked(self._programme, self.tune.name))
                self._look()
        return None

    def on_click(self, at: tuple[int, int]) -> Route | None:
        """A click chooses a place; one on the chosen place does what the corner says."""
        row = row_at(self.context.sheet, at)
        if row is None:
            return None
        if row == self.chosen:
            return self._on()
        self.chosen = row
        return None

    def _on(self) -> Route | None:
        """What the corner says."""
        if self.waiting:
            names = [*self._names]
            names[self.chosen] = self.waiting
            self.waiting = ""
            self.context.session.log.facts.pick_programme(Programme(tunes=tuple(names)))
            self._look()
            return None
        if self.ready:
            request = whole_request(self.context, self._next_of_evening)
            return ToPage(request, chosen=True) if request else None
        return ToShelf() if self.tune is None or self.tune.entry is None else self._practise(self.tune)

    @property
    def _next_of_evening(self) -> EveningTune:
        """The first that was not played today; once all were, the chosen one."""
        left = (tune for tune in self.tunes if not tune.played_today)
        return next(left, self.tunes[self.chosen])

    def _practise(self, tune: EveningTune) -> Route | None:
        """The page of a tune that comes next."""
        assert tune.entry is not None
        page = tune.pages.next_page(self.context.session.coach.state.records)
        self.context.session.last_opened = tune.entry
        self.context.session.log.facts.open_tune(tune.name)
        request = request_for(open_entry(tune.entry), self.context.settings.neck_map())
        return ToPage(request.moved(tune.pages.pages[page].index if tune.pages.pages else 0))

    def _start_or_stop(self) -> None:
        """Hear the chosen tune whole, or stop it."""
        sound = self.context.devices.sound
        if sound.strings.playing:
            sound.stop()
        elif self.tune is not None and (request := whole_request(self.context, self.tune)):
            hear_passage(self.context, request.passage, tempo_bpm=tempo_of(self.context, self.tune))
            self.context.say_sound()

    def draw(self, surface: pygame.Surface) -> bool:
        lay_paper(self.context, surface)
        draw_programme(self.context, surface, self._said(), [self._row(number) for number in range(TUNES)])
        self.context.window.follow(row_rect(self.context.sheet, self.chosen))
        right = draw_next(self.context, surface, self._corner()).left / self.context.sheet.unit - 20
        draw_keys(self.context, surface, self._keys(), most_rows=2, right=right)
        return True

    def _keys(self) -> tuple[KeyHint, ...]:
        elsewhere = key_hints(("keys.tab", "keys.courses"), ("keys.escape", "keys.back"))
        if self.tune is None:
            return (*key_hints(("keys.updown", "keys.choose")), *elsewhere)
        heard = key_hints(("keys.updown", "keys.choose"), ("keys.space", "keys.start_or_stop"))
        remove = key_hints(("keys.delete", "keys.remove"))
        return (*heard, *bass_and_chords_hint(self.context), *remove, *elsewhere)

    def _row(self, number: int) -> ProgrammeRow:
        tune = self.tunes[number] if number < len(self.tunes) else None
        if tune is None:
            return ProgrammeRow(number=number, title="", chosen=number == self.chosen)
        marks = tune.pages.marks(self.context.session.coach.state.records)
        return ProgrammeRow(
            number=number,
            title=tune.title or say("programme.gone"),
            pages=tuple(map(page_mark, marks)),
            played=tune.played_today,
            chosen=number == self.chosen,
        )

    def _said(self) -> str:
        if self.waiting:
            return say("programme.full", title=self._title_of(self.waiting))
        played = self.standing.played if self.standing else ()
        if self.ready:
            over = self.context.session.today() in played
            return say("programme.over") if over else say("programme.ready")
        if self.standing is None or len(self.tunes) < TUNES:
            return say("programme.pick")
        return say("programme.pages_left", count=self.standing.pages_left)

    @staticmethod
    def _title_of(name: str) -> str:
        return next((entry.title for entry in shelf() if entry.name == name), "")

    def _corner(self) -> str:
        if self.waiting:
            return say("programme.put_here")
        if self.ready:
            return say("programme.play", title=self._next_of_evening.title)
        return say("programme.to_shelf" if self.tune is None or self.tune.entry is None else "programme.go_on")
