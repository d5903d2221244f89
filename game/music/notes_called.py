"""Notes in messages, as the player calls them.

The core writes a note into a message by its plain name ("Ab3"), the same for everybody and for answers in JSON; whoever
shows the message to a person says it as that person does.
"""

from game.message import Message, Value
from game.music.names import NoteNames, name_in, spelling_of
from game.music.pitch import Pitch, pitch

_IS_NOTE = "note"
"""How the value of a message is called that is a note."""


def called(written: Pitch, names: NoteNames) -> str:
    """A written note with its octave: "A♭3", "la♭3", "As3"."""
    return f"{name_in(spelling_of(written), names)}{written.octave}"


def notes_called(said: Message, names: NoteNames) -> Message:
    """A message whose values called `note` are plain names, with these as `names` has them. Whatever else stands there
    stays.
    """
    return Message(said.key, tuple((name, _called(name, value, names)) for name, value in said.values))


def _called(name: str, value: Value, names: NoteNames) -> Value:
    if name != _IS_NOTE or not isinstance(value, str):
        return value
    try:
        return called(pitch(value), names)
    except ValueError:
        return value
