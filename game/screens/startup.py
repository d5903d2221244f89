"""What the first frame did not need: devices, the log, and what the first page would wait for."""

from fractions import Fraction

import pygame

from game.audio.sound import open_sound
from game.desk.icon import icon
from game.engraving import engraver
from game.music.keys import Key
from game.music.meter import Meter
from game.music.pitch import pitch
from game.music.score import Bar, Note, NoteValue, Score
from game.practice.take_request import request_for
from game.screens import router  # noqa: F401 - all screens are loaded with it
from game.screens.context import ScreenContext
from game.screens.instrument_events import InstrumentEvents
from game.screens.reading.music_view import ENGRAVED_FACES
from game.screens.reading.page_view_for import page_view_for

# Something of everything a page draws, for warming up.
_WARM_BAR = Bar(
    number="1",
    meter=Meter(),
    key=Key(-1),
    length=Fraction(4),
    events=tuple(
        Note(onset=Fraction(index, 2), length=Fraction(1, 2), value=NoteValue(base=Fraction(1, 2)), pitch=pitch(name))
        for index, name in enumerate(["A3", "F#4", "Bb4", "B4", "Eb5", "C#6", "F4", "G4"])
    ),
)


def finish_startup(context: ScreenContext) -> InstrumentEvents:
    """Look for instruments, open the log and the sound, and load every screen."""
    events = InstrumentEvents(context)
    context.say_taken_over(context.session.begin_practice())
    sound = context.devices.sound = open_sound(context.settings.volumes)
    sound.make_ready(tuple(context.settings.neck_map().places))
    preload_page(context)
    pygame.display.set_icon(icon())
    return events


def preload_page(context: ScreenContext) -> None:
    """Load the engraver and its face, and draw a bar where nobody sees it."""
    engraver.prepare(ENGRAVED_FACES[context.settings.music_face])
    score = Score(title="", reading=context.settings.reading, bars=(_WARM_BAR,))
    view = page_view_for(context, request_for(score, context.settings.neck_map()))
    view.draw(pygame.Surface(context.sheet.size))
