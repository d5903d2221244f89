"""The tables of a report, row by row."""

from datetime import date

from game.music.names import NoteNames
from game.practice_log.queries.figure_records import DayFigures, NoteFigures, PassageFigures, WentWrong
from game.report.student import Quicker
from game.report.tables import days_table, notes_table, passages_table, quicker_table, wrong_table
from tests.speaking import speaking

DAY = date(2026, 3, 3)


def test_days_stand_newest_first_with_where_the_share_surely_lies():
    days = [
        DayFigures(day=date(2026, 3, day), minutes=12.4, takes=3, read=read, clean=read, found=0, found_s=0.0)
        for day, read in ((1, 0), (2, 20))
    ]
    table = days_table(days)
    assert [row[0] for row in table.rows] == ["2 March 2026", "1 March 2026"]
    # Wilson's interval for 20 of 20: 20 / (20 + 1.96²) = 0.84.
    assert table.rows[0][1:] == ("12", "3", "20", "20", "100%", "84%", "100%", "–")
    assert table.rows[1][3:] == ("0", "0", "–", "–", "–", "–")
    assert len(table.headings) == len(table.rows[0]) == 9


def test_a_note_has_home_shares_times_and_causes():
    note = NoteFigures(written="Bb4", string=4, fret=8, read=8, clean=6, timed=5, find_s=1.84, causes=(("slip", 2),))
    table = notes_table([note], NoteNames.GERMAN)
    assert table.rows == (("B4", "4", "8", "8", "75%", "1.8 s", "the hand, a fret or string off (2)"),)
    assert len(table.headings) == 7


def test_what_got_quicker_has_before_and_now():
    gain = Quicker(written="F#4", string=4, fret=4, before_s=2.0, now_s=1.04)
    assert quicker_table([gain], NoteNames.ENGLISH).rows == (("F♯4", "4", "4", "2.0 s", "1.0 s"),)


def passage(**more):
    return PassageFigures(
        **{
            "key": "k", "title": "Ode to Joy", "first": "1", "last": "4", "takes": 3, "first_day": DAY, "last_day": DAY,
            "newest_bpm": None, "clean_bpm": 88.6, "target_bpm": 96, **more,
        }
    )  # fmt: skip


def test_passages_are_numbered_with_tempi_and_marks():
    marks = (("found", DAY), ("in time", DAY))
    plain, marked = passages_table([passage(), passage(marks=marks, first="3", last="3")], DAY).rows
    assert plain == ("1", "Ode to Joy", "bars 1–4", "3", "3 Mar", "–", "89", "96", "–")
    assert marked[2] == "bar 3"
    assert marked[-1] == "found on 3 March 2026; in time on 3 March 2026"


def test_what_went_wrong_is_told_in_words_of_the_language_with_titles_of_lines():
    wrong = WentWrong(
        day=DAY, title="Five notes, in F", bar="2", written="C5", string=3, fret=5, verdict="wrong pitch", played=61,
        cause="neighbour", octaves_down=1, times=2,
    )  # fmt: skip
    english, unknown = wrong_table([wrong, wrong_with(wrong, cause=None, played=None)], NoteNames.ENGLISH).rows
    assert english == (
        "Five notes, in F", "2", "C5", "string 3 fret 5", "wrong pitch", "C♯5", "a line or space off", "2",
        "3 Mar",
    )  # fmt: skip
    assert (unknown[5], unknown[6]) == ("nothing", "–")
    with speaking("de"):
        (german,) = wrong_table([wrong], NoteNames.GERMAN).rows
    assert german[3:7] == ("Saite 3 Bund 5", "falscher Ton", "Cis5", "eine Linie oder ein Zwischenraum daneben")


def wrong_with(wrong, **more):
    from dataclasses import replace

    return replace(wrong, **more)
