"""Timed takes while they are played: a verdict for each note as it starts, whatever the frame rate."""

from collections.abc import Sequence
from dataclasses import replace
from fractions import Fraction
from random import Random

import pytest

from game.instrument.decoding.played import PlayedNote
from game.judging.expected import ExpectedNote
from game.judging.live_timed import begin_timed, hear_timed, pass_time
from game.judging.timed import judge_timed
from game.judging.tolerance import TimedGrid, timed_grid
from game.judging.verdicts import NoteVerdict, Verdict
from game.neck.tuning import Place
from tests.judging.made_takes import (
    Errors,
    expected_line,
    made_take,
    moved,
    perfect_take,
    played_note,
    random_line,
    verdict_as_made,
)

LINE = expected_line([60, 62, 64, 65, 67, 65, 64, 62], [Fraction(1)] * 8)
GRID = timed_grid([note.note for note in LINE], tempo_bpm=120)
PERFECT = perfect_take(LINE, GRID)


class Watched:
    """A take played live at a frame rate: the latest verdict of each note and the extra notes."""

    def __init__(
        self, line: Sequence[ExpectedNote], grid: TimedGrid, played: Sequence[PlayedNote], frames_a_second: int
    ) -> None:
        self.verdicts: dict[int, NoteVerdict] = {}
        self.extra: list[PlayedNote] = []
        take = begin_timed(line, grid)
        waiting = sorted(played, key=lambda note: note.started_s)
        end_s = max(grid.onsets_s[-1], waiting[-1].started_s if waiting else 0.0) + 1.5
        for frame in range(int((end_s + 3) * frames_a_second)):
            now_s = frame / frames_a_second - 3
            while waiting and waiting[0].started_s <= now_s:
                take, news = hear_timed(take, waiting.pop(0))
                self._note(news)
            take, news = pass_time(take, now_s)
            self._note(news)
        self.lean_s = take.lean_s

    def _note(self, news) -> None:
        self.verdicts |= {verdict.n: verdict for verdict in news.verdicts}
        self.extra += [news.extra] if news.extra else []

    @property
    def words(self) -> list[Verdict]:
        return [self.verdicts[n].verdict for n in sorted(self.verdicts)]


def test_a_note_has_its_verdict_as_soon_as_it_starts() -> None:
    _, news = hear_timed(begin_timed(LINE, GRID), PERFECT[0])
    assert [(verdict.n, verdict.verdict) for verdict in news.verdicts] == [(1, Verdict.CLEAN)]


def test_a_perfect_take_is_judged_live_as_at_its_end() -> None:
    watched = Watched(LINE, GRID, PERFECT, 60)
    assert tuple(watched.verdicts.values()) == judge_timed(LINE, PERFECT, GRID).verdicts


def told(*steps) -> list[tuple[int, Verdict]]:
    """What is told of a take in which notes are heard and time passes."""
    take, verdicts = begin_timed(LINE, GRID), []
    for step in steps:
        take, news = hear_timed(take, step) if isinstance(step, PlayedNote) else pass_time(take, step)
        verdicts += [(verdict.n, verdict.verdict) for verdict in news.verdicts]
    return verdicts


def test_a_note_is_missed_once_the_player_has_gone_on_without_it() -> None:
    """Time alone says nothing: they may have stopped, and play it yet."""
    assert told(PERFECT[0], 1.4)[1:] == []
    assert told(PERFECT[0], *PERFECT[2:5])[1:] == [(n, Verdict.CLEAN) for n in (3, 4)] + [
        (5, Verdict.CLEAN),
        (2, Verdict.MISSED),
    ]


def test_notes_are_missed_where_nothing_comes_for_six_seconds() -> None:
    assert told(6.0) == []
    assert told(6.01) == [(n, Verdict.MISSED) for n in range(1, 9)]
    assert told(6.01, 6.02) == told(6.01)


def test_who_goes_on_after_a_stop_of_two_seconds_is_told_of_no_missed_note() -> None:
    frames = [0.1 * frame for frame in range(35)]
    notes = [*PERFECT[:4], *moved(PERFECT[4:], 2.0)]
    steps = sorted([*frames, *notes], key=lambda step: step.started_s if isinstance(step, PlayedNote) else step)
    assert dict(told(*steps)) == dict.fromkeys(range(1, 9), Verdict.CLEAN)


def test_a_note_stamped_in_time_but_delivered_late_still_counts() -> None:
    assert told(0.3, PERFECT[0]) == [(1, Verdict.CLEAN)]


def test_a_wrong_note_is_told_once_no_right_one_sounds_with_it() -> None:
    """A string touched 30 ms before is one accident with the note, and no answer; nobody knows before 40 ms after."""
    touched = replace(PERFECT[1], sounding=45, place=None, started_s=PERFECT[1].started_s - 0.03)
    assert told(PERFECT[0], touched, PERFECT[1].started_s + 0.03) == [(1, Verdict.CLEAN)]
    assert told(PERFECT[0], touched, PERFECT[1].started_s + 0.05)[1:] == [(2, Verdict.WRONG_PITCH)]
    assert told(PERFECT[0], touched, PERFECT[1])[1:] == [(2, Verdict.CLEAN)]


def test_a_chord_plucked_by_accident_is_one_note_too_many() -> None:
    take, extra = begin_timed(LINE, GRID), []
    chord = [replace(PERFECT[0], sounding=40 + 5 * at, place=None, started_s=0.25 + 0.012 * at) for at in range(4)]
    for note in (PERFECT[0], *chord, PERFECT[1]):
        take, news = hear_timed(take, note)
        extra += [news.extra] if news.extra else []
    assert extra == [chord[0]]


def test_what_is_told_otherwise_than_before_is_named() -> None:
    home = PERFECT[3].place
    assert home is not None
    pluck = replace(PERFECT[3], sounding=63, place=Place(home.string, home.fret - 2))
    arrival = replace(PERFECT[3], started_s=PERFECT[3].started_s + 0.18)
    take, turned = begin_timed(LINE, GRID), []
    for note in (*PERFECT[:3], pluck, arrival):
        take, news = hear_timed(take, note)
        turned += news.reversed
    assert turned == [4]


def test_whoever_goes_on_from_an_earlier_moment_hears_what_they_would_have_heard() -> None:
    take, _ = hear_timed(begin_timed(LINE, GRID), PERFECT[0])
    hear_timed(take, replace(PERFECT[1], sounding=61))
    _, news = hear_timed(take, PERFECT[1])
    assert [(verdict.n, verdict.verdict) for verdict in news.verdicts] == [(2, Verdict.CLEAN)]


@pytest.mark.parametrize("seed", range(3))
@pytest.mark.parametrize("goes_back", [False, True])
def test_the_frame_rate_changes_no_verdict(seed: int, goes_back: bool) -> None:
    """10, 30, 60 and 240 frames a second, byte for byte."""
    rng = Random(seed)
    line = random_line(40, rng)
    grid = timed_grid([note.note for note in line], tempo_bpm=110)
    played = made_take(line, grid, Errors(bias_s=-0.03, spread_s=0.03), rng).played
    if goes_back:
        played = (*played[:20], *moved(played[15:], 2.2))
    seen = [Watched(line, grid, played, rate) for rate in (10, 30, 60, 240)]
    told = {repr((sorted(watched.verdicts.items()), watched.extra, watched.lean_s)) for watched in seen}
    assert len(told) == 1
    finals = {repr(judge_timed(line, order, grid)) for order in (played, played[::-1], sorted(played, key=id))}
    assert len(finals) == 1


def test_most_live_verdicts_are_already_as_made() -> None:
    rng = Random(11)
    line = random_line(400, rng)
    grid = timed_grid([note.note for note in line], tempo_bpm=120)
    take = made_take(line, grid, Errors(bias_s=-0.04, spread_s=0.03), rng)
    words = Watched(line, grid, take.played, 60).words
    made = [
        verdict_as_made(note, answer, index, grid)
        for index, (note, answer) in enumerate(zip(line, take.answers, strict=True))
    ]
    assert sum(word is want for word, want in zip(words, made, strict=True)) >= 0.97 * len(line)


def test_a_slide_that_arrives_makes_the_started_note_right() -> None:
    home = PERFECT[3].place
    assert home is not None
    pluck = replace(PERFECT[3], sounding=63, place=Place(home.string, home.fret - 2))
    arrival = replace(PERFECT[3], started_s=PERFECT[3].started_s + 0.18)
    assert told(*PERFECT[:3], pluck, arrival)[-2:] == [(4, Verdict.WRONG_PITCH), (4, Verdict.CLEAN)]


def test_a_repair_stays_wrong_and_keeps_both_answers() -> None:
    wrong = played_note(70, PERFECT[3].started_s)
    mended = replace(PERFECT[3], started_s=PERFECT[3].started_s + 0.24)
    watched = Watched(LINE, GRID, [*PERFECT[:3], wrong, mended, *PERFECT[4:]], 60)
    assert watched.words == [Verdict.CLEAN] * 3 + [Verdict.WRONG_PITCH] + [Verdict.CLEAN] * 4
    assert watched.verdicts[4].answers == (wrong, mended)
    assert watched.extra == []


def test_a_player_who_falls_a_bar_behind_is_followed_within_three_notes() -> None:
    line = random_line(40, Random(4))
    grid = timed_grid([note.note for note in line], tempo_bpm=100)
    perfect = perfect_take(line, grid)
    watched = Watched(line, grid, [*perfect[:20], *moved(perfect[20:], 2.4)], 60)
    assert watched.lean_s == pytest.approx(2.4, abs=0.02)
    assert watched.words[24:] == [Verdict.CLEAN] * 16


def test_the_first_verdict_stands_when_a_bar_is_gone_over_again() -> None:
    line = random_line(40, Random(4))
    grid = timed_grid([note.note for note in line], tempo_bpm=100)
    perfect = perfect_take(line, grid)
    perfect[16] = replace(perfect[16], sounding=perfect[16].sounding + 1, place=None)
    again = perfect_take(line, grid)[14:]
    by_s = perfect[19].started_s - perfect[14].started_s + 0.6
    watched = Watched(line, grid, [*perfect[:20], *moved(again, by_s)], 60)
    assert watched.verdicts[17].verdict is Verdict.WRONG_PITCH
    assert watched.words[24:] == [Verdict.CLEAN] * 16


def test_a_take_under_way_tells_when_it_was_last_heard_and_how_far_behind_the_click_its_player_is():
    take = begin_timed(LINE, GRID)
    assert take.last_heard_s is None
    late = [replace(note, started_s=note.started_s + (2.0 if index > 3 else 0.0)) for index, note in enumerate(PERFECT)]
    for note in late:
        take, _ = hear_timed(take, note)
    assert take.last_heard_s == late[-1].started_s
    assert take.lean_s == pytest.approx(2.0, abs=0.05)
    delivered_late, _ = hear_timed(take, replace(late[-1], started_s=late[-2].started_s))
    assert delivered_late.last_heard_s == late[-1].started_s
