"""What was truly read, and what was only repeated."""

import pytest

from game.coach.numbers import NUMBERS
from game.coach.record_update import updated_record
from game.coach.records import PassageRecord, Tally
from game.coach.sightings import evidence_weight, is_reading
from game.coach.stages import Stage
from tests.coach.coach_takes import take


def reading(stage=Stage.PLACES, *, sighting=1, heard=False, known_by_ear=False):
    return is_reading(stage, sighting=sighting, heard=heard, known_by_ear=known_by_ear)


@pytest.mark.parametrize(("sighting", "counts"), [(1, True), (2, True), (3, False), (40, False)])
def test_only_the_first_two_sightings_are_reading(sighting, counts):
    assert reading(sighting=sighting) is counts


@pytest.mark.parametrize("known", [{"heard": True}, {"known_by_ear": True}])
def test_what_was_heard_or_is_known_by_ear_is_not_reading(known):
    assert not reading(**known)


def test_the_rhythm_alone_and_naming_letters_are_no_reading_of_notes():
    assert {stage for stage in Stage if reading(stage)} == {Stage.PLACES, Stage.TIME, Stage.SIGHT}


def test_later_takes_feed_the_tempo_and_nothing_else():
    record = PassageRecord(facts=take().passage)
    record = updated_record(record, take(sighting=3), ())
    assert (record.read, record.find_times_s) == (Tally(), ())
    timed = updated_record(record, take(sighting=4, bpm=60), ())
    assert timed.belief is not None
    assert timed.read == Tally()


def test_takes_the_players_marked_themselves_weigh_half():
    assert (evidence_weight(self_marked=False), evidence_weight(self_marked=True)) == (1, 0.5)
    record = updated_record(PassageRecord(facts=take().passage), take(self_marked=True), ())
    assert record.read == Tally(16, 16)
    trusted = updated_record(record, take(2, bpm=80), ()).belief
    marked = updated_record(record, take(2, bpm=80, self_marked=True), ()).belief
    assert trusted.spread < marked.spread


def test_a_passage_is_offered_about_five_times_a_day():
    assert NUMBERS.takes_a_day == 5
