"""The way through the stages."""

from dataclasses import replace

import pytest

from game.coach.coach import advance, replayed
from game.coach.decisions import Offer
from game.coach.events import Overruled, PassageFacts, PassageOpened, Wish
from game.coach.records import CoachState
from game.coach.stage_steps import rhythm_comes_first
from game.coach.stages import Pulse, Stage
from game.text.catalogue import tell_all
from tests.coach.coach_takes import PASSAGE, take

FREE, METRONOME = Pulse.FREE, Pulse.METRONOME


def asked_after(*events):
    state, decision = CoachState(), None
    for event in events:
        state, decision = advance(state, event)
    return decision


def record_after(*events):
    return replayed(events).records[PASSAGE.name]


def where(decision):
    return decision.stage, decision.pulse


def test_a_new_passage_begins_with_the_places_and_letters_are_skipped_unless_asked_for():
    assert where(asked_after(PassageOpened(passage=PASSAGE, day=1))) == (Stage.PLACES, FREE)
    letters = PassageOpened(passage=PASSAGE, day=1, begin_at=Stage.LETTERS)
    assert where(asked_after(letters)) == (Stage.LETTERS, FREE)


def test_sure_letters_lead_to_the_places():
    assert where(asked_after(take(1, notes=16, stage=Stage.LETTERS))) == (Stage.PLACES, FREE)
    assert where(asked_after(take(2, notes=16, stage=Stage.LETTERS))) == (Stage.LETTERS, FREE)


def test_each_stage_adds_a_single_demand():
    """Places, then the rhythm alone, free and with the metronome, then both together, free and with it."""
    way = [take(), take(stage=Stage.RHYTHM), take(stage=Stage.RHYTHM, bpm=60), take(stage=Stage.TIME)]
    assert [where(asked_after(*way[: count + 1])) for count in range(4)] == [
        (Stage.RHYTHM, FREE),
        (Stage.RHYTHM, METRONOME),
        (Stage.TIME, FREE),
        (Stage.TIME, METRONOME),
    ]


def test_two_sightings_count_together_for_readiness():
    """Three wrong in 32: two in the first 16, one in the second."""
    first, second = take(2, notes=16), take(1, notes=16, sighting=2)
    assert where(asked_after(first)) == (Stage.PLACES, FREE)
    assert where(asked_after(first, second)) == (Stage.RHYTHM, FREE)


def test_a_third_sighting_says_nothing_about_reading_unless_every_note_was_found():
    unready = (take(5), take(5, sighting=2))
    assert where(asked_after(*unready, take(1, sighting=3))) == (Stage.PLACES, FREE)
    assert where(asked_after(*unready, take(sighting=3))) == (Stage.RHYTHM, FREE)


def test_slow_finding_keeps_the_places_and_says_how_quick_is_quick_enough():
    decision = asked_after(take(find_times_s=(1.5,) * 32))
    assert where(decision) == (Stage.PLACES, FREE)
    assert "within 1.2 seconds" in tell_all(decision.reason)


def test_by_the_players_own_word_the_pitches_alone_decide_for_nobody_knows_when_a_note_was_found():
    """The time until a key was pressed that shows the note is none: hands have to leave the guitar for it."""
    slowly = take(find_times_s=(2.5,) * 32, self_marked=True)
    assert where(asked_after(slowly)) == (Stage.RHYTHM, FREE)
    assert where(asked_after(replace(slowly, self_marked=False))) == (Stage.PLACES, FREE)


def test_a_take_broken_off_is_asked_for_to_the_end():
    decision = asked_after(take(unread=8))
    assert where(decision) == (Stage.PLACES, FREE)
    assert tell_all(decision.reason).endswith("this time to the end.")


@pytest.mark.parametrize(
    "failing",
    [
        take(8),
        take(8, stage=Stage.LETTERS),
        take(stage=Stage.RHYTHM, off_time=16),
        take(stage=Stage.RHYTHM, off_time=16, bpm=70),
        take(8, stage=Stage.TIME),
    ],
    ids=lambda failing: f"{failing.stage.value} {failing.pulse.value}",
)
def test_three_tries_that_do_not_pass_bring_an_easier_passage(failing):
    tries = [replace(failing, sighting=sighting) for sighting in (1, 2, 3)]
    assert asked_after(*tries[:2]).offer is Offer.AGAIN
    assert asked_after(*tries).offer is Offer.EASIER


def test_notes_that_are_not_sure_yet_come_back_on_another_day_with_their_rhythm_first():
    """Whoever reads six of seven right is not held to the same notes without a clock evening after evening."""
    unsure = [take(3, notes=15, sighting=n) for n in (1, 2, 3)]
    same_day, next_day = (PassageOpened(passage=PASSAGE, day=day) for day in (1, 2))
    assert not rhythm_comes_first(record_after(*unsure, same_day))
    assert rhythm_comes_first(record_after(*unsure, next_day))
    assert not rhythm_comes_first(record_after(take(), next_day)), "sure notes go on anyway"
    rhythm = [take(stage=Stage.RHYTHM, notes=15, day=2), take(stage=Stage.RHYTHM, notes=15, bpm=50, day=2)]
    assert where(asked_after(*unsure, next_day, rhythm[0])) == (Stage.RHYTHM, METRONOME)
    assert where(asked_after(*unsure, next_day, *rhythm)) == (Stage.PLACES, FREE), "four of five is too little"
    later = PassageOpened(passage=PASSAGE, day=3)
    assert not rhythm_comes_first(record_after(*unsure, next_day, *rhythm, later)), "it had its turn"


def test_who_is_nearly_sure_goes_on_at_their_own_pace_and_to_the_metronome_when_a_take_of_it_is_sure():
    """One wrong in 15 is, two are not: the lower bound is the same as without a clock."""
    unsure = [take(2, notes=15, sighting=n) for n in (1, 2, 3)]
    way = [*unsure, PassageOpened(passage=PASSAGE, day=2)]
    way += [take(stage=Stage.RHYTHM, notes=15, day=2, bpm=bpm) for bpm in (None, 50)]
    assert where(asked_after(*way)) == (Stage.TIME, FREE)
    assert where(asked_after(*way, take(2, stage=Stage.TIME, notes=15, day=2))) == (Stage.TIME, FREE)
    assert where(asked_after(*way, take(1, stage=Stage.TIME, notes=15, day=2))) == (Stage.TIME, METRONOME)


def test_a_rhythm_played_in_free_time_meets_the_metronome_near_its_own_pace_and_never_over_the_target():
    def first_click(seconds):
        return asked_after(
            take(find_times_s=(1.0,) * 32), take(stage=Stage.RHYTHM, find_times_s=(seconds,) * 32)
        ).tempo_bpm

    own = round(60 * PASSAGE.usual_note_beats / 0.7)
    assert 0.9 * own <= first_click(0.7) <= own
    assert first_click(0.2) <= PASSAGE.target_bpm
    assert first_click(5.0) == asked_after(take(find_times_s=(1.0,) * 32), take(stage=Stage.RHYTHM)).tempo_bpm


def test_a_rhythm_that_fails_comes_slower_at_last_without_the_metronome_and_stays_so_overnight():
    failing = take(stage=Stage.RHYTHM, off_time=16, bpm=60)
    assert asked_after(failing).tempo_bpm == 54
    assert asked_after(failing, PassageOpened(passage=PASSAGE, day=2)).tempo_bpm == 50
    assert where(asked_after(replace(failing, tempo_bpm=30))) == (Stage.RHYTHM, FREE)


def test_a_rhythm_that_fails_at_the_slowest_click_is_not_sent_back_to_it_when_it_holds_in_free_time():
    failing, free = take(stage=Stage.RHYTHM, off_time=16, bpm=30), take(stage=Stage.RHYTHM)
    assert where(asked_after(failing, free)) == (Stage.TIME, FREE)
    assert where(asked_after(free)) == (Stage.RHYTHM, METRONOME)


def test_first_tempo_from_the_players_own_finding_times():
    """0.75 s a quarter note is 80."""
    way = [take(find_times_s=(0.75,) * 32), take(stage=Stage.RHYTHM)]
    assert asked_after(*way).tempo_bpm == 80


@pytest.mark.parametrize(("found_s", "note_s", "bpm"), [(1.2, 0.65, 85), (0.63, 1.0, 66), (1.0, 0.9, 61)])
def test_the_metronome_begins_near_the_players_own_pace_however_long_the_notes_took_to_find(found_s, note_s, bpm):
    """A new day's share of it at least, a tenth over it at most: 92, 60 and 66 were these paces (60 / note_s)."""
    way = [take(find_times_s=(found_s,) * 32), take(stage=Stage.RHYTHM), take(stage=Stage.RHYTHM, bpm=50)]
    assert asked_after(*way, take(stage=Stage.TIME, find_times_s=(note_s,) * 32)).tempo_bpm == bpm


def test_a_new_passage_starts_near_where_passages_like_it_are_steady():
    learned = [
        take(wrong, bpm=bpm, passage=PassageFacts(name="old"))
        for wrong, bpm in ((1, 100), (2, 108), (5, 116), (3, 110), (4, 112))
    ]
    way = [take(), take(stage=Stage.RHYTHM), take(stage=Stage.RHYTHM, bpm=60), take(stage=Stage.TIME)]
    slow = [replace(each, find_times_s=(1.0,) * 32 if each.stage is Stage.PLACES else ()) for each in way]
    assert asked_after(*slow).tempo_bpm == 60
    assert asked_after(*learned, *slow).tempo_bpm == 75


def test_the_metronome_is_given_up_for_the_places_and_the_second_time_for_an_easier_passage():
    falls = [take(30, bpm=30), take(30, bpm=30, day=2)]
    assert where(asked_after(falls[0])) == (Stage.PLACES, FREE)
    assert asked_after(falls[0]).offer is Offer.AGAIN
    assert asked_after(*falls).offer is Offer.EASIER


def test_three_takes_out_of_time_bring_the_rhythm_alone():
    late = take(bpm=80, off_time=30)
    decision = asked_after(late, late, late)
    assert where(decision) == (Stage.RHYTHM, METRONOME)
    assert decision.tempo_bpm < 80


def test_the_fifth_take_of_the_day_is_a_settling_one_and_then_other_bars_come():
    climbing = [take(3, bpm=80)] * 4
    settling = asked_after(*climbing)
    assert settling.settling
    assert settling.tempo_bpm < 80
    over = asked_after(*climbing, take(bpm=68, settling=True))
    assert (over.offer, over.settling) == (Offer.SIBLING, False)
    reopened = asked_after(*climbing, take(bpm=68), PassageOpened(passage=PASSAGE, day=1))
    assert reopened.offer is Offer.SIBLING
    assert asked_after(*climbing, take(bpm=68), PassageOpened(passage=PASSAGE, day=2)).offer is Offer.AGAIN


def test_a_settling_take_is_no_faster_than_what_fell_apart_or_stopped_before_it_allows():
    """What is believed after three clean takes lies far above: 85 per cent of it would be no slower."""
    clean = [take(bpm=100)] * 3
    for last, most in ((take(16, bpm=100), 90), (take(bpm=100, stops=1), 100)):
        settling = asked_after(*clean, last)
        assert settling.settling
        assert settling.tempo_bpm <= most
    stopped = take(bpm=100, stops=1)
    settling = asked_after(*clean[:2], stopped, stopped)
    assert (settling.settling, settling.tempo_bpm) == (True, 90)


def test_a_passage_held_far_above_its_target_comes_back_a_little_over_it():
    """A target may be set, or lowered, after the passage was held at 170."""
    held = [take(wrong, bpm=bpm, passage=PassageFacts(name="x")) for wrong, bpm in ((1, 150), (2, 160), (3, 170))]
    aimed = PassageFacts(name="x", target_bpm=100)
    found = take(stage=Stage.PLACES, passage=aimed)
    assert asked_after(*held, found).tempo_bpm == 110
    assert asked_after(*held, replace(found, passage=PassageFacts(name="x"))).tempo_bpm > 140


def test_a_passage_begun_and_left_is_reopened_at_the_tempo_it_was_left_at():
    """A false start is no take of the day, but the player had chosen a tempo."""
    wish = Overruled(passage=PASSAGE, day=1, wish=Wish.METRONOME_NOW, tempo_bpm=80)
    left = take(bpm=80, notes=3, unread=29)
    assert asked_after(wish, left, PassageOpened(passage=PASSAGE, day=1)).tempo_bpm == 80


def test_the_target_is_tried_as_the_days_first_take_and_not_again_that_day():
    near = [take(wrong, bpm=bpm) for wrong, bpm in ((1, 90), (2, 96), (3, 100))]
    tomorrow = PassageOpened(passage=PASSAGE, day=2)
    assert asked_after(*near, tomorrow).tempo_bpm == 96
    tried = take(9, bpm=96, day=2)
    reopened = asked_after(*near, tomorrow, tried, tomorrow)
    assert reopened.tempo_bpm == asked_after(*near, tomorrow, tried).tempo_bpm != 96


def test_first_sight_is_once_through_and_done():
    decision = asked_after(take(3, stage=Stage.SIGHT))
    assert decision.offer is Offer.SIBLING


def test_first_sight_with_the_metronome_teaches_the_steady_tempo():
    assert replayed([take(stage=Stage.SIGHT, bpm=72)]).records[PASSAGE.name].belief is not None
