"""Where a player is while they play: what is heard note by note is read as the whole take will be."""

from collections.abc import Iterable, Sequence

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from game.instrument.decoding.played import PlayedNote
from game.judging.following.follow_numbers import LIVE_BEAM
from game.judging.following.follower import follow
from game.judging.following.search import Hypothesis
from game.judging.live_reading import LiveReading, begin_reading, read_note
from tests.judging.following.rows import BAR_NOTES, GAP_S, Sound, answered, as_written, later, line_of, rows_of
from tests.sampling import how_many

LINE = line_of(6)
PERFECT = as_written(LINE)
BEGUN = begin_reading(rows_of(LINE, []))
ANY_SOUNDS = st.lists(st.tuples(st.floats(-1.0, 20.0), st.integers(44, 60)), max_size=16)


def read_on(reading: LiveReading, sounds: Iterable[Sound], *, pitch_counts: bool = True) -> LiveReading:
    for at_s, pitch in sounds:
        note = PlayedNote(started_s=at_s, sounding=pitch, place=None)
        reading = read_note(reading, note, pitch_counts=pitch_counts)
    return reading


def read(sounds: Sequence[Sound], asked: Sequence[int] = LINE) -> LiveReading:
    return read_on(begin_reading(rows_of(asked, [])), sorted(sounds))


def account(guess: Hypothesis) -> list[int | None]:
    """The written note that each played note answers, as a hypothesis has it."""
    steps, trail = [], guess.trail
    while trail is not None:
        steps.append(trail.step)
        trail = trail.before
    return answered(steps[::-1])


def at_the_end(sounds: Sequence[Sound], asked: Sequence[int] = LINE) -> list[int | None]:
    return answered(follow(rows_of(asked, sounds)))


@given(st.integers(0, 50), st.floats(-0.03, 0.03), st.floats(-0.1, 0.1), st.floats(0.15, 1.2))
@settings(max_examples=how_many(300, by_default=40), deadline=None)
def test_clean_and_drifting_takes_are_read_live_as_at_their_end(seed, drift: float, bias_s: float, gap_s: float):
    line = line_of(6, seed)
    sounds = as_written(line, gap_s=gap_s, drift=drift, bias_s=bias_s)
    rows = rows_of(line, [], gap_s=gap_s, beat_s=2 * gap_s)
    reading = read_on(begin_reading(rows), sounds)
    whole = follow(rows_of(line, sounds, gap_s=gap_s, beat_s=2 * gap_s))
    assert account(reading.top) == answered(whole) == list(range(len(line)))
    assert reading.settled
    assert reading.top.clock == pytest.approx(whole[-1].clock)


def test_while_note_follows_note_there_is_no_doubt_at_any_time():
    reading = BEGUN
    for heard, sound in enumerate(PERFECT, start=1):
        reading = read_on(reading, [sound])
        assert (reading.heard, reading.top.written, reading.settled) == (heard, heard - 1, True)


TROUBLES = {
    "a wrong note": [*PERFECT[:20], (PERFECT[20][0], 90), *PERFECT[21:]],
    "a note left out": [*PERFECT[:20], *PERFECT[21:]],
    "a note too many": [*PERFECT[:20], (PERFECT[20][0] - 0.2, 90), *PERFECT[20:]],
    "a stop": [*PERFECT[:20], *later(PERFECT[20:], 2.3)],
    "a beat lost": [*PERFECT[:20], *later(PERFECT[20:], 2 * GAP_S)],
    "a bar skipped": [*PERFECT[:16], *later(PERFECT[24:], -BAR_NOTES * GAP_S)],
    "a bar gone over again": [*PERFECT[:24], *later(PERFECT[16:], BAR_NOTES * GAP_S)],
}


@pytest.mark.parametrize("trouble", TROUBLES)
def test_after_trouble_the_account_is_that_of_the_whole_take_and_there_is_no_doubt_again(trouble: str):
    sounds = TROUBLES[trouble]
    assert account(read(sounds).top) == at_the_end(sounds)
    doubts = [not read(sounds[:heard]).settled for heard in range(len(sounds) + 1)]
    assert any(doubts)
    assert not any(doubts[:17])
    assert not any(doubts[33:])


@given(ANY_SOUNDS, ANY_SOUNDS, st.integers(0, 20))
@settings(max_examples=how_many(40, by_default=10), deadline=None)
def test_whoever_goes_on_from_an_earlier_reading_reads_what_they_would_have_read_then(one, other, begun: int):
    """And what others heard since changes nothing for those who went on before."""
    earlier = read(PERFECT[:begun])
    once = read_on(earlier, one)
    again = read_on(earlier, other)
    assert again.beam == read_on(read(PERFECT[:begun]), other).beam
    assert read_on(once, PERFECT[:3]).beam == read_on(read(PERFECT[:begun]), [*one, *PERFECT[:3]]).beam


@given(ANY_SOUNDS)
@settings(max_examples=how_many(40, by_default=10), deadline=None)
def test_every_account_tells_of_every_note_heard_and_there_are_never_many(sounds: list[Sound]):
    reading = read(sounds)
    assert reading.heard == len(sounds)
    assert 1 <= len(reading.beam) <= LIVE_BEAM
    assert {len(account(guess)) for guess in reading.beam} == {len(sounds)}


def test_the_lead_is_over_the_next_account_that_has_the_player_elsewhere():
    first = BEGUN.top._replace(cost=1.0, written=20)
    beam = (first, first._replace(cost=2.0, written=21), first._replace(cost=4.5, written=25))
    assert LiveReading(rows=BEGUN.rows, heard=1, beam=beam).lead == 3.5
    assert LiveReading(rows=BEGUN.rows, heard=1, beam=beam[:2]).lead == BEGUN.lead == 99.0


def test_where_only_the_rhythm_counts_any_pitch_is_the_next_note():
    drum = begin_reading(rows_of([0] * 48, []))
    reading = read_on(drum, PERFECT, pitch_counts=False)
    assert account(reading.top) == list(range(48))
    assert not read_on(drum, PERFECT[:1]).settled


def test_notes_after_the_last_written_one_answer_nothing():
    reading = read([*PERFECT, (PERFECT[-1][0] + 0.5, 90), (PERFECT[-1][0] + 1.0, 91)])
    assert account(reading.top) == [*range(48), None, None]


def test_where_nothing_is_written_every_note_answers_nothing():
    assert account(read(PERFECT[:3], []).top) == [None] * 3
