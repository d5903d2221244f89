"""Words are read on their paper by day and by night: WCAG 2.2, 1.4.3, asks 4.5 to 1 of text of any size."""

import pytest

from game.desk.kit.canvas import Canvas
from game.desk.kit.note_fill import empty_colour
from game.desk.sheet import Sheet
from game.desk.theme import NIGHT, PAPER


def luminance(colour):
    """Relative luminance of sRGB, as WCAG 2.2 defines it."""
    linear = [
        part / 12.92 if part <= 0.04045 else ((part + 0.055) / 1.055) ** 2.4 for part in (one / 255 for one in colour)
    ]
    return sum(weight * part for weight, part in zip((0.2126, 0.7152, 0.0722), linear, strict=True))


def contrast(one, other):
    light, dark = sorted((luminance(one), luminance(other)), reverse=True)
    return (light + 0.05) / (dark + 0.05)


def test_black_on_white_is_21_to_1():
    assert contrast((0, 0, 0), (255, 255, 255)) == pytest.approx(21)


@pytest.mark.parametrize("theme", [PAPER, NIGHT], ids=["paper", "night"])
@pytest.mark.parametrize("name", ["ink", "faded", "read", "pencil", "accent"])
def test_each_colour_that_words_are_set_in_stands_out_from_the_paper(theme, name):
    assert contrast(getattr(theme, name), theme.paper) >= 4.5


@pytest.mark.parametrize("theme", [PAPER, NIGHT], ids=["paper", "night"])
def test_what_is_not_met_is_light_and_can_be_seen(theme):
    """1.4.11 asks 3 to 1 of what is to be made out."""
    assert contrast(empty_colour(Canvas(None, Sheet((1280, 720)), theme)), theme.paper) >= 3
