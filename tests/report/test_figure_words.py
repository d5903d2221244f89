"""How figures are written."""

from datetime import date

import pytest

from game.judging.verdicts import Cause, Verdict
from game.message import message
from game.music.names import NoteNames
from game.report import figure_words as words
from game.text.catalogue import tell
from tests.speaking import speaking

DAY = date(2026, 3, 3)


def test_days_figures_and_places_in_english():
    assert (words.day_said(DAY), words.short_day(DAY)) == ("3 March 2026", "3 Mar")
    assert (words.share_said(0.956), words.seconds_said(1.46), words.tempo_said(89.6)) == ("96%", "1.5 s", "90")
    assert (words.pace_said(1.256), words.place_said(5, 7)) == ("1.26", "string 5 fret 7")


def test_days_figures_and_places_in_german():
    with speaking("de"):
        assert (words.day_said(DAY), words.short_day(DAY)) == ("3. März 2026", "3. März")
        assert (words.share_said(0.956), words.seconds_said(1.46)) == ("96\N{NO-BREAK SPACE}%", "1,5 s")
        assert (words.pace_said(1.256), words.place_said(5, 7)) == ("1,26", "Saite 5 Bund 7")


def test_where_there_is_nothing_to_tell_a_dash_stands():
    said = (words.share_said(None), words.seconds_said(None), words.tempo_said(None), words.pace_said(None))
    assert {*said, words.causes_said(())} == {"–"}


@pytest.mark.parametrize(("minutes", "said"), [(0, "0"), (0.4, "under 1"), (0.5, "0"), (0.6, "1"), (12.4, "12")])
def test_a_short_practice_is_never_told_as_none(minutes, said):
    assert words.minutes_said(minutes) == said


@pytest.mark.parametrize(
    ("names", "said", "played"),
    [
        (NoteNames.ENGLISH, "B♭4", "B3"),
        (NoteNames.GERMAN, "B4", "H3"),
        (NoteNames.SOLFEGE, "si♭4", "si3"),
    ],
)
def test_notes_are_called_as_the_player_calls_them(names, said, played):
    assert words.note_said("Bb4", names) == said
    assert words.played_said(47, 1, names).replace("4", "3") == played
    assert words.played_said(None, 1, names) == "nothing"


def test_every_cause_and_verdict_has_words_and_what_an_odd_log_says_stands_as_it_is():
    assert len({tell(words.cause_said(cause.value)) for cause in Cause}) == len(Cause)
    assert {words.verdict_said(verdict.value) for verdict in Verdict} == {verdict.value for verdict in Verdict}
    assert (tell(words.cause_said("gremlins")), words.verdict_said("title")) == ("gremlins", "title")
    assert tell(words.mark_said("signed off")) == "signed off"
    assert tell(words.mark_said("title")) == "title"


def test_causes_are_told_with_how_often_each_came():
    assert words.causes_said((("slip", 2), ("octave", 1))) == "the hand, a fret or string off (2), another octave (1)"


def test_bars_by_their_printed_numbers():
    assert [tell(words.bars_said(*bars)) for bars in (("3", "3"), ("1", "4"))] == ["bar 3", "bars 1–4"]


def test_titles_are_shortened_wherever_they_stand_in_a_message_and_nothing_else():
    long = "A title " * 12
    said = words.briefly(
        message("monday.why.overdue", part=message("monday.passage", title=long, bars="x"), day="3 May " * 20)
    )
    assert tell(said) == f"{long[:47]}…, x, due on {'3 May ' * 20}."
    assert words.shortened("Ode to Joy") == "Ode to Joy"
