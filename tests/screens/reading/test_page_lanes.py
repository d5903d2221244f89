"""Whatever goes wrong in a take, in music that leaves little room, the pencil touches neither print nor itself.

Players with seeds play every second note wrong somehow: chromatic eighths and sixteenths, ledger lines below and above,
a chord symbol over every beat, endings, ties, rests and grace notes.
"""

from itertools import product
from random import Random

import pytest

from game.coach.stages import Stage
from game.desk.mark_lanes import LaneType
from game.music.names import NoteNames
from game.music.passage import whole_tune
from game.neck.tuning import Place
from game.player.settings import MusicFace, Settings
from game.practice.pencilled import CountMark, NameMark, OffTimeMark, PaceMark, PlacedMark, PlaceMark, PlayedHead
from game.screens.reading.marked_page import MarkedPage
from game.screens.reading.page_lanes import print_of
from game.screens.reading.scrolling_music import ScrollingMusic
from game.screens.reading.still_music import StillMusic
from tests.sampling import sample
from tests.screens.faulty_takes import crowded_tune, open_page, play_badly, request_in
from tests.screens.table import Table

SIZES = ((960, 600), (1280, 720), (1920, 1080))
CASES = tuple(product(SIZES, MusicFace, NoteNames, range(3)))


def table_of(folder, size, face, names, *, still=False, staff_space_px=26):
    settings = Settings(
        music_face=face, note_names=names, still=still, staff_space_px=staff_space_px, marks_in_take=True
    )
    return Table(folder, settings, size, guitar=True)


def finished(table, seed):
    """The result of a take."""
    open_page(table, request_in(table, Stage.TIME))
    play_badly(table, seed)
    for _ in range(200):
        if table.screen_name == "ResultScreen":
            return table.screen
        table.wait(0.5, frame_s=0.25)
    raise AssertionError("the take never ended")


def check(pencil, marks, theme, lane_type, page=None):
    """Hold all that is pencilled against the print of its line and against each other; gives how many marks stand."""
    lines = {}
    for line, mark, note_x, rect in pencil.rects(marks, theme):
        lines.setdefault(line, []).append((mark, note_x, rect))
    for line, laid in lines.items():
        printed = list(pencil._lane_of(line).printed)
        notes = sorted(
            {pencil._note_at(one.head)[1].head.centerx for one in marks if pencil._note_at(one.head)[0] == line}
        )
        for at, (mark, note_x, rect) in enumerate(laid):
            assert rect.collidelist(printed) < 0, (mark, rect)
            others = [other for _, other_x, other in laid[:at] if mark is not None or other_x != note_x]
            assert rect.collidelist(others) < 0, (mark, rect)
            assert max(rect.size) >= 0.6 * lane_type.px or mark is None
            if mark is not None:
                lane = pencil._lane_of(line)
                at_edge = rect.left <= lane.left + 1 or rect.right >= lane.right - 1
                assert at_edge or min(notes, key=lambda x, rect=rect: abs(x - rect.centerx)) == note_x
                in_lane = rect.top >= pencil._lane_of(line).top
                tied = any(stroke is None and x == note_x for stroke, x, _ in laid)
                assert not in_lane or tied or isinstance(mark, CountMark)
                assert in_lane or isinstance(mark, PlayedHead)
        if page is not None and line + 1 < len(page.lines):
            below = print_of(page, line + 1).top
            assert max(rect.bottom for _, _, rect in laid) <= below
    return sum(mark is not None for laid in lines.values() for mark, _, _ in laid)


@pytest.mark.parametrize(("size", "face", "names", "seed"), sample(CASES, by_default=1))
def test_after_a_take(tmp_path, size, face, names, seed):
    table = table_of(tmp_path, size, face, names)
    result = finished(table, seed)
    page, theme = result.page, table.context.theme
    lane_type = LaneType.of(page._page.space_px, table.context.sheet.mark_px)
    assert lane_type.px >= table.context.sheet.mark_px
    stand = check(page._pencil, result._marks, theme, lane_type, page._page)
    assert len(result._marks) > 10
    assert stand >= 0.9 * len(result._marks)


@pytest.mark.parametrize(("size", "face", "names", "seed"), sample(CASES, by_default=1))
@pytest.mark.parametrize("still", sample([False, True], by_default=1))
def test_while_it_is_played(tmp_path, size, face, names, seed, still):
    table = table_of(tmp_path, size, face, names, still=still)
    open_page(table, request_in(table, Stage.TIME))
    play_badly(table, seed, until=0.8)
    view, music = table.screen.view, table.screen.view.music
    assert len(view.marks) > 5
    space_px = music._page.space_px if still else music._staff.space_px
    lane_type = LaneType.of(space_px, table.context.sheet.mark_px)
    check(music._pencil, view.marks, table.context.theme, lane_type)
    for placed in view.marks:
        box = music.note_box(placed.head)
        assert box is None or view.staff_area.contains(box.head)


def everything(passage):
    """Marks of every kind at every note: more than any take brings."""
    chance = Random(1)
    for note in passage.notes:
        head = note.heads[0]
        yield PlacedMark(head, NameMark(text="F♯"))
        yield PlacedMark(head, PlayedHead(pitch=note.pitch.up_octaves(chance.choice((-1, 0, 1))), show_sign=True))
        yield PlacedMark(head, OffTimeMark(early=chance.random() < 0.5))
        yield PlacedMark(head, PlaceMark(place=Place(6, 13), home=True))
        yield PlacedMark(head, PaceMark("from here behind the click"))
        yield PlacedMark(head, CountMark("&"))


@pytest.mark.parametrize(
    ("size", "face", "staff_space_px"), sample(product(SIZES, MusicFace, (16, 26, 48)), by_default=1)
)
@pytest.mark.parametrize("make", [StillMusic, ScrollingMusic, MarkedPage])
def test_with_every_mark_at_every_note(tmp_path, size, face, staff_space_px, make):
    table = table_of(tmp_path, size, face, NoteNames.SOLFEGE, staff_space_px=staff_space_px)
    passage, area = whole_tune(crowded_tune()), table.context.sheet.text_area
    marks = list(everything(passage))
    seen = make(table.context, passage, marks, area) if make is MarkedPage else make(table.context, passage, area)
    space_px = seen._staff.space_px if make is ScrollingMusic else seen._page.space_px
    lane_type = LaneType.of(space_px, table.context.sheet.mark_px)
    stand = check(seen._pencil, marks, table.context.theme, lane_type, getattr(seen, "_page", None))
    assert stand >= len(passage.notes) / 2
