"""What is kept of microphones: which one a guitar is heard by, and how it was set up."""

from typing import Any

import msgspec

from game.player.device_settings import MicrophoneSettings
from game.player.settings import InstrumentKind
from game.screens.context import ScreenContext


def microphone_kept(context: ScreenContext, name: str) -> MicrophoneSettings:
    """How an input is listened to: as it was set up, or as it is at first."""
    return context.settings.microphones.get(name) or MicrophoneSettings()


def choose_microphone(context: ScreenContext, name: str) -> None:
    """From now on a guitar is heard by this input."""
    context.change_settings(context.settings.changed("microphone", name))


def mark_oneself(context: ScreenContext) -> None:
    """From now on nothing listens, and the player says what was right."""
    context.change_settings(context.settings.changed("instrument", InstrumentKind.NO_PICKUP))


def keep_of_microphone(context: ScreenContext, name: str, **changes: Any) -> None:
    """Something of how an input is listened to; nothing is written where it is so already."""
    kept = microphone_kept(context, name)
    changed = msgspec.structs.replace(kept, **changes)
    if changed != kept or name not in context.settings.microphones:
        microphones = {**context.settings.microphones, name: changed}
        context.change_settings(msgspec.structs.replace(context.settings, microphones=microphones))
