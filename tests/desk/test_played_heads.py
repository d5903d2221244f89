"""What was played is a small head where it stands clear, else a name."""

from dataclasses import dataclass

import pygame
import pytest

from game.desk.played_heads import played_head, played_name, steps_away
from game.desk.theme import PAPER
from game.music.names import NoteNames
from game.music.pitch import pitch
from game.practice.pencilled import MissedMark, PlayedHead

SPACE = 16


def step_y(step):
    return 200 - (step - pitch("E4").staff_step) * SPACE / 2


@dataclass(frozen=True)
class Printed:
    """A printed note as played heads see it."""

    head: pygame.Rect
    bottom_line_y: float = 200
    space_px: int = SPACE
    step_y: object = staticmethod(step_y)


@pytest.fixture(autouse=True, scope="module")
def screen():
    pygame.display.init()
    pygame.font.init()
    return pygame.display.set_mode((100, 100))


def note(name):
    head = pygame.Rect(0, 0, 19, SPACE)
    head.center = (150, round(step_y(pitch(name).staff_step)))
    return Printed(head)


def played(name, *, sign=False):
    return PlayedHead(pitch=pitch(name), show_sign=sign)


@pytest.mark.parametrize(
    ("written", "sounded", "steps"), [("B4", "B4", 0), ("B4", "C5", 1), ("B4", "Bb5", 7), ("C4", "A3", -2)]
)
def test_steps_are_counted_upwards_on_the_staff(written, sounded, steps):
    assert steps_away(played(sounded), note(written)) == steps


@pytest.mark.parametrize(
    ("written", "mark", "names", "name"),
    [
        ("B4", played("A4"), NoteNames.ENGLISH, "A"),
        ("B4", played("Bb4", sign=True), NoteNames.ENGLISH, "B♭"),
        ("Bb4", played("B4", sign=True), NoteNames.ENGLISH, "B♮"),
        ("Bb4", played("B4", sign=True), NoteNames.GERMAN, "H"),
        ("Bb4", played("B4", sign=True), NoteNames.SOLFEGE, "si♮"),
        ("B4", played("B5"), NoteNames.ENGLISH, "B 8va"),
        ("B4", played("B3", sign=True), NoteNames.ENGLISH, "B 8vb"),
        ("B4", played("B2"), NoteNames.GERMAN, "H 15mb"),
    ],
)
def test_a_note_is_named_as_its_player_calls_it(written, mark, names, name):
    """The octave signs are those of music (trade)."""
    assert played_name(mark, note(written), names) == name


def test_another_mark_has_no_name_of_a_played_note():
    assert played_name(MissedMark(), note("B4"), NoteNames.ENGLISH) == ""


def test_a_small_head_stands_on_its_own_line_from_a_third_on():
    assert played_head(played("C5"), note("B4"), PAPER, 1) is None
    assert played_head(played("B4"), note("B4"), PAPER, 1) is None
    third = played_head(played("D5"), note("B4"), PAPER, 1)
    assert third.at.center == (pytest.approx(150, abs=2), pytest.approx(step_y(pitch("D5").staff_step), abs=2))
    assert third.at.size == third.surface.get_size()


def test_its_sign_stands_at_its_left():
    plain, signed = (played_head(played("F4", sign=sign), note("B4"), PAPER, 1) for sign in (False, True))
    assert signed.at.left < plain.at.left
    assert abs(signed.at.right - plain.at.right) <= 1


@pytest.mark.parametrize(("name", "drawn"), [("G5", True), ("A5", False), ("D4", True), ("C4", False), ("E6", False)])
def test_it_stays_by_the_staff_where_no_chord_symbols_and_no_ledger_lines_are(name, drawn):
    assert (played_head(played(name), note("B4"), PAPER, 1) is not None) is drawn
