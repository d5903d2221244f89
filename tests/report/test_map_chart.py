"""The map as a chart."""

import pytest

from game.music.names import NoteNames
from game.music.score import Reading
from game.neck.neck_map import standard_map
from game.report.map_chart import chart_of, write_chart
from tests.speaking import speaking

MAP = standard_map()


def words(axes):
    return [text.get_text() for text in axes.texts]


def test_every_home_is_named_at_its_place():
    _, axes = chart_of(MAP)
    named = {(round(text.get_position()[0] + 0.05), round(text.get_position()[1] - 0.11)): text for text in axes.texts}
    for home in MAP.homes:
        assert (home.place.fret, home.place.string) in named
    # F4 on the page, the open D string's third fret an octave lower: string 5 fret 8 in position V (trade).
    assert named[8, 5].get_text() == "F"


def test_frets_and_strings_have_their_numbers():
    shown = words(chart_of(MAP)[1])
    assert {str(string) for string in range(1, 7)} <= set(shown)
    assert {"4", "9"} <= set(shown)


def test_notes_are_called_by_the_names_asked_for_long_ones_smaller():
    _, axes = chart_of(MAP, NoteNames.GERMAN)
    sizes = {text.get_text(): text.get_fontproperties().get_size_in_points() for text in axes.texts}
    assert {"H", "B", "Fis", "Es"} <= set(sizes)
    assert sizes["Fis"] < sizes["Es"] == sizes["H"]


def test_title_and_legend_are_in_the_language_chosen_and_say_how_the_page_sounds():
    with speaking("de"):
        shown = words(chart_of(standard_map(reading=Reading.CONCERT))[1])
    assert "Lage V, Stimmung Standard: klingt wie notiert" in shown
    assert any(word.startswith("voller Kreis") for word in shown)


@pytest.mark.parametrize(("ending", "begins"), [(".png", b"\x89PNG"), (".pdf", b"%PDF"), (".svg", b"<?xml")])
def test_the_ending_says_how_it_is_written(ending, begins, tmp_path):
    write_chart(MAP, tmp_path / f"map{ending}")
    assert (tmp_path / f"map{ending}").read_bytes().startswith(begins)
