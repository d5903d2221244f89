"""What pages earned goes over to those that a tune is cut into from now on, and no more than was earned."""

from dataclasses import replace
from random import Random

import pytest

from game.coach.climb import ClimbTake
from game.coach.coach import advance, replayed
from game.coach.events import FormerPage, PageCutAnew, PassageFacts, PassageOpened, TakeResult
from game.coach.marks import Mark, SignOff
from game.coach.pages_cut_anew import records_cut_anew
from game.coach.records import PassageRecord
from game.coach.stages import Stage
from tests.sampling import how_many

SIGNED = (Mark.FOUND, Mark.IN_TIME, Mark.SIGNED_OFF)
# Page "new" holds the last four notes of "a" and all sixteen of "b".
NEW = PageCutAnew(
    is_now="new",
    former=(FormerPage(name="b", first=5, last=20, shift=-4), FormerPage(name="a", first=1, last=4, shift=12)),
)
# Page "part" holds twelve of the sixteen notes of "b".
PART = PageCutAnew(is_now="part", former=(FormerPage(name="b", first=1, last=12, shift=4),))


def record(name, *marks, **known):
    facts = PassageFacts(name=name, target_bpm=80)
    return PassageRecord(facts=facts, marks=marks, day=7, practised_day=7, stage=Stage.TIME, **known)


def after(said, *records):
    return records_cut_anew({one.facts.name: one for one in records}, {}, said)


def test_a_page_goes_on_from_the_one_on_which_most_of_its_notes_stood():
    both = after(NEW, record("a"), replace(record("b"), last_bpm=66, own_pace_bpm=50), record("c"))
    assert list(both) == ["a", "b", "new", "c"]
    assert (both["new"].stage, both["new"].last_bpm, both["new"].own_pace_bpm) == (Stage.TIME, 66, 50)
    assert both["new"].facts == PassageFacts(name="new", target_bpm=80)


def test_it_has_the_marks_that_all_its_notes_have_earned_and_no_other():
    assert after(NEW, record("a", *SIGNED), record("b", *SIGNED))["new"].marks == SIGNED
    assert after(NEW, record("a", Mark.FOUND), record("b", *SIGNED))["new"].marks == (Mark.FOUND,)
    assert after(NEW, record("b", *SIGNED))["new"].marks == ()
    assert after(PART, record("b", *SIGNED))["part"].marks == SIGNED
    assert after(NEW, record("a", read_day=3), record("b", read_day=5))["new"].read_day == 5
    assert after(NEW, record("a", read_day=3), record("b"))["new"].read_day is None
    assert after(NEW, record("a", rhythm_day=3), record("b", rhythm_day=2))["new"].rhythm_day == 3
    assert after(NEW, record("a"), record("b", rhythm_day=2))["new"].rhythm_day is None


def test_no_tempo_counts_as_kept_that_some_of_its_notes_were_not_played_at():
    slow = record("a", kept_bpms=(50, 60), held_bpm=60)
    fast = record("b", kept_bpms=(56, 72), held_bpm=72, climb=tuple(ClimbTake(bpm=bpm, clean=True) for bpm in (56, 72)))
    made = after(NEW, slow, fast)["new"]
    assert (made.kept_bpms, made.held_bpm, [take.bpm for take in made.climb]) == ((56,), 60, [56])
    alone = after(NEW, fast)["new"]
    assert (alone.kept_bpms, alone.held_bpm, alone.climb) == ((), None, ())
    assert after(PART, fast)["part"].kept_bpms == (56, 72)


def test_half_of_a_sign_off_is_that_of_all_its_notes_by_their_new_numbers():
    def half(day, *wrong):
        return SignOff(day=day, wrong_notes=frozenset(wrong), minute=600 + day)

    whole = after(NEW, record("a", sign_offs=(half(1, 13), half(2))), record("b", sign_offs=(half(1, 2),)))["new"]
    assert whole.sign_offs == (SignOff(day=1, wrong_notes=frozenset({1, 6}), minute=601),)
    assert after(PART, record("b", sign_offs=(half(1, 2, 6),)))["part"].sign_offs == (half(1, 2),)
    assert after(NEW, record("b", sign_offs=(half(1),)))["new"].sign_offs == ()


def test_nothing_is_made_of_nothing_and_a_page_that_was_one_before_stays_as_it_is():
    for records in ((), (record("a", *SIGNED),)):
        known = {one.facts.name: one for one in records}
        assert records_cut_anew(known, {}, NEW) is known
    same = {"b": record("b")}
    assert records_cut_anew(same, {}, replace(PART, is_now="b")) is same
    assert records_cut_anew(same, {"part": "b"}, PART) is same


def test_what_former_pages_earned_stays_theirs_and_is_found_by_the_name_they_have_now():
    old = record("b", *SIGNED)
    known = {"b now": replace(old, facts=replace(old.facts, name="b now"))}
    made = records_cut_anew(known, {"b": "b now"}, PART)
    assert made["b now"] == known["b now"]
    assert made["part"].marks == SIGNED


def test_a_page_that_was_played_itself_meanwhile_goes_on_and_has_what_was_earned_before():
    """As when two computers have not met for a while."""
    own = replace(record("part", Mark.FOUND, kept_bpms=(48,)), stage=Stage.PLACES, day=9)
    made = after(PART, record("b", *SIGNED, kept_bpms=(72,)), own)["part"]
    assert (made.stage, made.day, made.kept_bpms) == (Stage.PLACES, 9, (48, 72))
    assert set(made.marks) == set(SIGNED)


@pytest.mark.parametrize("seed", range(how_many(60, by_default=8)))
def test_to_hear_it_again_changes_nothing_whatever_was_practised(seed):
    rng, state = Random(seed), replayed(())
    facts = {name: PassageFacts(name=name, target_bpm=60) for name in ("a", "b", "new", "part")}
    for step in range(30):
        one = facts[rng.choice(list(facts))]
        clean = rng.choice((12, 12, 9))
        wrong = frozenset(range(1, 13 - clean))
        timed = rng.random() < 0.7
        take = TakeResult(
            passage=one,
            day=100 + step // 3,
            stage=Stage.TIME if timed else Stage.PLACES,
            tempo_bpm=rng.choice((48.0, 60.0, 72.0)) if timed else None,
            homes=12,
            clean=clean,
            wrong_notes=wrong,
            sighting=rng.choice((1, 3)),
        )
        state, _ = advance(state, PassageOpened(passage=one, day=100) if rng.random() < 0.2 else take)
        said = rng.choice((NEW, PART))
        once = replayed((said,), state=state)
        assert replayed((said,), state=once) == once
        if rng.random() < 0.2:
            state = once


def test_pages_that_cannot_be_are_none():
    for first, last, shift in ((0, 4, 0), (3, 2, 0), (1, 4, -1)):
        with pytest.raises(ValueError, match="no page has the notes"):
            FormerPage(name="a", first=first, last=last, shift=shift)
