"""In which language a command speaks: as the player's settings say, where they say it."""

import msgspec

from game.errors import HomefretError
from game.player.profiles import chosen_player
from game.text.language import choose_language


class _LanguageAlone(msgspec.Struct):
    """Of all settings the one that is wanted before anything is said."""

    language: str = ""


def speak_for(name: str | None = None) -> None:
    """Speak the language of the player called `name`, or of whom a command means by itself. A player who is not here
    or settings that cannot be read, leave it to the locale: the command itself tells of them.
    """
    choose_language(_language_of(name))


def _language_of(name: str | None) -> str:
    try:
        kept = chosen_player(name).settings_path.read_bytes()
        return msgspec.json.decode(kept, type=_LanguageAlone).language
    except (HomefretError, OSError, msgspec.MsgspecError):
        return ""
