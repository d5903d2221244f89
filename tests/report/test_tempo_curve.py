"""The tempo of a passage from take to take."""

import pytest

from game.report import tempo_curve
from game.report.tempo_curve import TempoPoint, draw_tempo_curve
from game.text.catalogue import say
from game.text.language import languages
from tests.speaking import speaking

POINTS = [TempoPoint(day=1, tempo_bpm=60, clean=False), TempoPoint(day=2, tempo_bpm=72, clean=True)]


@pytest.fixture
def drawn(monkeypatch):
    """The figures that were drawn."""
    figures = []

    class Kept(tempo_curve.Figure):
        def __init__(self, *args, **more):
            super().__init__(*args, **more)
            figures.append(self)

    monkeypatch.setattr(tempo_curve, "Figure", Kept)
    return figures


def test_clean_takes_are_full_dots_and_others_open(drawn, tmp_path):
    draw_tempo_curve(POINTS, target_bpm=96, title="Ode", out=tmp_path / "curve.png")
    (axes,) = drawn[0].axes
    dots = [line for line in axes.lines if line.get_marker() == "o"]
    assert [tuple(line.get_xydata()[0]) for line in dots] == [(1, 60), (2, 72)]
    paper, read = tempo_curve._PAPER, tempo_curve._READ
    assert [line.get_markerfacecolor() for line in dots] == [paper, read]
    assert (tmp_path / "curve.png").read_bytes().startswith(b"\x89PNG")


def test_its_words_are_in_the_language_chosen(drawn, tmp_path):
    with speaking("de"):
        draw_tempo_curve(POINTS, target_bpm=96, title="Ode", out=tmp_path / "curve.png")
    (axes,) = drawn[0].axes
    assert (axes.get_xlabel(), axes.get_ylabel()) == ("Durchgang", "Schläge je Minute")
    assert [text.get_text() for text in axes.texts] == ["Tag 1", "Tag 2"]
    assert any("leer: nicht" in text.get_text() for text in drawn[0].texts)


@pytest.mark.parametrize("language", languages())
def test_what_the_dots_mean_stands_clear_of_the_word_below_the_axis(drawn, tmp_path, language):
    with speaking(language):
        draw_tempo_curve(POINTS, target_bpm=96, title="Ode", out=tmp_path / "curve.png")
        (legend,) = (text for text in drawn[0].texts if text.get_text() == say("curve.legend"))
    (axes,) = drawn[0].axes
    drawn[0].set_dpi(120)  # as it was saved
    assert legend.get_window_extent().x1 < axes.xaxis.label.get_window_extent().x0


def test_without_takes_there_is_a_picture_still(tmp_path):
    draw_tempo_curve([], target_bpm=96, title="Ode", out=tmp_path / "curve.png")
    assert (tmp_path / "curve.png").is_file()
