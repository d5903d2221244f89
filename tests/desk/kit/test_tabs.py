"""Divider tabs."""

from itertools import pairwise

from game.desk.kit.tabs import Tab, draw_tabs

ENGLISH = [
    Tab(word, key) for word, key in zip("Today Shelf Line Map Progress Book Settings".split(), "THNMGBS", strict=True)
]
LONG = [Tab(f"{tab.word} and more", tab.key) for tab in ENGLISH]


def test_tabs_stand_side_by_side_above_the_paper(canvas, drawn):
    hits = draw_tabs(canvas, ENGLISH, 0)
    assert all(left.right <= right.left for left, right in pairwise(hits))
    assert all(hit.bottom == canvas.px(64) for hit in hits)
    assert hits[0].top < hits[1].top
    assert drawn(canvas).right <= hits[-1].right + 2


def test_tabs_with_long_words_draw_closer_and_stay_in_the_window(canvas):
    hits = draw_tabs(canvas, LONG, 3)
    assert all(left.right <= right.left for left, right in pairwise(hits))
    assert hits[-1].right <= canvas.sheet.size[0] or canvas.sheet.size[0] < 1000
