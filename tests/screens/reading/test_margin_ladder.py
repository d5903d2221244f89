"""The ladder in the margin stands beside the page, and its arrow leads where the tempo goes."""

import pytest

from game.desk.kit.canvas import Canvas
from game.desk.kit.ladder import Rung, RungState
from game.desk.sheet import Sheet
from game.desk.theme import PAPER
from game.screens.reading import margin_ladder
from game.screens.reading.margin_ladder import draw_margin_ladder, left_of_ladder


def rungs(now):
    return tuple(
        Rung(tempo=bpm, state=RungState.NOW if bpm == now else RungState.KEPT, target=bpm == 75)
        for bpm in (57, 61, 65, 70, 75)
    )


@pytest.fixture
def canvas(table):
    return Canvas(table.app.surface, Sheet((1280, 720)), PAPER)


def test_a_page_ends_left_of_all_of_it(canvas):
    hits = draw_margin_ladder(canvas, rungs(65), 520.0)
    assert min(hit.left for hit in hits) >= canvas.px(left_of_ladder(canvas))
    assert max(hit.bottom for hit in hits) <= canvas.px(520)


@pytest.mark.parametrize(
    ("played", "now", "drawn"), [(65, 70, 2), (70, 65, 2), (57, 70, 0), (65, 65, 0), (None, 65, 0)]
)
def test_an_arrow_leads_to_the_next_rung_and_over_none(canvas, monkeypatch, played, now, drawn):
    strokes = []
    monkeypatch.setattr(margin_ladder, "draw_pencil", lambda _canvas, points, *_: strokes.append(points))
    hits = draw_margin_ladder(canvas, rungs(now), 520.0, played)
    assert len(strokes) == drawn
    if strokes:
        bend = strokes[0]
        to = hits[[rung.tempo for rung in rungs(now)].index(now)].centery
        assert abs(bend[-1][1] - to) < abs(bend[0][1] - to)
