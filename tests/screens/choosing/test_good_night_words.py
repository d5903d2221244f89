"""The end of a sitting in words: nothing in it punishes."""

import pytest

from game.coach.plan.day_facts import AimAnswer, NoteGain, SittingEnd
from game.message import message, verbatim
from game.screens.choosing.good_night_words import TomorrowRow, good_night_sheet
from tests.screens.table import Table

BARS = message("passage.bars_of_tune", title="Ode to Joy", first="9", last="12")
NOTHING = {"minutes": 0, "takes": 0, "pages_signed": 0, "notes_read": 0, "quicker": (), "new_ink": ()}


@pytest.fixture
def told(tmp_path):
    context = Table(tmp_path).context

    def tell(**changes):
        aim = AimAnswer(reached=False, said=verbatim("not yet"))
        return good_night_sheet(context, SittingEnd(**{**NOTHING, "aim": aim, "tomorrow": (), **changes}))

    return tell


def test_what_was_played_is_summed_up_in_words(told):
    assert told(minutes=19, takes=5, pages_signed=1).played == "19 minutes played, five takes, one page signed"


def test_a_sitting_of_one_take_counts_as_a_minute(told):
    assert told(minutes=0, takes=1).played == "1 minute played, one take"


def test_who_did_not_play_is_told_of_no_aim_that_was_missed(told):
    sheet = told()
    assert sheet.aim == ""
    assert sheet.played == "nothing played today; everything lies as it was"
    assert sheet.quicker_none == "No note was read today. What is in ink stays ink."
    assert told(takes=1).aim == "not yet"


def test_quicker_notes_have_their_seconds_before_and_now_and_are_called_as_one_says_them(told):
    gain = NoteGain(written="Bb3", string=6, fret=6, before_s=2.31, now_s=1.4)
    sheet = told(quicker=(gain,), takes=1)
    (note,) = sheet.quicker
    assert (note.name, note.before, note.now) == ("low B♭", "2.3 s", "1.4 s")
    assert sheet.quicker_none == ""


def test_where_no_note_is_surely_quicker_it_says_how_many_were_read(told):
    assert told(takes=3, notes_read=212).quicker_none == "Nothing surely quicker today: 212 notes read."


def test_on_a_first_evening_nothing_could_be_quicker_and_the_notes_are_only_counted(told):
    assert told(takes=3, notes_read=101, compared=False).quicker_none == "101 notes read."


def test_what_is_new_in_ink_is_named_once(told):
    sheet = told(new_ink=("Bb4", "F5", "Bb4"), takes=1)
    assert sheet.ink_title == "New in ink"
    assert sheet.new_in_ink == "B♭ and F; 0 of 30 are yours"


def test_of_tomorrow_title_bars_and_reason_stand_apart(told):
    assert told(tomorrow=((BARS, verbatim("a rung up to 75")),)).tomorrow == (
        TomorrowRow("Ode to Joy", ", bars 9–12", "a rung up to 75"),
    )
