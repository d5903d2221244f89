"""What charts are drawn with."""

from game.report.chart_ink import POINTS_PER_MM, TEXT, font, text_width_mm


def test_a_text_is_measured_in_mm_and_grows_with_its_size():
    """Twenty letters m of 10 points: each about an em less its sides, between half an em and one (trade)."""
    width = text_width_mm("m" * 20, TEXT, 10.0)
    assert 100 / POINTS_PER_MM < width < 200 / POINTS_PER_MM
    assert abs(text_width_mm("m" * 20, TEXT, 20.0) - 2 * width) < 0.1
    assert text_width_mm("", TEXT, 10.0) == 0


def test_faces_are_those_that_are_shipped():
    assert font(TEXT, 9).get_file().endswith("content/fonts/HomefretText-Regular.ttf")
