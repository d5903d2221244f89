"""Which page a stage has."""

from fractions import Fraction

import pygame

from game.coach.stages import Stage
from game.engraving import engraver
from game.music.keys import Key
from game.music.meter import Meter
from game.music.pitch import pitch
from game.music.score import Bar, Note, NoteValue, Score
from game.player.settings import InstrumentKind
from game.screens.context import ScreenContext
from game.screens.reading.letters_page import LettersPage
from game.screens.reading.music_on_page import ENGRAVED_FACES
from game.screens.reading.page_screen import PageScreen
from game.screens.reading.places_page import PlacesPage
from game.screens.reading.self_marked_page import SelfMarkedPage
from game.screens.routes import TakeRequest, request_for

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


def page_for(around: ScreenContext, tune: TakeRequest) -> PageScreen:
    """The page of a tune, from its first note."""
    # The pages of time bring sound and numpy: only where time counts.
    if tune.tempo_bpm is not None:
        from game.screens.reading.click_page import ClickPage  # noqa: PLC0415

        return ClickPage(around, tune)
    if tune.stage in (Stage.RHYTHM, Stage.TIME, Stage.SIGHT):
        from game.screens.reading.free_page import FreePage  # noqa: PLC0415

        return FreePage(around, tune)
    if tune.stage is Stage.LETTERS:
        return LettersPage(around, tune)
    if around.settings.instrument is InstrumentKind.NO_PICKUP:
        return SelfMarkedPage(around, tune)
    return PlacesPage(around, tune)


def warm_up(around: ScreenContext) -> None:
    """Load the engraver and its face, and draw a bar where nobody sees it, so that the first page does not wait."""
    engraver.prepare(ENGRAVED_FACES[around.settings.music_face])
    score = Score(title="", reading=around.settings.reading, bars=(_WARM_BAR,))
    page = page_for(around, request_for(score, around.settings.neck_map()))
    page.draw(pygame.Surface(around.sheet.size))
