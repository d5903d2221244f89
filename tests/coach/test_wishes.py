"""The player overrules the coach, and the coach learns from it."""

import pytest

from game.coach.coach import replayed
from game.coach.decisions import Offer
from game.coach.events import Overruled, Wish
from game.coach.numbers import NUMBERS
from game.coach.records import PassageRecord
from game.coach.stages import Pulse, Stage
from game.coach.wishes import granted, wish_after
from game.text.catalogue import tell_all
from tests.coach.coach_takes import PASSAGE, take


def overruled(wish, bpm=None, day=1):
    return Overruled(passage=PASSAGE, day=day, wish=wish, tempo_bpm=bpm)


def last_decision(*events):
    return replayed(events).decision


@pytest.mark.parametrize(("named", "granted"), [(10, 30), (900, 300)])
def test_a_tempo_out_of_range_is_brought_into_it(named, granted):
    assert last_decision(overruled(Wish.METRONOME_NOW, named)).tempo_bpm == granted


@pytest.mark.parametrize(
    ("bpm", "wish", "said"),
    [
        (30, Wish.SLOWER, "30 is the slowest click; without the metronome it goes at your own pace."),
        (300, Wish.FASTER, "300 is the fastest click."),
    ],
)
def test_at_either_end_a_wish_is_told_why_it_changes_nothing(bpm, wish, said):
    decision = last_decision(overruled(Wish.METRONOME_NOW, bpm), overruled(wish))
    assert (decision.tempo_bpm, tell_all(decision.reason)) == (bpm, said)


def test_slower_is_slower_at_once_and_a_little_slower_afterwards():
    before = last_decision(take(1, bpm=90))
    slower = last_decision(take(1, bpm=90), overruled(Wish.SLOWER))
    assert slower.tempo_bpm == int(before.tempo_bpm * 0.92)
    unasked, after = last_decision(take(3, bpm=90)), last_decision(overruled(Wish.SLOWER), take(3, bpm=90))
    assert after.tempo_bpm < unasked.tempo_bpm


def test_wishes_do_not_add_up_without_end():
    assert replayed([overruled(Wish.SLOWER)] * 50).wish == -NUMBERS.wish_most
    assert replayed([overruled(Wish.FASTER)] * 50).wish == NUMBERS.wish_most


def test_without_the_metronome_is_granted():
    asked = last_decision(take(1, bpm=90), overruled(Wish.NO_METRONOME))
    assert (asked.stage, asked.pulse, asked.tempo_bpm) == (Stage.TIME, Pulse.FREE, None)


def test_another_passage_is_granted():
    assert last_decision(take(), overruled(Wish.ANOTHER_PASSAGE)).offer is Offer.SIBLING


def record(stage=Stage.PLACES, pulse=Pulse.FREE):
    return PassageRecord(facts=PASSAGE, stage=stage, pulse=pulse, tries=2)


def step(wish, bpm=90, *, named=None, **where):
    return granted(record(**where), overruled(wish, named), bpm, NUMBERS)


def test_the_metronome_now_comes_with_pitch_and_rhythm_unless_the_rhythm_or_first_sight_is_at_hand():
    assert step(Wish.METRONOME_NOW).record.stage is Stage.TIME
    assert step(Wish.METRONOME_NOW, stage=Stage.RHYTHM).record.stage is Stage.RHYTHM
    assert step(Wish.METRONOME_NOW, stage=Stage.SIGHT).record.stage is Stage.SIGHT
    assert step(Wish.METRONOME_NOW).record.pulse is Pulse.METRONOME


def test_slower_without_the_metronome_stays_without_it():
    assert step(Wish.SLOWER, stage=Stage.TIME).record.pulse is Pulse.FREE


def test_after_a_wish_tries_are_counted_anew_but_not_for_another_passage():
    assert step(Wish.FASTER, stage=Stage.TIME, pulse=Pulse.METRONOME).record.tries == 0
    assert step(Wish.ANOTHER_PASSAGE).record.tries == 2


def test_only_slower_and_faster_are_learned_from():
    assert wish_after(0.0, Wish.SLOWER, NUMBERS) == -NUMBERS.wish_learned
    assert wish_after(0.0, Wish.FASTER, NUMBERS) == NUMBERS.wish_learned
    assert {wish_after(0.05, wish, NUMBERS) for wish in (Wish.METRONOME_NOW, Wish.NO_METRONOME)} == {0.05}


def test_a_tempo_that_was_named_comes_next_and_is_a_wish_until_it_is_kept():
    asked = (take(bpm=60), overruled(Wish.METRONOME_NOW, 90))
    assert last_decision(*asked).tempo_bpm == 90
    assert replayed(asked).records[PASSAGE.name].wished_bpm == 90
    assert replayed((*asked, take(12, bpm=90))).records[PASSAGE.name].wished_bpm == 90
    assert replayed((*asked, take(bpm=90))).records[PASSAGE.name].wished_bpm is None


def test_a_tempo_that_was_kept_before_and_the_click_without_a_tempo_are_no_wishes():
    for wish in (overruled(Wish.METRONOME_NOW, 60), overruled(Wish.METRONOME_NOW)):
        assert replayed((take(bpm=60), wish)).records[PASSAGE.name].wished_bpm is None
