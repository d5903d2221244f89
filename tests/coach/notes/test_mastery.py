"""Notes remembered: evidence and reviews together, one rating a day."""

from game.coach.notes.mastery import Mastery, due_notes, mastery_after, mastery_on
from game.coach.notes.note_reads import items_after, take_reads
from game.coach.notes.review import due_day
from game.judging.verdicts import Verdict
from tests.coach.judged_takes import judged


def after(*takes):
    mastery = Mastery()
    for take in takes:
        mastery = mastery_after(mastery, take_reads(take))
    return mastery


def names(keys):
    return {key.written for key in keys}


def test_a_day_is_rated_when_it_is_over():
    mastery = after(judged("F4 G4", day=5), judged("F4 G4", day=5, sighting=2))
    assert mastery.reviews == {}
    assert {read.readings for read in mastery.today.values()} == {2}
    closed = mastery_on(mastery, 6)
    assert names(closed.reviews) == {"F4", "G4"}
    assert closed.today == {}
    assert mastery_on(closed, 6) is closed


def test_a_failed_note_comes_back_the_next_day_and_one_read_well_later():
    wrong = [Verdict.CLEAN, Verdict.WRONG_PITCH]
    mastery = mastery_on(after(judged("F4 G4", day=5), judged("F4 G4", wrong, day=6)), 7)
    days = {key.written: due_day(review) for key, review in mastery.reviews.items()}
    assert days["G4"] == 7
    assert days["F4"] > 8


def test_what_is_due_and_was_read_today_is_done_for_today():
    mastery = after(judged("F4 G4", day=5), judged("A4 G4", day=9))
    assert names(due_notes(mastery, 9)) == {"F4"}
    assert "G4" in names(due_notes(mastery, 60))


def test_the_items_are_those_of_the_plain_fold():
    takes = [judged("F4 G4", day=5), judged("G4 A4", day=7, find_ms=2000.0)]
    items = {}
    for take in takes:
        items = items_after(items, take_reads(take))
    assert after(*takes).items == items


def test_a_take_of_an_earlier_day_that_was_judged_late_counts_as_one_of_the_newest():
    mastery = after(judged("F4 G4", day=9), judged("F4 G4", day=5))
    assert (mastery.day, {read.readings for read in mastery.today.values()}) == (9, {2})


def test_what_was_no_reading_leaves_no_rating():
    assert mastery_on(after(judged("F4 G4", day=5, heard=True)), 6).reviews == {}
