"""What the free open string is called: a keyboard has none, and plays its pitch."""

from game.music.keys import Key, spelled
from game.music.names import name_in, spelling_of
from game.neck.neck_map import NeckMap
from game.neck.tuning import Place
from game.player.settings import InstrumentKind
from game.screens.context import ScreenContext
from game.text.catalogue import say


def free_string_in_words(context: ScreenContext, neck_map: NeckMap, free: Place) -> str:
    """The open string, or, for whom no strings are known, the low note that it sounds."""
    if not _plays_pitches(context):
        return say("free.open", ordinal=say(f"ordinal.{free.string}"))
    spelling = spelling_of(spelled(neck_map.tuning.sounding(free), Key()))
    return say("free.low_note", note=name_in(spelling, context.settings.note_names))


def _plays_pitches(context: ScreenContext) -> bool:
    """Whether what is plugged in is known to tell pitches alone."""
    settings = context.settings
    if settings.instrument is InstrumentKind.KEYBOARD:
        return True
    known = [settings.devices[name] for name in context.devices.instruments.devices if name in settings.devices]
    return bool(known) and all(device.channels is None for device in known)
