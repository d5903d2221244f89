"""Words are read on their paper by day and by night: WCAG 2.2, 1.4.3, asks 4.5 to 1 of text of any size."""

import pytest

from game.desk.kit.canvas import Canvas
from game.desk.kit.note_fill import empty_colour
from game.desk.sheet import Sheet
from game.desk.theme import NIGHT, PAPER

INKS = ("ink", "faded", "read", "pencil", "accent")


def luminance(colour):
    """Relative luminance of sRGB, as WCAG 2.2 defines it."""
    return sum(weight * linear(part) for weight, part in zip((0.2126, 0.7152, 0.0722), colour, strict=True))


def contrast(one, other):
    light, dark = sorted((luminance(one), luminance(other)), reverse=True)
    return (light + 0.05) / (dark + 0.05)


def test_black_on_white_is_21_to_1():
    assert contrast((0, 0, 0), (255, 255, 255)) == pytest.approx(21)


@pytest.mark.parametrize("theme", [PAPER, NIGHT], ids=["paper", "night"])
@pytest.mark.parametrize("name", INKS)
def test_each_colour_that_words_are_set_in_stands_out_from_the_paper(theme, name):
    assert contrast(getattr(theme, name), theme.paper) >= 4.5


@pytest.mark.parametrize("theme", [PAPER, NIGHT], ids=["paper", "night"])
def test_what_is_not_met_is_light_and_can_be_seen(theme):
    """1.4.11 asks 3 to 1 of what is to be made out."""
    assert contrast(empty_colour(Canvas(None, Sheet((1280, 720)), theme)), theme.paper) >= 3


WEAKNESSES = {
    "red": ((0.152286, 1.052583, -0.204868), (0.114503, 0.786281, 0.099216), (-0.003882, -0.048116, 1.051998)),
    "green": ((0.367322, 0.860646, -0.227968), (0.280085, 0.672501, 0.047413), (-0.011820, 0.042940, 0.968881)),
    "blue": ((1.255528, -0.076749, -0.178779), (-0.078411, 0.930809, 0.147602), (0.004733, 0.691367, 0.303900)),
    "all colours": ((0.2126, 0.7152, 0.0722),) * 3,
}
"""What an eye makes of linear red, green and blue that lacks one kind of cones (Machado, Oliveira and Fernandes, "A
Physiologically-based Model for Simulation of Color Vision Deficiency", 2009, severity 1), or sees luminance alone.
"""


def linear(part):
    part /= 255
    return part / 12.92 if part <= 0.04045 else ((part + 0.055) / 1.055) ** 2.4


def coded(part):
    part = min(max(part, 0.0), 1.0)
    return round(255 * (12.92 * part if part <= 0.0031308 else 1.055 * part ** (1 / 2.4) - 0.055))


def seen_by(weakness, colour):
    """A colour as it looks to that eye."""
    parts = [linear(part) for part in colour]
    return tuple(coded(sum(a * b for a, b in zip(row, parts, strict=True))) for row in WEAKNESSES[weakness])


@pytest.mark.parametrize("weakness", WEAKNESSES)
def test_white_stays_white_to_every_eye(weakness):
    assert seen_by(weakness, (255, 255, 255)) == (255, 255, 255)


@pytest.mark.parametrize("weakness", WEAKNESSES)
@pytest.mark.parametrize("theme", [PAPER, NIGHT], ids=["paper", "night"])
def test_whoever_sees_colours_otherwise_reads_all_of_them(theme, weakness):
    paper = seen_by(weakness, theme.paper)
    inks = {name: contrast(seen_by(weakness, getattr(theme, name)), paper) for name in INKS}
    assert {name: round(ratio, 2) for name, ratio in inks.items() if ratio < 4.5} == {}
