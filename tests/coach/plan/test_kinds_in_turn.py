"""Songs and lead sheets in turn, and studies beside them."""

from dataclasses import replace

import pytest

from game.coach.numbers import NUMBERS
from game.coach.plan.kinds_in_turn import kept_from_sight, kind_in_turn
from game.coach.plan.plan_choices import new_tune, tune_at_sight
from game.coach.plan.plan_steps import BegunTune, StepKind, UnseenTune
from game.coach.plan.todays_plan import plan_for
from game.music.tune_kind import TuneKind
from game.text.catalogue import tell_all
from tests.bench.book_evenings import BEGINNER, NEWCOMER, evenings
from tests.coach.plan.situations import FORD, one, situation
from tests.sampling import how_many

SONG, SHEET, STUDY = TuneKind.SONG, TuneKind.LEAD_SHEET, TuneKind.STUDY
WEEK_TWO = NUMBERS.lead_sheet_evening


def tune(name, kind, difficulty=2.0, **facts):
    return UnseenTune(name=name, title=name.title(), difficulty=difficulty, kind=kind, **facts)


BOOK = (
    *(tune(f"song {at}", SONG) for at in range(6)),
    *(tune(f"sheet {at}", SHEET) for at in range(4)),
    tune("about 1", STUDY, beside="sheet 1"),
    tune("about 9", STUDY, beside="sheet 9"),
)
BEGINS = {"known": frozenset({60, 62, 64, 65, 67}), "passages": (), "unseen": BOOK}


def begun(*kinds):
    return tuple(BegunTune(name=f"begun {at}", kind=kind) for at, kind in enumerate(kinds))


def chosen_one_after_another(count, **changes):
    """The tunes that are begun when each is found by the next evening."""
    played = ()
    for evening in range(1, count + 1):
        left = tuple(one for one in BOOK if one.name not in {each.name for each in played})
        new = new_tune(situation(**BEGINS | {"unseen": left, "begun": played, "evening": evening} | changes))
        played = (*played, BegunTune(name=new.name, kind=new.kind))
    return [one.name for one in played]


def test_who_begins_has_songs_at_first_and_from_the_second_week_on_lead_sheets_and_songs_in_turn():
    songs = [f"song {at}" for at in range(WEEK_TWO - 1)]
    assert chosen_one_after_another(WEEK_TWO + 1) == [*songs, "sheet 0", f"song {WEEK_TWO - 1}"]


def test_songs_and_lead_sheets_take_turns_and_a_study_follows_its_lead_sheet():
    """Whoever knows the map is not kept waiting; of the other study the lead sheet was not begun."""
    order = chosen_one_after_another(9, known=None)
    assert order == [
        "sheet 0", "song 0", "sheet 1", "about 1", "song 1", "sheet 2", "song 2", "sheet 3", "song 3",
    ]  # fmt: skip


@pytest.mark.parametrize(
    ("last", "evening", "begins", "kind"),
    [
        ((), 1, True, SONG),
        ((), 1, False, SHEET),
        ((SHEET,), WEEK_TWO, True, SONG),
        ((SHEET, SONG), WEEK_TWO, True, SHEET),
        ((SHEET, SONG), WEEK_TWO - 1, True, SONG),
        ((SHEET, STUDY), 1, False, SONG),
    ],
)
def test_the_kind_whose_turn_it_is_follows_from_the_last_one_and_the_evening(last, evening, begins, kind):
    changes = {} if begins else {"known": None}
    assert kind_in_turn(situation(**BEGINS | {"begun": begun(*last), "evening": evening} | changes)) is kind


def test_the_first_lead_sheet_waits_for_no_song_and_the_second_one_does():
    """With one song for weeks nobody reads a lead sheet."""
    half = {"passages": (replace(FORD, tune="begun 0", marks=(), last_day=100),)}
    now = situation(**BEGINS | half | {"begun": begun(SONG), "evening": WEEK_TWO})
    assert new_tune(now).name == "sheet 0"
    assert new_tune(replace(now, evening=WEEK_TWO - 1)) is None
    assert new_tune(replace(now, begun=begun(SHEET, SONG))) is None
    assert new_tune(replace(now, known=None)) is None, "who has read before"
    two = (*now.passages, replace(FORD, name="other", tune="begun 1", marks=(), last_day=99))
    assert new_tune(replace(now, begun=begun(SONG, SONG), passages=two)) is None, "two songs half begun are enough"


def test_what_is_out_of_reach_has_no_turn():
    now = situation(**BEGINS | {"begun": begun(SONG), "evening": WEEK_TWO})
    far = replace(now, unseen=(tune("song", SONG), tune("sheet", SHEET, unmet=NUMBERS.new_a_day + 1)))
    assert new_tune(far).name == "song"
    assert new_tune(replace(far, known=None)).name == "sheet", "who knows the map meets no new notes in it"
    high = 2.0 + NUMBERS.lead_over_level
    for difficulty, name in ((high, "sheet"), (high + 0.1, "song")):
        assert new_tune(replace(now, unseen=(tune("song", SONG), tune("sheet", SHEET, difficulty)))).name == name
    easy = 8 - NUMBERS.turn_under_level - 0.1
    high = situation(
        level=8, unseen=(tune("song", SONG, easy), tune("sheet", SHEET, 7.0)), begun=begun(SHEET), passages=()
    )
    assert new_tune(high).name == "sheet", "a nursery song is no turn for a fluent reader"


def test_the_players_own_tune_comes_before_any_turn():
    own = tune("mine", SONG, own=True)
    assert new_tune(situation(**BEGINS | {"unseen": (*BOOK, own), "begun": begun(SONG), "evening": WEEK_TWO})) == own


def test_studies_and_the_few_lead_sheets_within_reach_are_not_spent_at_sight():
    few = situation(unseen=BOOK[5:9], day=100)
    assert kept_from_sight(few) == {"sheet 0", "sheet 1", "sheet 2"}
    assert tune_at_sight(few).name == "song 5"
    assert kept_from_sight(situation(unseen=BOOK)) == {"about 1", "about 9"}


def test_of_the_days_with_a_tune_at_sight_every_other_one_has_a_lead_sheet():
    names = [tune_at_sight(situation(unseen=BOOK, day=day)).name[:5] for day in (100, 102, 104)]
    assert names == ["sheet", "song ", "sheet"]
    far = (
        tune("sheet", SHEET, 2.0),
        *BOOK[:2],
        tune("song", SONG, 7.5),
        *(tune(f"x{at}", SHEET, 9.0) for at in range(3)),
    )
    assert tune_at_sight(situation(level=8, unseen=far, day=100)).name == "song"


def test_the_plan_says_that_it_is_a_lead_sheet():
    now = situation(**BEGINS | {"begun": begun(SONG), "evening": WEEK_TWO, "day": 101})
    assert tell_all(one(plan_for(now), StepKind.NEW_TUNE).reason) == "Something new, a lead sheet: Sheet 0, pitch only."


@pytest.mark.parametrize("kind", [NEWCOMER, BEGINNER], ids=lambda kind: kind.name)
def test_within_two_weeks_the_plan_of_who_begins_offers_a_lead_sheet_of_the_book(kind):
    """Evening by evening, by what the shipped book holds and what was met by then."""
    for seed in range(how_many(10, by_default=1)):
        offered = [one.new for one in evenings(kind, 10, seed) if one.new is not None]
        assert offered[0].kind is SONG
        assert SHEET in {tune.kind for tune in offered}
