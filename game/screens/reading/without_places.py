"""What is said, once, where an instrument does not tell places."""

from game.instrument.decoding.played import PlayedNote
from game.screens.context import ScreenContext

_OF_WHAT_IS_HEARD = "page.heard"


def tell_what_is_heard(context: ScreenContext) -> None:
    """Before a take, to one who is heard by a microphone, unless something else is being said."""
    if context.settings.by_microphone and context.devices.instruments.present and not context.message_shown:
        context.say_once(_OF_WHAT_IS_HEARD)


def tell_of_places(context: ScreenContext, note: PlayedNote) -> None:
    """With the first note that comes without its place."""
    if note.place is None:
        context.say_once(_OF_WHAT_IS_HEARD if note.heard else "page.pitch_only")
