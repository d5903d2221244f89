"""Whatever a player does in whatever order, by chance from a seed: the draft stays one that can be printed and kept."""

from fractions import Fraction
from random import Random

from game.screens.writing.head_rows import HEAD_ROWS, stepped_in
from game.tunes.entering.corrections import inserted, lengthened, rubbed_out
from game.tunes.entering.draft import Draft
from game.tunes.entering.draft_score import draft_page
from game.tunes.entering.entering import Entering, EntryStep, gone_back, in_step, moved
from game.tunes.entering.pitch_entry import heard, played_over, respelled, revised, taken_back
from game.tunes.entering.place_words import written_above
from game.tunes.entering.rhythm_entry import bar_inserted, bar_removed, begun, ended, last_bar_taken_back, struck
from game.tunes.entering.tapped_rhythm import Tap
from tests.tunes.entering.made_drafts import CHORDS

STEPS = 60
TEXTS = (*CHORDS, "|:", ":|", "1.", "2.", "-", "Dm7 G7", "nonsense")


def played_at_random(seed: int) -> Entering:
    """A state after sixty things a player did; each draft on the way is looked at."""
    chance = Random(seed)
    state = Entering(draft=Draft())
    for number in range(STEPS):
        state = _one_thing(state, chance, float(number))
        check(state)
    return state


def _one_thing(state: Entering, chance: Random, at_s: float) -> Entering:
    if chance.random() < 0.15:
        return in_step(state, state.step.following)
    match state.step:
        case EntryStep.HEAD:
            return stepped_in(state, chance.choice(HEAD_ROWS[2:]), chance.choice((-1, 1)))
        case EntryStep.PITCHES:
            return _in_pitches(state, chance, at_s)
        case EntryStep.RHYTHM:
            return _in_rhythm(state, chance)
        case EntryStep.PAGE:
            return _on_page(state, chance, at_s)


def _in_pitches(state: Entering, chance: Random, at_s: float) -> Entering:
    sounding = chance.randint(40, 80)
    new = heard(state, sounding, at_s)
    things = (
        lambda: new,
        lambda: heard(new, chance.randint(40, 80), at_s + 0.02),
        lambda: revised(new, (sounding, at_s), chance.choice((None, (sounding + 1, at_s)))),
        lambda: taken_back(state, chance.randint(1, 3)),
        lambda: moved(state, chance.randint(-3, 3)),
    )
    return chance.choices(things, weights=(8, 1, 1, 1, 1))[0]()


def _in_rhythm(state: Entering, chance: Random) -> Entering:
    things = (
        lambda: _run(state, chance),
        lambda: last_bar_taken_back(state),
        lambda: bar_inserted(state),
        lambda: bar_removed(state),
        lambda: moved(state, chance.randint(-3, 3)),
    )
    return chance.choices(things, weights=(4, 1, 1, 1, 2))[0]()


def _run(state: Entering, chance: Random) -> Entering:
    """Taps of somebody who stops at any time."""
    state = begun(state, zero_s=100.0, quarter_s=0.75)
    at_s = 100.0
    for _ in range(chance.randint(0, 14)):
        state = struck(state, Tap(at_s=at_s + chance.gauss(0, 0.02), rest=chance.random() < 0.1))
        at_s += 0.75 * chance.choice((0.25, 1 / 3, 0.5, 0.5, 1, 1, 1, 1.5, 2, 5))
    return ended(state, at_s + chance.random() * 3)


def _on_page(state: Entering, chance: Random, at_s: float) -> Entering:
    things = (
        lambda: lengthened(state, chance.choice((-1, 1)), fine=chance.random() < 0.4),
        lambda: rubbed_out(state),
        lambda: inserted(state),
        lambda: respelled(state),
        lambda: played_over(state, chance.randint(40, 80), at_s),
        lambda: written_above(state, chance.choice(TEXTS)),
        lambda: gone_back(state),
        lambda: moved(state, chance.randint(-4, 4)),
    )
    return chance.choices(things, weights=(6, 1, 2, 1, 1, 3, 1, 4))[0]()


def check(state: Entering) -> None:
    """What holds of every draft on the way."""
    draft = state.draft
    times: list[Fraction] = []
    for onset in draft.onsets:
        times += [onset.at] if onset.rest_at is None else [onset.at, onset.rest_at]
    assert times == sorted(times), times
    starts = [onset.at for onset in draft.onsets]
    assert len(set(starts)) == len(starts), starts
    assert all(onset.rest_at is None or onset.rest_at > onset.at for onset in draft.onsets)
    assert not times or (draft.start <= times[0] and times[-1] <= draft.settled), (times, draft.settled)
    assert draft.settled == draft.start or draft.settled % draft.meter.bar_length == 0 or not draft.onsets
    if draft.pitches:
        _check_page(draft)


def _check_page(draft: Draft) -> None:
    page = draft_page(draft)
    for bar in page.score.bars:
        assert sum(event.length for event in bar.events) == bar.length
        for event in bar.events:
            assert event.length > 0
            assert event.value.length == event.length or getattr(event, "whole_bar", False), event
