"""What is said, once, where an instrument does not tell places."""

from game.instrument.decoding.played import PlayedNote
from game.player.settings import InstrumentKind
from game.practice.take_request import TakeRequest
from game.screens.context import ScreenContext
from game.text.catalogue import say

_OF_WHAT_IS_HEARD = "page.heard"


def tell_what_is_heard(context: ScreenContext) -> None:
    """Before a take, to one who is heard by a microphone, unless something else is being said."""
    if context.settings.by_microphone and context.devices.instruments.present and not context.message_shown:
        context.say_once(_OF_WHAT_IS_HEARD)


def tell_of_places(context: ScreenContext, note: PlayedNote) -> None:
    """With the first note that comes without its place."""
    if note.place is None:
        context.say_once(_OF_WHAT_IS_HEARD if note.heard else "page.pitch_only")


def tells_places(context: ScreenContext) -> bool:
    """Whether it is known where on the neck a note is played: then it can be read in any place."""
    return context.settings.tells_places or context.devices.instruments.taken_over


def free_reading_begins(request: TakeRequest) -> str:
    """What is asked in free reading; nothing for other takes."""
    return say("free_reading.begin") if request.free_reading else ""


def no_free_reading(context: ScreenContext) -> str:
    """Why free reading is not offered."""
    if context.settings.by_microphone:
        return say("free_reading.by_microphone")
    keys = context.settings.instrument is InstrumentKind.KEYBOARD
    return say("free_reading.of_keys" if keys else "free_reading.nothing_listens")
