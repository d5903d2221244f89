"""Where things lie: what we ship (beside the package, or in the checkout) and what the user owns."""

from pathlib import Path

import platformdirs

_PACKAGE = Path(__file__).resolve().parent


def shipped(*parts: str) -> Path:
    """A shipped file or folder, such as `shipped("content", "tunes")`.

    Installed, the data stand inside the package; in a checkout, beside it.
    """
    inside = _PACKAGE.joinpath(*parts)
    return inside if inside.exists() else _PACKAGE.parent.joinpath(*parts)


def user_data() -> Path:
    """The folder for the player's library and practice log; made when first asked for."""
    return Path(platformdirs.user_data_dir("homefret", appauthor=False, ensure_exists=True))


def user_settings() -> Path:
    """The player's settings file, which may not be there yet."""
    return Path(platformdirs.user_config_dir("homefret", appauthor=False)) / "settings.json"
