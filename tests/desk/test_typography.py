"""Type: text set, measured, wrapped and shortened."""

import pygame
import pytest
from hypothesis import given
from hypothesis import strategies as st

from game.desk import typography
from game.desk.typography import Face, rendered, shortened, text_width, with_music_signs, wrapped

WORDS = st.lists(st.text("abcWil,.", min_size=1, max_size=9), max_size=20).map(" ".join)


@pytest.fixture(autouse=True, scope="module")
def fonts():
    pygame.font.init()


@given(WORDS, st.integers(40, 400))
def test_wrapped_text_is_the_same_words_in_lines_that_fit(text, width):
    """A word that is wider than a line is broken."""
    lines = wrapped(text, Face.TEXT, 19, width)
    assert "".join(lines).replace(" ", "") == text.replace(" ", "")
    assert all(text_width(line, Face.TEXT, 19) <= width for line in lines)
    if all(text_width(word, Face.TEXT, 19) <= width for word in text.split()):
        assert " ".join(lines) == text


def test_a_name_without_a_space_is_broken_and_nothing_of_it_is_lost():
    """Also where a sign alone is wider than the line."""
    lines = wrapped("of " + "x" * 200 + ".abc", Face.TEXT, 19, 300)
    assert "".join(lines) == "of" + "x" * 200 + ".abc"
    assert len(lines) > 3
    assert wrapped("WW", Face.TEXT, 40, 1) == ("W", "W")


@given(WORDS, st.integers(40, 400))
def test_shortened_text_fits_and_begins_as_the_whole_did(text, width):
    shown = shortened(text, Face.ITALIC, 19, width)
    assert text_width(shown, Face.ITALIC, 19) <= width
    assert shown == text or (shown.endswith("…") and text.startswith(shown[:-1]))


def test_what_was_set_once_is_given_out_again_and_the_store_has_a_bound(monkeypatch):
    monkeypatch.setattr(typography, "_KEPT", 3)
    typography._set.clear()
    first = rendered("a", Face.TEXT, 20, (0, 0, 0))
    for text in "bca":
        rendered(text, Face.TEXT, 20, (0, 0, 0))
    assert rendered("a", Face.TEXT, 20, (0, 0, 0)) is first
    rendered("d", Face.TEXT, 20, (0, 0, 0))
    assert [text for text, *_ in typography._set] == ["c", "a", "d"]


def test_figures_of_the_face_for_figures_are_of_one_width():
    assert len({text_width(figure, Face.FIGURES, 40) for figure in "0123456789"}) == 1


@pytest.mark.parametrize(
    ("plain", "shown"),
    [("Bb7", "B♭7"), ("F#m7b5", "F♯m7♭5"), ("Ebmaj7/Bb", "E♭maj7/B♭"), ("Db", "D♭"), ("sub", "sub"), ("Bbb", "B♭♭")],
)
def test_chord_names_are_shown_with_musical_signs(plain, shown):
    assert with_music_signs(plain) == shown
