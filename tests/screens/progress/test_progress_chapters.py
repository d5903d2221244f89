"""The chapters of progress: each figure names its total, and no curve is drawn through too little or across levels."""

from datetime import date, timedelta

import pytest

from game.message import verbatim
from game.music.names import NoteNames
from game.practice_log.queries.figure_records import DayFigures, SightReading, SignedPace
from game.screens.choosing.lines_read import LineRead
from game.screens.progress.progress_chapters import chapters
from game.screens.progress.progress_figures import Progress

DAY = date(2026, 11, 1)


def line(clean, notes=20, level=1, day=0):
    sight = SightReading(day=DAY + timedelta(days=day), title="", stage="sight", notes=notes, clean=clean)
    return LineRead(level=level, key="F", sight=sight)


def day_of(number, found=40, each_s=1.0):
    return DayFigures(
        day=DAY + timedelta(days=number),
        minutes=18,
        takes=9,
        read=60,
        clean=50,
        found=found,
        found_s=found * each_s,
    )


def signed(title, bpm, notes_per_beat, number=0):
    return SignedPace(
        day=DAY + timedelta(days=number), title=title, first="1", last="4", bpm=bpm, notes_per_beat=notes_per_beat
    )


def told(**of):
    return chapters(Progress(**of), NoteNames.ENGLISH)


def test_before_anything_was_read_each_chapter_says_what_will_come():
    for chapter in told():
        assert (chapter.figure, chapter.unit, chapter.dots, chapter.curves) == ("–", "", (), ())
        assert chapter.sentence


def test_the_first_figure_is_the_last_five_lines_of_the_newest_level_of_twenty_notes():
    sight, _, _ = told(lines=(line(2, level=2), *(line(clean) for clean in (5, 16, 17, 17, 18, 17))))
    assert (sight.figure, sight.unit) == ("17", "of 20 right")
    assert sight.sentence == "In the last five unseen lines of level 1, 85 of 100 notes were right."


def test_after_ten_lines_of_a_level_it_is_told_what_it_was_at_first():
    sight, _, _ = told(lines=tuple(line(10 + at // 2) for at in range(12)))
    assert sight.sentence.endswith("At first it was 11 of 20.")


@pytest.mark.parametrize(("count", "said"), [(1, "one is here"), (2, "two are here"), (4, "four are here")])
def test_under_five_lines_there_are_dots_and_no_curve_and_it_says_why(count, said):
    sight, _, _ = told(lines=(line(15),) * count)
    assert (len(sight.dots), sight.curves) == (count, ())
    assert sight.below == (f"Five unseen lines make a curve; {said}.",)


def test_each_line_shows_its_level_and_no_curve_goes_across_levels():
    lines = [line(15, level=1 + (at % 3 == 2), day=at) for at in range(12)]
    sight, _, _ = told(lines=tuple(lines))
    assert [dot.inside for dot in sight.dots] == [str(one.level) for one in lines]
    [curve] = sight.curves
    assert {lines[place].level for place in curve.places} == {1}


def test_five_lines_of_five_levels_make_none():
    sight, _, _ = told(lines=tuple(line(15, level=level) for level in range(1, 6)))
    assert sight.curves == ()
    assert sight.below == ("Five unseen lines of one level make a curve.",)


def test_the_axis_begins_at_nothing_whatever_there_is():
    for chapter in told(lines=(line(19),) * 6, days=tuple(map(day_of, range(6))), signed=(signed("Ode", 60, 1.5),)):
        assert float(chapter.bounds[0].replace(",", ".")) == 0
        assert float(chapter.bounds[-1]) == chapter.top
        assert all(dot.value <= chapter.top for dot in chapter.dots)


@pytest.mark.parametrize("slow_s", [0.3, 1.9, 3.0, 7.0, 19.0, 55.0])
def test_no_dot_is_above_the_axis(slow_s):
    _, find, _ = told(days=(day_of(0, each_s=slow_s), day_of(1)))
    assert max(dot.value for dot in find.dots) == pytest.approx(slow_s if slow_s > 1 else 1.0)
    assert find.top >= slow_s


def test_to_find_a_note_is_the_mean_of_the_last_five_days_and_counts_its_notes():
    days = (day_of(0, found=400, each_s=9.0), *(day_of(at, each_s=1.2) for at in range(1, 6)), day_of(9, found=0))
    _, find, _ = told(days=days)
    assert (find.figure, find.unit) == ("1.2", "seconds")
    assert find.sentence == "Over 200 notes read at your own pace, on the last five days."
    assert len(find.dots) == 6


def test_the_highest_signed_is_compared_in_notes_a_second_never_in_beats():
    """Quavers at 60 beats are more to read than minims at 100."""
    _, _, highest = told(signed=(signed("Minims", 100, 0.5), signed("Quavers", 60, 2.0, number=3)))
    assert (highest.figure, highest.unit) == ("2.0", "notes a second")
    assert highest.sentence == "Quavers, bars 1 to 4, at 60 beats a minute."
    assert (highest.ringed, highest.curves) == (1, ())


def test_what_lies_ahead_and_a_week_that_was_much_stand_below_the_first_figure():
    sight, _, _ = told(lines=(line(15),) * 6, outlook=(verbatim("Soon."),), warning=verbatim("Too much."))
    assert sight.below == ("Soon.", "Too much.")
