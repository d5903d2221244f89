"""What can go wrong, in words for the person at the instrument. Imports nothing.

Every message says what is wrong, where, and what to do. A command prints it on one line and exits with status 2;
the game shows it on the page and goes on.
"""


class HomefretError(Exception):
    """Root of all errors that are the user's to mend."""


class TuneError(HomefretError):
    """A tune file cannot be read."""


class SeveralPartsError(TuneError):
    """A file holds several parts and none was chosen.

    `names` are the parts in the order of the file; part numbers count from 1.
    """

    def __init__(self, message: str, names: tuple[str, ...]) -> None:
        super().__init__(message)
        self.names = names


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
