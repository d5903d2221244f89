"""By what a page that is signed was earned, in words."""

from datetime import date

from game.coach.events import PassageFacts
from game.coach.marks import SignOff
from game.coach.records import PassageRecord
from game.screens.reading.signing_words import earned_in_words

FIRST, SECOND = date(2026, 11, 24).toordinal(), date(2026, 11, 26).toordinal()


def record(*days: int) -> PassageRecord:
    facts = PassageFacts(name="bars 1-4")
    return PassageRecord(facts=facts, sign_offs=tuple(SignOff(day=day, wrong_notes=frozenset()) for day in days))


def test_a_page_signed_on_the_day_it_was_earned_tells_of_today():
    said = earned_in_words(record(FIRST, SECOND), 96, SECOND)
    assert said == "Clean at 96, first take of the day, on 24 Nov and again today."


def test_one_that_is_signed_later_tells_of_both_days():
    said = earned_in_words(record(FIRST, SECOND), 95.6, SECOND + 3)
    assert said == "Clean at 96, first take of the day, on 24 Nov and on 26 Nov."


def test_without_days_only_the_tempo_is_told():
    assert earned_in_words(None, 60, SECOND) == "Clean at 60, first take of the day."
