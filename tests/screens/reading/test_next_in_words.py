"""What is said to come next is what Enter does: the words are held against the way itself, over simulated practice."""

from dataclasses import replace
from random import Random

import pytest

from game.coach import reasons
from game.coach.coach import NOTHING_KNOWN, advance
from game.coach.decisions import Offer
from game.coach.events import PassageFacts, PassageOpened, TakeResult
from game.coach.plan.plan_onward import Onward, PlannedNext
from game.coach.plan.plan_steps import PassageStanding
from game.coach.stages import Pulse, Stage
from game.demo.learner import Learner
from game.message import message, verbatim
from game.neck.neck_map import standard_map
from game.practice.take_request import request_for
from game.screens.reading.next_in_words import advised_route, bars_after, corner_in_words, now_in_words
from game.screens.routes import ToFreshLine, ToPage, ToPlanned, ToShelf, ToSibling
from game.text.catalogue import tell
from tests.bench.coach_measures import trained
from tests.bench.learners import HOSTILE
from tests.coach.coach_takes import PASSAGE
from tests.made import score
from tests.practice.simulated_takes import Habits, played_take
from tests.practice.test_failed_bars import with_wrong
from tests.sampling import sample

TUNE = request_for(score(*["C4 q, D4 q, E4 q, F4 q"] * 2, *["E4 q, D4 q, C4 h"] * 2, *["G4 w"] * 4), standard_map())
_STAGE_OF = {
    "now.own_pace": (Stage.TIME, Pulse.FREE),
    "now.places": (Stage.PLACES, Pulse.FREE),
    "now.rhythm": (Stage.RHYTHM, Pulse.FREE),
    "now.rhythm_at": (Stage.RHYTHM, Pulse.METRONOME),
}
_LADDER = {"now.rung_up", "now.same_rung", "now.down", "now.settling", "now.metronome"}


def practised(player, days, rng):
    """Each take of a practice as it was asked for, and the decision after it."""
    state = NOTHING_KNOWN
    for day in range(1, days + 1):
        state, asked = advance(state, PassageOpened(passage=player.passage, day=day))
        while asked.offer is Offer.AGAIN:
            request = TUNE.as_decided(asked)
            state, asked = advance(state, player.play(asked, day, rng))
            yield request, asked


def players():
    yield trained(Random(2), 1.1)
    yield from (kind(Learner(steady_bpm=90), PassageFacts(name="passage", target_bpm=96)) for kind in HOSTILE)


def is_true(said, route, request):
    """Whether a sentence says where its way leads."""
    values, key = dict(said.values), said.key
    if isinstance(route, ToSibling):
        return key == "now.sibling"
    if isinstance(route, ToShelf):
        return key == "now.shelf"
    following = route.request
    if following.passage != request.passage:
        return key == "now.bars" and "bars 5–8" in str(values["bars"])
    if key in _LADDER:
        lies = {"now.rung_up": 1, "now.same_rung": 0, "now.down": -1}.get(key)
        was, bpm = request.tempo_bpm, following.tempo_bpm
        climbing = (following.stage, following.pulse) == (Stage.TIME, Pulse.METRONOME) and values["bpm"] == bpm
        settling = following.settling == (key == "now.settling")
        return climbing and settling and (lies is None or (bpm > was) - (bpm < was) == lies)
    return _STAGE_OF[key] == (following.stage, following.pulse) and values.get("bpm") == following.tempo_bpm


@pytest.mark.parametrize("player", sample(list(players()), by_default=2), ids=lambda player: type(player).__name__)
def test_over_weeks_of_any_learner_the_advice_is_what_enter_does(player):
    said = set()
    for request, decision in practised(player, 12, Random(5)):
        first, *more = now_in_words(request, decision, None)
        route = advised_route(request, decision, None)
        assert is_true(first, route, request), (first, route)
        assert len(more) <= 1
        short = dict(corner_in_words(request, decision, None).values)
        assert short == dict(first.values)
        assert len(tell(corner_in_words(request, decision, None))) <= 18, "the corner has no room for more"
        said.add(first.key)
    assert said & {"now.places", "now.rung_up", "now.sibling", "now.bars", "now.same_rung"}


def decided(**changes):
    _, decision = advance(NOTHING_KNOWN, PassageOpened(passage=PassageFacts(name="x"), day=1))
    return replace(decision, **changes)


def at(stage, bpm=None, **changes):
    pulse = Pulse.FREE if bpm is None else Pulse.METRONOME
    return {"stage": stage, "pulse": pulse, "tempo_bpm": bpm, **changes}


def now(request, then=None, **changes):
    return [tell(one) for one in now_in_words(request, decided(**changes), then)]


TIMED = replace(TUNE, **at(Stage.TIME, 65))


@pytest.mark.parametrize(
    ("comes", "said", "corner"),
    [
        (at(Stage.TIME, 70), "A rung up, to 70.", "On, at 70"),
        (at(Stage.TIME, 65), "Once more at 65.", "Again, at 65"),
        (at(Stage.TIME, 58), "Down to 58.", "Down, to 58"),
        (at(Stage.TIME, 55, settling=True), "The last one for today, easy, at 55.", "Easy, at 55"),
        (at(Stage.RHYTHM, 60), "The rhythm alone, at 60.", "Rhythm, 60"),
        (at(Stage.PLACES), "Pitch only, each note at its home.", "Pitch only"),
        (at(Stage.TIME, 65, offer=Offer.SIBLING), "The same notes in other bars.", "Other bars"),
        (at(Stage.TIME, 65, offer=Offer.EASIER), "Next: bars 5–8.", "Next bars"),
    ],
)
def test_after_a_take_by_the_click(comes, said, corner):
    assert now(TIMED, **comes) == [said]
    assert tell(corner_in_words(TIMED, decided(**comes), None)) == corner


def test_signing_is_promised_beside_what_comes():
    comes = at(Stage.TIME, 96, offer=Offer.SIBLING, reason=(message("coach.once_more_another_day"),))
    assert now(TIMED, **comes) == [
        "The same notes in other bars.",
        "Once more like that on another day, and it can be signed.",
    ]


def test_at_the_end_of_a_tune_and_of_a_line_other_music_is_said_and_comes():
    last, comes = TIMED.moved(1), at(Stage.TIME, 65, offer=Offer.EASIER)
    assert advised_route(last, decided(**comes), None) == ToShelf()
    assert now(last, **comes) == ["Back to the shelf."]
    line = replace(last, fresh=True)
    assert advised_route(line, decided(**comes), None) == ToFreshLine()
    assert now(line, **comes) == ["Another line."]


def test_in_a_step_of_the_plan_the_plans_way_is_said():
    request, comes = replace(TIMED, planned=True), at(Stage.TIME, 70)
    other = PassageStanding(name="y", title=verbatim("Amazing Grace, bars 1–4"))
    ways = {
        Onward.AS_ADVISED: "A rung up, to 70.",
        Onward.NEXT_BARS: "The next bars, pitch only.",
        Onward.OTHER_LINE: "Another line.",
        Onward.OTHER_PASSAGE: "On with Amazing Grace, bars 1–4.",
        Onward.STEP_OVER: "This step is done: back to Today.",
    }
    for onward, said in ways.items():
        passage = other if onward is Onward.OTHER_PASSAGE else None
        then = PlannedNext(onward=onward, reason=(), passage=passage)
        assert now(request, then, **comes) == [said]
        assert advised_route(request, decided(**comes), then) == ToPlanned(request, decided(**comes), then)


def test_letters_are_named_once_more_whatever_the_coach_would_do():
    named = TUNE.in_stage(Stage.LETTERS)
    assert now(named, **at(Stage.PLACES)) == ["The letters once more."]
    route = advised_route(named, decided(**at(Stage.PLACES)), None)
    assert isinstance(route, ToPage)
    assert route.request.stage is Stage.LETTERS


FELL = at(Stage.TIME, 58, reason=(message("coach.fell_apart_slower", bpm=58),))
TWO_BARS = (10, 11, 12, 13)


def over(request, finished, **comes):
    """The request over other bars, the words, and the way."""
    decision = decided(**comes)
    changed = bars_after(request, replace(finished, passage=request.passage), decision)
    said = [tell(one) for one in now_in_words(request, decision, None, changed)]
    return said, advised_route(request, decision, None, changed)


def test_a_take_that_fell_apart_in_a_bar_is_taken_up_there_alone_and_slower():
    said, route = over(TIMED, with_wrong(*TWO_BARS), **FELL)
    assert said == ["Down to 58, bar 3 only."]
    assert (route.request.passage.start, route.request.passage.stop) == (2, 3)
    assert (route.request.stage, route.request.tempo_bpm) == (Stage.TIME, 58)
    assert route.request.around == TIMED.passage


def test_where_it_fell_apart_everywhere_or_only_went_slower_the_bars_stay():
    assert over(TIMED, with_wrong(1, 6, 11, 16), **FELL)[0] == ["Down to 58."]
    assert over(TIMED, with_wrong(*TWO_BARS), **at(Stage.TIME, 58))[0] == ["Down to 58."]
    assert over(TIMED, with_wrong(*TWO_BARS), **FELL | {"settling": True})[0][0].startswith("The last one for today")


def test_once_the_few_are_clean_all_bars_come_again_at_their_tempo_and_not_before():
    few = TIMED.narrowed(2, 2).as_decided(decided(**at(Stage.TIME, 58)))
    clean = played_take(Random(1), Habits())
    said, route = over(few, clean, **at(Stage.TIME, 72))
    assert said == ["All of bars 1–4 again, at 58."]
    assert (route.request.passage, route.request.tempo_bpm) == (TIMED.passage, 58)
    assert route.request.around is None
    said, route = over(few, with_wrong(1, 2, 3), **at(Stage.TIME, 58))
    assert said == ["Once more at 58."]
    assert route.request.passage == few.passage
    said, route = over(few, with_wrong(1, 2, 3), **at(Stage.TIME, 58, offer=Offer.SIBLING))
    assert said == ["All of bars 1–4 again, at 58."], "they were played often enough"


def test_in_a_step_of_the_plan_the_bars_come_as_well_while_the_step_goes_on():
    request = replace(TIMED, planned=True)
    decision, finished = decided(**FELL), with_wrong(*TWO_BARS)
    changed = bars_after(request, finished, decision)
    on = PlannedNext(onward=Onward.AS_ADVISED, reason=())
    assert [tell(one) for one in now_in_words(request, decision, on, changed)] == ["Down to 58, bar 3 only."]
    assert advised_route(request, decision, on, changed) == ToPlanned(changed, decision, on)
    ended = PlannedNext(onward=Onward.STEP_OVER, reason=())
    assert advised_route(request, decision, ended, changed) == ToPlanned(request, decision, ended)


def test_where_the_same_is_asked_for_without_a_clock_it_is_said_why():
    """All right and pitch only once more: whoever is not told that it was not quick yet takes it for a fault."""
    asked_again = 0
    for player in players():
        for request, decision in practised(player, 4, Random(5)):
            again = request.stage is decision.stage is Stage.PLACES and decision.offer is Offer.AGAIN
            if again and reasons.SAME_ONCE_MORE not in decision.reason:
                asked_again += 1
                assert len(now_in_words(request, decision, None)) == 2, decision.reason
    slowly = TakeResult(passage=PASSAGE, day=1, stage=Stage.PLACES, homes=16, clean=16, find_times_s=(2.0,) * 16)
    _, decision = advance(NOTHING_KNOWN, slowly)
    assert tell(now_in_words(TUNE, decision, None)[1]).startswith("Sure, but not quick yet")
    assert asked_again
