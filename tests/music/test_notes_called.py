"""Notes in messages, as the player calls them."""

import pytest

from game.message import message
from game.music.names import NoteNames
from game.music.notes_called import called, notes_called
from game.music.pitch import pitch


@pytest.mark.parametrize(
    ("names", "expected"),
    [(NoteNames.ENGLISH, "A♭3"), (NoteNames.SOLFEGE, "la♭3"), (NoteNames.GERMAN, "As3")],
)
def test_a_note_is_called_as_the_player_calls_it(names, expected):
    """Trade: la bémol and As are A flat."""
    assert called(pitch("Ab3"), names) == expected
    said = message("map.given_up.below", count=3, note="Ab3")
    assert notes_called(said, names) == message("map.given_up.below", count=3, note=expected)


def test_what_is_no_note_stays():
    said = message("map.seam.where", note="nowhere", lower="V", higher="Ab3")
    assert notes_called(said, NoteNames.GERMAN) == said
