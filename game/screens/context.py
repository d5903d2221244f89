"""What every screen can reach."""

from dataclasses import dataclass, field
from pathlib import Path
from typing import TYPE_CHECKING

from game.clock import Clock
from game.desk.file_chooser import FileChooser
from game.desk.sheet import Sheet
from game.desk.theme import THEMES, Theme
from game.errors import HomefretError
from game.music.passage import Passage
from game.neck.neck_map import NeckMap
from game.paths import user_data
from game.player.settings import InstrumentKind, Settings, save
from game.text.catalogue import as_sentence, say, tell
from game.tunes.library.import_queue import ImportQueue
from game.tunes.library.library import ShelfEntry
from game.tunes.library.shelf_order import ShelfOrder

if TYPE_CHECKING:
    from game.audio.sound import Sound
    from game.coach.decisions import Decision
    from game.instrument.ports.live_instrument import LiveInstrument
    from game.player.player_coach import PlayerCoach
    from game.player.player_log import PlayerLog
    from game.player.player_notes import PlayerNotes
    from game.player.player_plan import PlayerPlan
    from game.practice.finished_take import Finished
    from game.practice.take_recorder import TakeRecorder
    from game.practice_log.rows.log_records import Terms

MESSAGE_S = 7.0


@dataclass(frozen=True, slots=True, kw_only=True)
class Looked:
    """How the shelf is looked at: by which order, and for which words, empty for everything."""

    order: ShelfOrder = ShelfOrder.AS_PUT
    words: str = ""


@dataclass
class ScreenContext:
    """What every screen can reach: the one mutable object of the app.

    `folder` is the player's own, for their log: ask for it by `own_folder`. `player_name` is empty for the first
    player; `several_players` when others play on this computer too. `opened` is the tune opened last, `looked` how the
    shelf is looked at. `keeping` is the practice log once it is open, `coaching` the coach, `mastering` what it knows
    of the notes, `planning` today's plan, `sound` what is heard. `found` says what instruments were found,
    `instruments` are they. `message` is one sentence shown for a while on whatever screen is there.
    `told_how_by_hand` once it was said how to play without an instrument.
    """

    clock: Clock
    settings: Settings
    settings_path: Path
    folder: Path | None = None
    player_name: str = ""
    several_players: bool = False
    opened: ShelfEntry | None = None
    looked: Looked = Looked()
    arrivals: ImportQueue = field(default_factory=ImportQueue)
    chooser: FileChooser = field(default_factory=FileChooser)
    sheet: Sheet = field(default_factory=lambda: Sheet((1280, 720)))
    keeping: "PlayerLog | None" = None
    coaching: "PlayerCoach | None" = None
    mastering: "PlayerNotes | None" = None
    planning: "PlayerPlan | None" = None
    sound: "Sound | None" = None
    found: str = ""
    instrument_present: bool = False
    instruments: "LiveInstrument | None" = None
    told_how_by_hand: bool = False
    message: str = ""
    message_until_s: float = 0.0

    @property
    def listens(self) -> bool:
        """Whether notes are listened to: not where the player marks an ordinary guitar."""
        return self.settings.instrument is not InstrumentKind.NO_PICKUP

    @property
    def own_folder(self) -> Path:
        """Where what belongs to this player is kept."""
        return self.folder or user_data()

    @property
    def theme(self) -> Theme:
        """The colours of the look that is set."""
        return THEMES[self.settings.look]

    def kept_take(self, passage: Passage, neck_map: NeckMap, terms: "Terms", *, zero_s: float) -> "TakeRecorder":
        """Where a take is written down: in the practice log, if there is one."""
        from game.practice.take_recorder import NullRecorder  # noqa: PLC0415 - not before the first frame

        if self.keeping is None:
            return NullRecorder()
        return self.keeping.take(passage, neck_map, terms, zero_s=zero_s)

    def coach_heard(self, finished: "Finished", take: "TakeRecorder") -> "Decision | None":
        """What the coach makes of a take that is over and written down; None where there is no coach."""
        from game.player.player_log import LogTakeRecorder  # noqa: PLC0415 - not before the first frame

        if self.coaching is None or not isinstance(take, LogTakeRecorder):
            return None
        if self.mastering is not None:
            self.mastering.heard(finished, take)
        return self.coaching.heard(finished, take)

    @property
    def message_shown(self) -> bool:
        """Whether there is a sentence to show now."""
        return bool(self.message) and self.clock.now_s() < self.message_until_s

    def say(self, sentence: str) -> None:
        """Show a sentence for a while."""
        self.message = sentence
        self.message_until_s = self.clock.now_s() + MESSAGE_S

    def change_settings(self, settings: Settings) -> None:
        """Take settings over and keep them; a full disk is said, and the settings hold for this time."""
        self.settings = settings
        try:
            save(settings, self.settings_path)
        except OSError as error:
            self.say(say("settings.not_kept", reason=error.strerror))

    def say_error(self, error: HomefretError) -> None:
        """Show what the user can mend."""
        self.say(as_sentence(tell(error.message)))
