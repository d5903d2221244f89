"""The ladder says nothing that the coach does not do: its rungs are the coach's own tempi, climbed by every learner."""

from dataclasses import replace
from itertools import pairwise
from random import Random

import pytest

from game.coach.coach import NOTHING_KNOWN, advance
from game.coach.decisions import Offer
from game.coach.events import Overruled, PassageFacts, PassageOpened, TakeResult, Wish
from game.coach.marks import Mark
from game.coach.numbers import NUMBERS
from game.coach.stages import Stage
from game.coach.tempo_ladder import MOST_RUNGS, RungNote, RungStanding, ladder_of, rungs_ahead, rungs_to_signing
from game.demo.learner import AccuracyCurve, Learner
from tests.bench.coach_measures import trained
from tests.bench.coach_troubles import Troubled
from tests.bench.curves import smooth
from tests.bench.learners import HOSTILE, NOTES, Draw, Honest
from tests.coach.coach_takes import PASSAGE, take
from tests.sampling import sample

_KINDS = {
    "logistic": Draw(learning=0.06, ceiling=2.0),
    "normal": Draw(curve=AccuracyCurve.NORMAL, learning=0.06, ceiling=2.0),
    "Gumbel": Draw(curve=AccuracyCurve.GUMBEL, learning=0.06, ceiling=2.0),
    "tiring": Draw(learning=0.08, ceiling=2.0, fatigue=0.015, forgetting=0.04),
    "slow": Draw(steady_bpm=(38.0, 60.0), learning=0.06, ceiling=2.0),
}


def clean(asked, facts, *, day=1, notes=NOTES, **changes):
    return TakeResult(
        passage=facts, day=day, stage=asked.stage, homes=notes, clean=notes, tempo_bpm=asked.tempo_bpm, **changes
    )


def opened(facts=PASSAGE, *, wish_bpm=60):
    """A passage with the metronome at a tempo, the first of the day, and nothing played."""
    return advance(NOTHING_KNOWN, Overruled(passage=facts, day=1, wish=Wish.METRONOME_NOW, tempo_bpm=wish_bpm))


def climbed(takes, facts=PASSAGE, *, day=1, wish_bpm=60):
    """So many clean takes, each as the coach asks."""
    state, asked = opened(facts, wish_bpm=wish_bpm)
    for _ in range(takes):
        state, asked = advance(state, clean(asked, facts, day=day))
    return state, asked


def tempi(rungs, *standings):
    return [rung.tempo_bpm for rung in rungs if not standings or rung.standing in standings]


def practised(player, days, rng):
    """Every decision of a practice with the state it was made in, and what was offered next."""
    state, day = NOTHING_KNOWN, 0
    while day < days:
        day += 1
        state, asked = advance(state, PassageOpened(passage=player.passage, day=day))
        while asked.offer is Offer.AGAIN:
            yield state, asked
            state, asked = advance(state, player.play(asked, day, rng))
        yield state, asked


def holds(state, asked, facts):
    """What is true of any ladder, whoever plays."""
    rungs = ladder_of(state, asked, notes=NOTES)
    ahead = rungs_ahead(state, asked, notes=NOTES)
    assert all(low.tempo_bpm < high.tempo_bpm for low, high in pairwise(rungs))
    assert len(rungs) <= MOST_RUNGS
    assert tempi(rungs, RungStanding.NOW) == ([] if asked.tempo_bpm is None else [asked.tempo_bpm])
    assert [rung.tempo_bpm for rung in rungs if rung.target] == [facts.target_bpm]
    assert set(tempi(rungs)) >= set(ahead[:2])
    kept = state.records[facts.name].kept_bpms
    assert all(rung.kept == (rung.tempo_bpm in kept) for rung in rungs)
    left_out = {*kept, *ahead} - set(tempi(rungs))
    assert not left_out or len(rungs) == MOST_RUNGS
    assert all(
        low.folded == any(low.tempo_bpm < bpm < high.tempo_bpm for bpm in left_out) for low, high in pairwise(rungs)
    )
    _agrees(state, asked, facts, ahead)


def _agrees(state, asked, facts, ahead):
    """The next rung is what the coach says after a clean take, where that is a faster one and the day goes on."""
    record = state.records[facts.name]
    first = record.takes_today == 0
    if asked.tempo_bpm is None or asked.stage is not Stage.TIME or asked.settling or asked.offer is not Offer.AGAIN:
        return
    _, then = advance(state, clean(asked, facts, day=record.day, sighting=2))
    signing = first and asked.tempo_bpm >= facts.target_bpm
    if signing or then.settling or then.offer is not Offer.AGAIN or then.tempo_bpm <= asked.tempo_bpm:
        return
    passed = asked.tempo_bpm < facts.target_bpm < then.tempo_bpm
    assert ahead[0] == (facts.target_bpm if passed else then.tempo_bpm)


@pytest.mark.parametrize("kind", sample(_KINDS, by_default=1))
def test_every_learner_climbs_from_their_own_pace_past_the_target_and_every_ladder_on_the_way_is_true(kind):
    for seed in sample(range(10), by_default=1):
        rng = Random(seed)
        learner, _ = _KINDS[kind].one(rng)
        learner = replace(learner, find_s=0.8 * 60 / learner.steady_bpm, bias_ms=0.0)
        facts = PassageFacts(name="passage", target_bpm=round(learner.steady_bpm * 1.15))
        seen = list(practised(Honest(learner, facts), 30, rng))
        for state, asked in sample(seen, by_default=12):
            holds(state, asked, facts)
        first = next(asked.tempo_bpm for _, asked in seen if asked.tempo_bpm and asked.stage is Stage.TIME)
        kept = seen[-1][0].records["passage"].kept_bpms
        assert first < facts.target_bpm
        shown = [tempi(ladder_of(state, asked, notes=NOTES))[-1] for state, asked in seen if asked.tempo_bpm]
        assert max(kept) >= facts.target_bpm
        assert max(kept[-1], shown[-1]) > facts.target_bpm, "practice goes a little over the target"
        assert Mark.SIGNED_OFF in seen[-1][0].records["passage"].marks


@pytest.mark.parametrize("kind", HOSTILE, ids=lambda kind: kind.__name__)
def test_no_hostile_player_gets_a_ladder_that_is_not_the_coachs(kind):
    facts = PassageFacts(name="passage", target_bpm=100)
    for state, asked in practised(kind(Learner(steady_bpm=90), facts), 5, Random(3)):
        holds(state, asked, facts)


_TROUBLES = {
    "a fall": {"falls_at": 12, "falls_to": 0.85},
    "half a take wrong": {"spoilt_at": 7},
    "bursts of inattention": {"bursts": 0.3, "burst": (0.2, 0.5)},
    "good nights and bad": {"nights": 0.06},
}


@pytest.mark.parametrize("trouble", sample(_TROUBLES, by_default=2))
def test_learners_in_trouble_climb_past_the_target_all_the_same(trouble):
    rng = Random(7)
    player = Troubled(smooth(rng), steady_bpm=80.0, learns=0.05, **_TROUBLES[trouble])
    facts = PassageFacts(name="passage", target_bpm=88)
    state, asked = opened(facts, wish_bpm=50)
    for day in range(1, 31):
        while asked.offer is Offer.AGAIN and asked.stage is Stage.TIME and asked.tempo_bpm is not None:
            state, asked = advance(state, replace(player.play(asked, day, rng), passage=facts))
            if day % 8 == 1:
                holds(state, asked, facts)
        state, asked = advance(state, PassageOpened(passage=facts, day=day + 1))
    assert max(state.records["passage"].kept_bpms) > 88


def test_the_demos_learner_sees_fewer_rungs_to_signing_as_the_weeks_go_by():
    player = trained(Random(1), 1.1)
    left = [
        len(rungs_to_signing(state, asked, notes=NOTES))
        for state, asked in practised(player, 21, Random(1))
        if asked.stage is Stage.TIME
    ]
    assert left[0] >= 2
    assert left[-1] == 0
    assert set(left) >= set(range(left[0] + 1))


@pytest.mark.parametrize("bpm", [30, 31, 33, 36, 40])
def test_at_low_tempi_no_rung_stands_still(bpm):
    """A ladder of printed numbers would: 8 % of 30 is less than from one of them to the next."""
    facts, small_steps = PassageFacts(name="low", target_bpm=60), replace(NUMBERS, far_step=NUMBERS.close_step)
    state, asked = opened(facts, wish_bpm=bpm)
    while asked.tempo_bpm < 60:
        ahead = rungs_ahead(state, asked, notes=NOTES, numbers=small_steps)
        state, then = advance(state, clean(asked, facts), small_steps)
        state = replace(state, records={"low": replace(state.records["low"], takes_today=1)})
        assert ahead[0] == (60 if asked.tempo_bpm < 60 < then.tempo_bpm else then.tempo_bpm)
        assert asked.tempo_bpm < then.tempo_bpm <= asked.tempo_bpm * 1.08
        asked = then


def free_take(seconds):
    """A whole take at the player's own pace, a note every so many seconds."""
    return take(stage=Stage.TIME, find_times_s=(seconds,) * 32)


def test_before_the_metronome_nothing_is_now_and_the_first_rung_is_where_the_coach_then_begins():
    state, asked = advance(NOTHING_KNOWN, PassageOpened(passage=PASSAGE, day=1))
    state, asked = advance(state, take(find_times_s=(0.9,) * 32))
    assert asked.tempo_bpm is None
    expected = ladder_of(state, asked, notes=32)
    assert RungStanding.NOW not in {rung.standing for rung in expected}
    state, asked = advance(state, take(stage=Stage.RHYTHM))
    state, asked = advance(state, take(stage=Stage.RHYTHM, bpm=asked.tempo_bpm))
    state, asked = advance(state, free_take(0.9))
    assert asked.tempo_bpm == pytest.approx(expected[0].tempo_bpm, rel=0.08)
    assert 0.8 * 66 <= asked.tempo_bpm <= 66, "quarters every 0.9 s are 66 a minute"


def test_what_was_kept_is_ink_with_its_last_three_takes_and_now_is_the_decision():
    state, asked = opened(wish_bpm=60)
    for day, wrong in enumerate((8, 6, 5, 0), start=1):
        state, asked = advance(state, take(wrong, bpm=60, day=day))
    at = {rung.tempo_bpm: rung for rung in ladder_of(state, asked, notes=32)}
    assert at[60].kept
    assert [one.clean for one in at[60].takes] == [False, False, True]
    assert at[asked.tempo_bpm].standing is RungStanding.NOW


def test_a_fall_moves_now_down_and_takes_no_ink_away():
    state, asked = climbed(3)
    kept = tempi(ladder_of(state, asked, notes=NOTES), RungStanding.KEPT)
    state, fallen = advance(state, take(16, bpm=asked.tempo_bpm))
    rungs = ladder_of(state, fallen, notes=NOTES)
    assert fallen.tempo_bpm < asked.tempo_bpm
    assert tempi(rungs, RungStanding.NOW) == [fallen.tempo_bpm]
    assert {rung.tempo_bpm for rung in rungs if rung.kept} == set(kept)


def test_a_fall_below_the_first_rung_adds_one():
    state, asked = opened(wish_bpm=60)
    state, asked = advance(state, take(0, bpm=60))
    for _ in range(3):
        state, asked = advance(state, take(20, bpm=asked.tempo_bpm))
    rungs = ladder_of(state, asked, notes=NOTES)
    assert rungs[0].tempo_bpm == asked.tempo_bpm < 60
    assert rungs[0].standing is RungStanding.NOW
    assert tempi(rungs, RungStanding.KEPT) == [60]


def test_a_wish_is_pencil_until_it_is_kept_and_then_ink():
    state, asked = climbed(2)
    wish = asked.tempo_bpm + 25
    state, asked = advance(state, Overruled(passage=PASSAGE, day=1, wish=Wish.METRONOME_NOW, tempo_bpm=wish))
    now = {rung.tempo_bpm: rung for rung in ladder_of(state, asked, notes=NOTES)}[wish]
    assert (now.standing, now.wish, now.kept) == (RungStanding.NOW, True, False)
    fell, asked_again = advance(state, take(16, bpm=wish))
    left = {rung.tempo_bpm: rung for rung in ladder_of(fell, asked_again, notes=NOTES)}[wish]
    assert (left.standing, left.wish) == (RungStanding.AHEAD, True)
    state, asked = advance(state, take(0, bpm=wish))
    assert {rung.tempo_bpm: rung.wish for rung in ladder_of(state, asked, notes=NOTES)}[wish] is False
    assert wish in state.records[PASSAGE.name].kept_bpms


def test_a_wish_not_kept_is_forgotten_overnight():
    state, _ = climbed(2)
    state, _ = advance(state, Overruled(passage=PASSAGE, day=1, wish=Wish.METRONOME_NOW, tempo_bpm=110))
    state, asked = advance(state, PassageOpened(passage=PASSAGE, day=2))
    assert not any(rung.wish for rung in ladder_of(state, asked, notes=NOTES))


def test_what_a_player_marked_themselves_is_ticked_and_stays_pencil():
    state, _ = opened(wish_bpm=60)
    state, _ = advance(state, take(0, bpm=60, self_marked=True))
    record = state.records[PASSAGE.name]
    assert record.kept_bpms == ()
    assert [(one.clean, one.own_word) for one in record.climb] == [(True, True)]


def test_the_first_take_of_a_day_and_the_settling_one_are_told_as_such():
    state, asked = opened()
    notes = []
    while asked.offer is Offer.AGAIN:
        notes += [rung.note for rung in ladder_of(state, asked, notes=NOTES) if rung.standing is RungStanding.NOW]
        state, asked = advance(state, clean(asked, PASSAGE, settling=asked.settling))
    assert notes == [RungNote.FIRST_OF_DAY, None, None, None, RungNote.SETTLING]
    climb = state.records[PASSAGE.name].climb
    assert [one.settling for one in climb] == [False, False, False, False, True]


def test_once_the_day_is_over_the_next_rung_is_where_tomorrow_begins():
    state, asked = climbed(NUMBERS.takes_a_day)
    assert asked.offer is not Offer.AGAIN
    tomorrow = advance(state, PassageOpened(passage=PASSAGE, day=2))[1]
    ahead = rungs_ahead(state, asked, notes=NOTES)
    assert (tomorrow.tempo_bpm in ahead) == (tomorrow.tempo_bpm > asked.tempo_bpm)


def test_with_more_than_seven_the_middle_is_folded_and_the_next_two_and_the_target_stay():
    facts = replace(PASSAGE, target_bpm=160)
    state, asked = climbed(3, facts, wish_bpm=40)
    rungs, ahead = ladder_of(state, asked, notes=NOTES), rungs_ahead(state, asked, notes=NOTES)
    assert len(rungs) == MOST_RUNGS
    assert any(rung.folded for rung in rungs)
    assert {*ahead[:2], 160, ahead[-1]} <= set(tempi(rungs))
    assert tempi(rungs)[0] == 40, "the first rung stays: how far it was"


def test_without_a_target_the_ladder_goes_on_and_nothing_is_left_to_signing():
    facts = PassageFacts(name="free of any")
    state, asked = climbed(2, facts)
    assert len(ladder_of(state, asked, notes=NOTES)) == MOST_RUNGS
    assert rungs_to_signing(state, asked, notes=NOTES) == ()


def test_a_target_that_was_kept_leaves_no_rung_to_signing():
    state, asked = opened(wish_bpm=96)
    assert rungs_to_signing(state, asked, notes=NOTES) == (96,)
    state, asked = advance(state, clean(asked, PASSAGE))
    assert rungs_to_signing(state, asked, notes=NOTES) == ()


def test_a_passage_nobody_opened_has_no_ladder():
    _, asked = opened()
    assert ladder_of(NOTHING_KNOWN, asked, notes=NOTES) == ()
    assert rungs_to_signing(NOTHING_KNOWN, asked, notes=NOTES) == ()
