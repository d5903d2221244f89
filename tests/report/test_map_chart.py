"""The map as a chart."""

from dataclasses import replace
from io import BytesIO
from itertools import takewhile

import pytest
from matplotlib.image import imread
from matplotlib.text import Annotation
from pypdf import PdfReader

from game.errors import MapError
from game.music.names import NoteNames
from game.music.score import Reading
from game.neck.hand import UNSTRETCHED
from game.neck.neck_map import SecondRegion, standard_map
from game.neck.tuning import Place, tuning_named
from game.practice_log.queries.how_held import HowHeld
from game.report.map_chart import A4_ACROSS_MM, CONTENT_MM, ChartStyle, chart_bytes, chart_of, map_sheet, write_chart
from tests.refusing import refusal
from tests.sampling import sample
from tests.speaking import speaking

MAP = standard_map()
A_FEW_PIXELS = 4


def words(axes):
    return [text.get_text() for text in axes.texts]


def test_every_home_is_named_at_its_place():
    _, axes, _ = chart_of(MAP)
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
    _, axes, _ = chart_of(MAP, NoteNames.GERMAN)
    sizes = {text.get_text(): text.get_fontproperties().get_size_in_points() for text in axes.texts}
    assert {"H", "B", "Fis", "Es"} <= set(sizes)
    assert sizes["Fis"] < sizes["Es"] == sizes["H"]


def test_title_and_legend_are_in_the_language_chosen_and_say_how_the_page_sounds():
    with speaking("de"):
        shown = words(chart_of(standard_map(reading=Reading.CONCERT))[1])
    assert "Lage V, Stimmung Standard: klingt wie notiert" in shown
    assert any(word.startswith("voller Kreis") for word in shown)


@pytest.mark.parametrize(
    ("ending", "begins"), sample([(".png", b"\x89PNG"), (".pdf", b"%PDF"), (".svg", b"<?xml")], by_default=1)
)
def test_the_ending_says_how_it_is_written(ending, begins, tmp_path):
    write_chart(MAP, tmp_path / f"map{ending}")
    assert (tmp_path / f"map{ending}").read_bytes().startswith(begins)


def everything_drawn(figure, axes):
    """The boxes of all that is drawn, in mm from the top left corner of the page."""
    figure.canvas.draw()
    to_mm = axes.transData.inverted()
    artists = (*axes.texts, *axes.lines, *axes.patches)
    return [to_mm.transform_bbox(artist.get_window_extent()) for artist in artists]


EIGHT = standard_map(
    tuning=tuning_named("eight-string"), frets=24, position=1, second=SecondRegion(position=17, seam=69)
)
SHEETS = {
    "one position": (standard_map(), ChartStyle()),
    "as large as it gets": (EIGHT.with_choice(Place(1, 24)), ChartStyle(names=NoteNames.SOLFEGE, capo=3)),
    "four strings": (
        standard_map(tuning=tuning_named("bass"), reading=Reading.BASS),
        ChartStyle(names=NoteNames.GERMAN, left_handed=True, blank=True),
    ),
    "all frets of a long neck": (
        standard_map(frets=30).with_choice(Place(1, 30)).with_choice(Place(6, 0)),
        ChartStyle(),
    ),
}


@pytest.mark.parametrize(("neck_map", "style"), sample(SHEETS.values(), by_default=1))
def test_nothing_leaves_the_margins_of_the_sheet_and_no_two_words_stand_on_each_other(neck_map, style):
    """12 mm on A4 and on Letter (279.4 by 215.9 mm: ANSI/ASME Y14.1), the sheet in the middle of either; in German,
    whose words are longer.
    """
    with speaking("de"):
        figure, axes = map_sheet(neck_map, style)
    boxes = everything_drawn(figure, axes)
    left, top = (A4_ACROSS_MM[side] / 2 - CONTENT_MM[side] / 2 - 1 for side in (0, 1))
    assert min(min(box.x0, box.x1) for box in boxes) >= left >= (297 - 279.4) / 2 + 12
    assert max(max(box.x0, box.x1) for box in boxes) <= 297 - left
    assert min(min(box.y0, box.y1) for box in boxes) >= top >= 11
    assert max(max(box.y0, box.y1) for box in boxes) <= 210 - top
    across = sorted((text.get_window_extent() for text in axes.texts if text.get_text()), key=lambda box: box.x0)
    for index, box in enumerate(across):
        for other in takewhile(lambda other, end=box.x1: other.x0 < end, across[index + 1 :]):
            assert min(min(box.y1, other.y1) - max(box.y0, other.y0), box.x1 - other.x0) <= A_FEW_PIXELS


def test_the_sheet_says_what_its_reader_must_know():
    joined = standard_map(second=SecondRegion(position=9, seam=65))
    shown = words(map_sheet(joined, ChartStyle(capo=2, left_handed=True))[1])
    assert "Positions V and IX, standard tuning" in shown
    facts = "position IX from F5 up · capo at fret 2, frets counted from it · left-handed"
    assert f"sounds an octave below the page · {facts}" in shown


def test_hands_that_stretch_are_told_to_stop_where_it_hurts_and_others_are_not():
    care = "Where a stretch hurts, stop"
    assert any(care in word for word in words(map_sheet(standard_map(), ChartStyle())[1]))
    assert not any(care in word for word in words(map_sheet(standard_map(hand=UNSTRETCHED), ChartStyle())[1]))


def test_a_blank_sheet_has_notes_and_no_names():
    shown = words(map_sheet(standard_map(), ChartStyle(blank=True))[1])
    assert not {"A", "C", "F♯", "B♭"} & set(shown)
    assert {str(fret) for fret in range(3, 11)} <= set(shown)


def test_a_map_without_homes_is_a_sentence():
    with refusal(MapError, "no home on the neck"):
        chart_bytes(replace(MAP, homes=()), ".png")


def test_the_pdf_is_one_page_of_a4_across_with_the_shipped_fonts():
    (page,) = PdfReader(BytesIO(chart_bytes(MAP, ".pdf"))).pages
    assert [float(side) * 25.4 / 72 for side in page.mediabox[2:]] == pytest.approx(A4_ACROSS_MM, abs=0.5)
    faces = [str(face.get_object()["/BaseFont"]) for face in page["/Resources"]["/Font"].values()]
    assert faces
    assert all("Homefret" in face for face in faces)


def test_the_picture_is_black_and_white_enough_to_be_printed_so():
    """Its ink is as dark in grey as in colour, and its ground is white: most of the sheet."""
    grey = imread(BytesIO(chart_bytes(MAP, ".png")))[..., :3].mean(axis=2)
    assert grey.min() < 0.15
    assert (grey > 0.99).mean() > 0.6


def test_the_neck_alone_is_mirrored_for_the_left_hand_and_names_the_capo():
    _, axes, neck = chart_of(MAP, held=HowHeld(left_handed=True, capo=2))
    assert neck.x(4) > neck.x(9)
    for home in MAP.homes:
        assert any(
            abs(text.get_position()[0] - neck.x(home.place.fret)) < 0.2
            and abs(text.get_position()[1] - home.place.string) < 0.2
            for text in axes.texts
        )
    assert any("capo at fret 2" in word and "left-handed" in word for word in words(axes))
    left, right = sorted(axes.get_xlim())
    own = [text for text in axes.texts if not isinstance(text, Annotation)]
    numbers = [text.get_position()[0] for text in own if text.get_text() in set("123456")]
    assert all(left + 0.2 < x < right - 0.2 for x in numbers)


def test_the_neck_of_a_joined_map_is_called_by_both_positions():
    shown = words(chart_of(standard_map(second=SecondRegion(position=9, seam=66)))[1])
    assert any(word.startswith("Position V–IX") for word in shown)


@pytest.mark.parametrize("left_handed", sample([False, True], by_default=1))
def test_the_title_of_the_neck_alone_ends_within_it_in_german_too(left_handed):
    with speaking("de"):
        neck_map = standard_map(tuning=tuning_named("seven-string-drop-a"), reading=Reading.BASS)
        figure, axes, _ = chart_of(neck_map, held=HowHeld(left_handed=left_handed))
        title = next(text for text in axes.texts if text.get_text().startswith("Lage V"))
        assert title.get_window_extent().x1 <= figure.bbox.x1
