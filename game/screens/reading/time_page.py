"""What the pages share whose rhythm counts: the two ways to see the music, and the keys that overrule the coach."""

from collections.abc import Callable
from dataclasses import replace

import msgspec
import pygame

from game.audio.sound import silence
from game.coach.events import Wish
from game.coach.stages import Pulse, Stage
from game.instrument.decoding.played import NoteStarted, PlayedNote
from game.judging.swing import STRAIGHT
from game.practice.finished_take import FinishedTake
from game.practice.take_recorder import TakeRecorder
from game.practice_log.rows.log_records import Terms
from game.screens.context import ScreenContext
from game.screens.reading.music_on_page import MovingMusic, StillMusic
from game.screens.reading.notated_music import NotatedMusic
from game.screens.reading.page_screen import PageScreen
from game.screens.routes import Destination, TakeRequest, ToPage, ToResult


class TimePage(PageScreen):
    """A page in the stages `rhythm` and `time`. Free and clicked pages say what their notes and their time mean."""

    def __init__(self, around: ScreenContext, tune: TakeRequest) -> None:
        super().__init__(around, tune)
        self.sound = around.sound or silence(around.settings)
        self.show_music()

    @property
    def at_sight(self) -> bool:
        """Whether this is music met for the first time: once through, as notated, and no help."""
        return self.tune.stage is Stage.SIGHT

    @property
    def covered(self) -> bool:
        """Whether the page has still to be turned up."""
        return isinstance(self.view.music, NotatedMusic) and self.view.music.covered

    def turn_up(self) -> None:
        """Let the player see the page."""
        if isinstance(self.view.music, NotatedMusic):
            self.view.music.covered = False
            self.view.aside = ""

    def play(self, played: PlayedNote) -> None:
        """A note of the player's."""
        raise NotImplementedError

    def new_kept(self, *, zero_s: float, swing: float = STRAIGHT) -> TakeRecorder:
        """Where the take is written down; times count from `zero_s`."""
        tune = self.tune
        terms = Terms(
            stage=tune.stage,
            pulse=Pulse.FREE if tune.tempo_bpm is None else Pulse.METRONOME,
            tempo_bpm=tune.tempo_bpm,
            beat_length=tune.passage.bars[0].meter.beat_length,
            swing=swing,
            pitch_counts=tune.stage is not Stage.RHYTHM,
            settling=tune.settling,
        )
        return self.around.kept_take(tune.passage, tune.neck_map, terms, zero_s=zero_s)

    def show_music(self) -> None:
        """The staff that moves, or the page that stands still, as the player has set it."""
        area, passage = self.view.staff_area, self.tune.passage
        if self.at_sight:
            self.view.music = NotatedMusic(self.around, self.tune.score, area)
        elif self.around.settings.still:
            slip = self.around.settings.slip and self.tune.tempo_bpm is not None
            self.view.music = StillMusic(self.around, passage, area, slip=slip)
        else:
            self.view.music = MovingMusic(self.around, passage, area)

    def handle(self, event: pygame.event.Event) -> Destination | None:
        played = self.played_by_hand(event)
        if played is not None:
            self.play(played)
            return None
        if event.type == pygame.KEYDOWN and event.key in self.commands:
            return self.commands[event.key](self.around.clock.now_s())
        return self.handle_common(event)

    def heard(self, event: NoteStarted) -> Destination | None:
        self.play(event.note)
        return None

    @property
    def commands(self) -> dict[int, Callable[[float], Destination | None]]:
        """The keys of the right half of the keyboard, which play no notes."""
        return {
            pygame.K_o: lambda _: self._toggle("still"),
            pygame.K_i: lambda _: self._toggle("slip"),
            pygame.K_k: lambda _: self.wish(Wish.METRONOME_NOW),
        }

    def _toggle(self, setting: str) -> None:
        settings = self.around.settings
        self.around.change_settings(msgspec.structs.replace(settings, **{setting: not getattr(settings, setting)}))
        self.show_music()

    def wish(self, wish: Wish) -> Destination | None:
        """Overrule the coach, who learns from it."""
        coaching = self.around.coaching
        if coaching is None:
            return None
        return self.leave_for(self.tune.told(coaching.overruled(self.tune.passage, wish)))

    def leave_for(self, tune: TakeRequest) -> ToPage:
        """Another take by the player's choice."""
        self.sound.metronome.stop()
        return ToPage(tune, chosen=True)

    def judged(
        self, finished: FinishedTake, kept: TakeRecorder, *, counted_from_s: float | None = None
    ) -> ToResult | None:
        """Write the take down and let the coach hear of it; None for one in which nothing was played."""
        kept.ended(finished, counted_from_s=counted_from_s)
        if not finished.played:
            return None
        return ToResult(self.tune, finished, self.around.coach_heard(finished, kept))


def looped(tune: TakeRequest) -> TakeRequest:
    """Over and over, or once again."""
    return replace(tune, looping=not tune.looping)
