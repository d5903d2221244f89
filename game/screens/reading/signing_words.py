"""By what a page that is signed was earned."""

from datetime import date

from game.coach.records import PassageRecord
from game.text.catalogue import say


def earned_in_words(record: PassageRecord | None, bpm: float, today: int) -> str:
    """The tempo, and the days of the two takes: the second is today, or both are past where it is signed later.

    `today` is an ordinal day.
    """
    days = [half.day for half in record.sign_offs] if record else []
    before = [date.fromordinal(day) for day in days if day != today]
    tempo = round(bpm)
    if today in days or len(before) < 2:
        return say("sign.clean_again", bpm=tempo, day=before[-1]) if before else say("sign.clean_today", bpm=tempo)
    return say("sign.clean_then", bpm=tempo, first=before[-2], then=before[-1])
