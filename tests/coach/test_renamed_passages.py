"""What a passage earned stays its own when its file is read anew."""

from dataclasses import replace

from game.coach.coach import advance, replayed
from game.coach.decisions import Decision, Offer
from game.coach.events import PassageFacts, PassageOpened, PassageRenamed, TakeResult
from game.coach.marks import Mark, SignOff
from game.coach.records import CoachState, PassageRecord
from game.coach.renamed_passages import renamed
from game.coach.stages import Pulse, Stage

OLD, NEW, OTHER = (PassageFacts(name=name, target_bpm=60) for name in ("old", "new", "other"))
FOUND = TakeResult(passage=OLD, day=1, stage=Stage.PLACES, homes=8, clean=8)


def record(facts, *marks, day=1):
    return PassageRecord(facts=facts, marks=marks, day=day)


def test_a_passage_goes_on_under_its_new_name_with_all_that_it_earned():
    state = replayed([PassageOpened(passage=OLD, day=1), FOUND])
    after = renamed(state, "old", "new")
    assert list(after.records) == ["new"]
    assert after.records["new"] == replace(state.records["old"], facts=replace(OLD, name="new"))
    assert after.records["new"].marks == (Mark.FOUND,)
    assert after.decision.passage == "new"


def test_the_others_stay_as_and_where_they_are():
    state = CoachState(records={"a": record(OTHER), "old": record(OLD), "b": record(OTHER)})
    assert list(renamed(state, "old", "new").records) == ["a", "new", "b"]
    assert renamed(state, "none of them", "new").records == state.records
    assert renamed(state, "old", "old") == state


def test_where_both_were_practised_the_later_goes_on_with_the_marks_of_both():
    early = replace(record(OLD, Mark.FOUND, Mark.IN_TIME), sign_offs=(SignOff(day=1, wrong_notes=frozenset({3})),))
    state = CoachState(records={"old": early, "a": record(OTHER), "new": record(NEW, Mark.FOUND, day=4)})
    after = renamed(state, "old", "new")
    assert list(after.records) == ["a", "new"]
    assert after.records["new"].marks == (Mark.FOUND, Mark.IN_TIME)
    assert (after.records["new"].day, after.records["new"].sign_offs) == (4, early.sign_offs)
    turned = renamed(CoachState(records={"new": record(NEW), "old": record(OLD, Mark.FOUND, day=4)}), "old", "new")
    assert (list(turned.records), turned.records["new"].day) == (["new"], 4)


def test_who_still_calls_it_as_before_means_the_same_passage():
    """Another computer has not read the file anew yet."""
    state = replayed([PassageRenamed(was="old", is_now="new"), FOUND])
    assert list(state.records) == ["new"]
    state, decision = advance(state, PassageOpened(passage=OLD, day=1))
    assert decision.passage == "new"
    assert state.records["new"].marks == (Mark.FOUND,)


def test_names_may_change_again_and_back():
    state = renamed(renamed(CoachState(records={"old": record(OLD, Mark.FOUND)}), "old", "new"), "new", "newest")
    assert state.renamed == {"old": "newest", "new": "newest"}
    assert list(state.records) == ["newest"]
    back = renamed(state, "newest", "old")
    assert back.renamed == {"new": "old", "newest": "old"}
    assert back.records["old"].marks == (Mark.FOUND,)


def test_a_decision_about_another_passage_stays():
    decision = Decision(
        passage="other", offer=Offer.AGAIN, stage=Stage.PLACES, pulse=Pulse.FREE, tempo_bpm=None, reason=()
    )
    assert renamed(CoachState(decision=decision), "old", "new").decision == decision
