"""A take against the click ends when its player has ended: the page waits for who is behind, and not for ever."""

from dataclasses import replace
from random import Random

import pytest

from game.coach.stages import Stage
from game.judging.tolerance import bar_spans
from game.music.passage import passages_of
from game.neck.neck_map import standard_map
from game.practice.take_end import (
    AFTER_LAST_S,
    LEAST_LONGER_S,
    LEAST_SILENT_S,
    LINGER_S,
    MOST_SILENT_S,
    TakeSoFar,
    is_at_its_end,
)
from game.practice.timed_take import TimedTake, TimedTerms
from game.tunes.library.library import open_entry
from tests.judging.players import scripts
from tests.judging.players.hands import HANDS
from tests.judging.players.material import Material
from tests.judging.players.performed import NoRoomError, Performance, perform
from tests.judging.players.pulses import drift, steady
from tests.sampling import how_many
from tests.tunes.book_by_number import book_by_number

MAP = standard_map()
FRAME_S = 1 / 30
READ = TakeSoFar(end_s=16.0, beat_s=1.0, bar_s=4.0, heard_s=15.0, complete_s=15.0)
OWED = replace(READ, complete_s=None, awaited_s=15.5)


def first_over_s(take: TakeSoFar) -> float:
    """To a hundredth of a second."""
    return next(at / 100 for at in range(10_000) if is_at_its_end(take, at / 100))


def test_read_to_the_end_a_take_is_over_two_beats_after_the_last_answer_and_no_sooner_than_by_the_click():
    assert first_over_s(READ) == 17.0
    assert first_over_s(replace(READ, complete_s=10.0)) == pytest.approx(16.0 + LINGER_S)
    assert first_over_s(replace(READ, beat_s=0.25, complete_s=15.9)) == pytest.approx(15.9 + AFTER_LAST_S)


def test_what_is_played_after_the_last_note_was_right_keeps_no_take_open():
    assert first_over_s(replace(READ, heard_s=40.0)) == first_over_s(READ)


def test_a_last_note_that_was_wrong_may_be_put_right():
    assert first_over_s(replace(READ, complete_s=None, heard_s=16.5)) == 18.5


@pytest.mark.parametrize(("bar_s", "silent_s"), [(1.0, LEAST_SILENT_S), (3.0, 6.0), (20.0, MOST_SILENT_S)])
def test_while_notes_are_owed_silence_of_two_bars_from_when_the_next_is_due_ends_it(bar_s: float, silent_s: float):
    assert first_over_s(replace(OWED, bar_s=bar_s)) == pytest.approx(15.5 + silent_s)
    assert first_over_s(replace(OWED, bar_s=bar_s, heard_s=16.0)) == pytest.approx(16.0 + silent_s)


def test_who_plays_on_without_ever_coming_to_the_end_is_waited_for_as_long_again():
    assert first_over_s(replace(OWED, heard_s=1000.0)) == pytest.approx(16.0 + LINGER_S + 16.0)
    assert first_over_s(replace(OWED, heard_s=1000.0, end_s=4.0)) == pytest.approx(4.0 + LINGER_S + LEAST_LONGER_S)


def test_where_nothing_was_heard_the_click_ends_it():
    assert first_over_s(replace(OWED, heard_s=None)) == pytest.approx(16.0 + LINGER_S)


def _tunes():
    return [passage for entry in book_by_number()[:40] for passage in passages_of(open_entry(entry))[:2]]


TUNES = _tunes()
PLAYERS = {
    "stops two seconds": (scripts.two_seconds, steady),
    "stops anywhere, up to four seconds": (scripts.stop_off_beat, steady),
    "loses a beat": (scripts.beat_behind, steady),
    "goes back a bar": (scripts.back_a_bar, steady),
    "begins again from the top": (scripts.from_the_top, steady),
    "runs three in a hundred ahead": (scripts.straight, drift(-0.03)),
    "drags eight in a hundred": (scripts.straight, drift(0.08)),
    "plays at two thirds of the tempo": (scripts.straight, drift(0.5)),
    "finds the last note late": (
        lambda material, _rng: scripts._waiting(material, len(material.line) - 1, 2.5),
        steady,
    ),
}


def begun(seed: int) -> tuple[TimedTake, Material]:
    rng = Random(seed)
    tune = rng.choice(TUNES)
    terms = TimedTerms(stage=Stage.TIME, tempo_bpm=rng.randint(50, 110))
    take = TimedTake(passage=tune, neck_map=MAP, terms=terms)
    take.start(0.0)
    material = Material(
        name="tune", line=take.expected, grid=take._grid, spans=bar_spans(tune.bars), quarter_s=take.quarter_s
    )
    return take, material


def performed(name: str, seed: int) -> tuple[TimedTake, Performance]:
    """The first tune from a seed on that has room for what the player does."""
    course, pulse = PLAYERS[name]
    while True:
        take, material = begun(seed)
        rng = Random(seed)
        try:
            return take, perform(material, course(material, rng), pulse, HANDS["follows the click"](rng), rng)
        except (NoRoomError, ValueError, IndexError):
            seed += 1000


def played_live(take: TimedTake, performance: Performance) -> tuple[float, int]:
    """When the take ended by its own word, and how many notes came after that."""
    waiting = list(performance.played)
    now_s = 0.0
    while not take.is_over(now_s):
        now_s += FRAME_S
        while waiting and waiting[0].started_s <= now_s:
            take.hear(waiting.pop(0))
        take.tick(now_s)
    return now_s, len(waiting)


# Where a tune's second half is its first, who begins again from the middle sounds as if they had come to the end.
CUT_OFF = {"begins again from the top": 0.04}


@pytest.mark.parametrize("name", PLAYERS)
def test_no_notes_of_a_player_who_goes_on_come_after_the_end(name: str):
    """By the click alone it was 9 to 26 in a hundred for who stops or goes back."""
    cut = total = 0
    for seed in range(how_many(60, by_default=30)):
        take, performance = performed(name, seed)
        _, left = played_live(take, performance)
        cut += left
        total += len(performance.played)
    assert cut <= CUT_OFF.get(name, 0.005) * total
    assert total > 200


@pytest.mark.parametrize("name", PLAYERS)
def test_nobody_sits_before_a_page_that_does_not_end(name: str):
    for seed in range(how_many(20, by_default=5)):
        take, performance = performed(name, seed)
        over_s, _ = played_live(take, performance)
        by_the_click_s, last_s = take.end_s + LINGER_S, performance.played[-1].started_s
        assert over_s <= max(by_the_click_s, last_s + MOST_SILENT_S) + 2 * FRAME_S


def test_who_stops_for_good_is_waited_for_no_longer_than_the_click_and_a_silence():
    take, performance = performed("stops two seconds", 3)
    half = performance.played[: len(performance.played) // 2]
    over_s, _ = played_live(take, replace(performance, played=half))
    assert over_s <= max(take.end_s + LINGER_S, half[-1].started_s + MOST_SILENT_S) + 2 * FRAME_S


def test_a_last_note_found_late_is_waited_for_and_then_no_longer():
    """Whether it was that note or one too many the live judge cannot tell; there is nothing more to wait for."""
    for seed in range(10):
        take, performance = performed("finds the last note late", seed)
        over_s, left = played_live(take, performance)
        assert left == 0
        after_s = max(2 * take._so_far.beat_s, AFTER_LAST_S)
        assert over_s <= max(take.end_s + LINGER_S, performance.played[-1].started_s + after_s) + 2 * FRAME_S
