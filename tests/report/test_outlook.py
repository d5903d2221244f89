"""What lies ahead, in a sentence."""

import math
from datetime import date, timedelta

from game.message import Message
from game.practice_log.queries.figure_records import DayFigures
from game.report.forecast import Forecast
from game.report.outlook import _when as when
from game.report.outlook import outlook
from game.text.catalogue import catalogue_in, tell

FIRST = date(2026, 1, 5)


def _days(count, *, at_first_sight=True):
    """Days of 60 notes: what is not clean falls as 0.03 + 0.4 exp(-0.04 t), the time as 1 + 3 exp(-0.04 t)."""
    return [
        DayFigures(
            day=FIRST + timedelta(days=at),
            minutes=20,
            takes=10,
            read=60 if at_first_sight else 0,
            clean=round(60 * (0.97 - 0.4 * math.exp(-0.04 * at))) if at_first_sight else 0,
            found=60,
            found_s=60 * (1 + 3 * math.exp(-0.04 * at)),
        )
        for at in range(count)
    ]


def test_both_measures_are_told_in_a_sentence_with_day_and_range():
    """The share reaches 0.10 after ln(0.4 / 0.07) / 0.04 = 43.6 days, the time 1.5 s after ln(6) / 0.04 = 44.8."""
    sight, find = outlook(_days(30))
    assert (sight.what, find.what) == ("first sight", "time to find")
    assert abs((sight.forecast.day - FIRST).days - 44) <= 6
    assert abs((find.forecast.day - FIRST).days - 45) <= 1
    assert "nine notes of ten" in tell(sight.sentence)
    assert "in 1.5 seconds" in tell(find.sentence)


def test_what_was_never_measured_is_not_told():
    (only,) = outlook(_days(30, at_first_sight=False))
    assert only.what == "time to find"
    assert outlook(_days(5)) == ()
    assert outlook(()) == ()


def _forecast(latest):
    day = date(2026, 3, 3)
    return Forecast(limit=1.5, now=2.0, day=day, earliest=date(2026, 3, 1), latest=latest, days=20)


def test_the_range_is_told_with_its_chance_and_left_out_where_it_is_a_day():
    wide, narrow = when(_forecast(date(2026, 3, 9))), when(_forecast(date(2026, 3, 1)))
    assert tell(wide) == "about 3 March 2026: between 1 March 2026 and 9 March 2026, with a chance of 8 in 10."
    assert tell(narrow) == "about 3 March 2026."


def test_the_sentence_is_a_message_that_any_language_can_tell():
    (_, find) = outlook(_days(30))
    assert isinstance(find.sentence, Message)
    assert "in 1,5 Sekunden" in catalogue_in("de").tell(find.sentence)
