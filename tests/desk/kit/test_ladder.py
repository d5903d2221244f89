"""The ladder of tempi."""

import pytest

from game.desk.kit.ladder import LadderRoom, Rung, RungState, draw_ladder

ROOM = LadderRoom(1000, 126, 556)
TEMPI = (57, 61, 65, 70, 75, 81, 96)


def rungs(**changes):
    states = [RungState.KEPT] * 3 + [RungState.NOW] + [RungState.AHEAD] * 3
    return [Rung(tempo=tempo, state=state, **changes) for tempo, state in zip(TEMPI, states, strict=True)]


def test_the_lowest_rung_stands_lowest_and_each_can_be_clicked_by_itself(canvas):
    hits = draw_ladder(canvas, rungs(), ROOM)
    assert [hit.centery for hit in hits] == sorted((hit.centery for hit in hits), reverse=True)
    assert all(not one.colliderect(other) for one in hits for other in hits if one is not other)


def test_all_of_it_stays_in_its_margin(canvas, drawn):
    draw_ladder(canvas, rungs(takes=(True, False, True)), ROOM)
    room = canvas.rect(ROOM.left - 70, ROOM.top - 10, ROOM.width + 70 + 80, ROOM.bottom - ROOM.top + 20)
    assert room.contains(drawn(canvas))


def colours_at(canvas, hit):
    column = range(hit.left + canvas.px(72), hit.left + canvas.px(110))
    return {tuple(canvas.surface.get_at((x, hit.centery + dy))[:3]) for x in column for dy in (-1, 0, 1)}


@pytest.mark.parametrize(("number", "colour"), [(0, "read"), (3, "accent")])
def test_what_was_kept_is_ink_and_what_is_climbed_now_is_red(canvas, number, colour):
    hit = draw_ladder(canvas, rungs(), ROOM)[number]
    wanted = getattr(canvas.theme, colour)
    assert any(all(abs(a - b) < 40 for a, b in zip(seen, wanted, strict=True)) for seen in colours_at(canvas, hit))


def test_a_rung_that_was_only_wished_for_is_not_ink(canvas):
    hit = draw_ladder(canvas, rungs(wish=True), ROOM)[0]
    assert canvas.theme.read not in colours_at(canvas, hit)
