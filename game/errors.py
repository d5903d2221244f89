"""What can go wrong, for the person at the instrument to mend.

Every message says what is wrong, where, and what to do. A command prints it on one line and exits with status 2;
the game shows it on the page and goes on. The sentences themselves stand in the text catalogue.
"""

from game.message import Message, message


class HomefretError(Exception):
    """Root of all errors that are the user's to mend: a key of the catalogue with its values, or a message."""

    def __init__(self, said: str | Message, /, **values: object) -> None:
        self.message = said if isinstance(said, Message) else message(said, **values)
        super().__init__(self.message)

    def __str__(self) -> str:
        """For a trace; people read `game.text`."""
        values = ", ".join(f"{name}={value!r}" for name, value in self.message.values)
        return f"{self.message.key}({values})"


class TuneError(HomefretError):
    """A tune file cannot be read."""


class SeveralPartsError(TuneError):
    """A file holds several parts and none was chosen.

    `names` are the parts in the order of the file; part numbers count from 1.
    """

    def __init__(self, said: str | Message, /, *, names: tuple[str, ...], **values: object) -> None:
        super().__init__(said, **values)
        self.names = names


class SeveralTunesError(SeveralPartsError):
    """A file holds several tunes and none was chosen: each is a tune of its own, and all may be wanted."""


class MapError(HomefretError):
    """A map, a tuning or a place that cannot be."""


class TakeError(HomefretError):
    """A take that cannot be judged."""


class InstrumentError(HomefretError):
    """A MIDI port or message source that cannot be used."""


class SettingsError(HomefretError):
    """A settings file that cannot be read."""


class AudioError(HomefretError):
    """A sound that cannot be made."""


class LogError(HomefretError):
    """A practice log that cannot be opened or read."""
