"""What every screen can reach: the player's session, the devices of this desk, and the window."""

from dataclasses import dataclass

from game.clock import Clock
from game.desk.sheet import Sheet
from game.desk.theme import NIGHT, PAPER, Theme
from game.errors import HomefretError, reason_of
from game.message import Message, message
from game.player.session import Session
from game.player.settings import InstrumentKind, Look, Settings
from game.screens.devices import Devices
from game.screens.window import Window
from game.text.catalogue import as_sentence, say, tell

_THEMES = {Look.PAPER: PAPER, Look.NIGHT: NIGHT}


@dataclass(kw_only=True)
class ScreenContext:
    """Session, devices and window. Another player who takes the seat brings another session; the rest stays."""

    session: Session
    devices: Devices
    window: Window

    @property
    def clock(self) -> Clock:
        """The master clock."""
        return self.session.clock

    @property
    def settings(self) -> Settings:
        """The player's, as they are now."""
        return self.session.settings

    @property
    def sheet(self) -> Sheet:
        """The measures of the window as it is now."""
        return self.window.sheet

    @property
    def theme(self) -> Theme:
        """The colours of the look that is set."""
        return _THEMES[self.settings.look]

    @property
    def listens(self) -> bool:
        """Whether notes are listened to: not where the player marks an ordinary guitar."""
        return self.settings.instrument is not InstrumentKind.NO_PICKUP

    @property
    def hears_itself(self) -> bool:
        """Whether what the game plays would be heard as played: by a microphone, where no pickup took over from it."""
        return self.settings.hears_itself and not self.devices.instruments.taken_over

    def change_settings(self, settings: Settings) -> None:
        """Take settings over and keep them; a full disk is said, and the settings hold for this time."""
        try:
            self.session.change_settings(settings)
        except OSError as error:
            self.say(say("settings.not_kept", reason=reason_of(error)))
        self.devices.set_volumes(self.settings.volumes)

    def say(self, sentence: str) -> None:
        """Show a sentence for a while, on whatever screen is there."""
        self.window.say(sentence, self.clock.now_s())

    def say_once(self, key: str) -> None:
        """Show a sentence of the catalogue that nobody wants to be told again: once while the program runs."""
        if key not in self.window.said_once:
            self.window.said_once.add(key)
            self.say(say(key))

    def say_taken_over(self, names: tuple[Message, ...]) -> None:
        """Say which settings are others now because they were changed on another computer; nothing for none."""
        if names:
            self.say(
                say("settings.from_elsewhere", names=tuple(message("settings.quoted", name=name) for name in names))
            )

    def say_sound(self) -> None:
        """Say where nothing is heard, or it cannot be trusted."""
        sound = self.devices.sound
        if not sound.sounds:
            self.say(say(f"sound.{sound.status.value}"))

    def say_error(self, error: HomefretError) -> None:
        """Show what the user can mend."""
        self.say(as_sentence(tell(error.message)))

    @property
    def message_shown(self) -> bool:
        """Whether there is a sentence to show now."""
        return self.window.message_shown(self.clock.now_s())
