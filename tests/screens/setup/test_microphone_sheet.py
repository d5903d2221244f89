"""What is drawn while a microphone is set up."""

import pygame
import pytest

from game.desk.kit.canvas import Canvas
from game.desk.sheet import Sheet
from game.desk.theme import NIGHT, PAPER
from game.instrument.listening.string_tuning import StringPitch, new_tuning_check
from game.neck.tuning import STANDARD
from game.screens.setup.microphone_sheet import MicrophoneSheet, StepText, tuning_in_words
from game.screens.window_size import open_window


@pytest.fixture
def surface():
    pygame.display.init()
    pygame.font.init()
    return open_window((1280, 720))


def changed(surface, theme, draw):
    """What of the picture a drawing changes."""
    surface.fill(theme.paper)
    draw(MicrophoneSheet(Canvas(surface, Sheet((1280, 720)), theme), 165))
    mask = pygame.mask.from_threshold(surface, theme.paper, (1, 1, 1, 255))
    mask.invert()
    return mask


def test_how_a_string_is_stands_in_words():
    assert tuning_in_words(StringPitch(1, 4.9)) == "in tune"
    assert tuning_in_words(StringPitch(1, -12.6)) == "13 cents low"
    assert tuning_in_words(StringPitch(1, 31.2)) == "31 cents high"


@pytest.mark.parametrize("theme", [PAPER, NIGHT])
def test_the_louder_the_more_of_the_meter_is_filled_and_never_beyond_its_ends(surface, theme):
    filled = [
        changed(surface, theme, lambda sheet, db=db: sheet.draw_meter(level_db=db, peak_db=None, floor_db=None)).count()
        for db in (None, -200.0, -50.0, -20.0, 0.0, 20.0)
    ]
    assert filled == sorted(filled)
    assert filled[2] < filled[3] < filled[4] == filled[5]


def test_pictures_stay_on_the_sheet(surface):
    """Inside the margins, and above the keys."""
    steps = tuple(StepText(name="Silence" * 9, outcome="noise" * 30, done=True, chosen=True) for _ in range(4))
    rows = tuple((string, "By loudspeaker" * 9, "The microphone hears it" * 9) for string in (6, 5, 4))
    check = new_tuning_check(STANDARD.open_strings)

    def draw(sheet):
        sheet.draw_steps(steps)
        sheet.draw_choices(rows, 1)
        sheet.draw_strings(check)
        sheet.draw_clicks(5)
        sheet.draw_so_far(1.0)
        sheet.draw_meter(level_db=0.0, peak_db=3.0, floor_db=-90.0)

    first, *others = changed(surface, PAPER, draw).get_bounding_rects()
    assert pygame.Rect(48, 150, 1184, 460).contains(first.unionall(others))
