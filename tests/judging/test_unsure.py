"""Notes that were heard and could not be told count neither for nor against their player, in every kind of take."""

from collections.abc import Callable, Sequence
from dataclasses import replace
from fractions import Fraction
from random import Random

import pytest

from game.instrument.decoding.played import PlayedNote
from game.judging.expected import ExpectedNote
from game.judging.free import judge_free
from game.judging.live_timed import begin_timed, hear_timed, pass_time
from game.judging.summary import summary_of
from game.judging.timed import judge_timed
from game.judging.timed_verdict import TimedRules
from game.judging.tolerance import TimedGrid, timed_grid
from game.judging.untimed import UntimedRules, begin, finish, hear, judge_untimed
from game.judging.verdicts import EventKind, Judgement, NoteVerdict, Verdict
from tests.judging.made_takes import Errors, expected_line, made_take, perfect_take, random_line
from tests.sampling import how_many

LINE = expected_line([60, 62, 64, 65, 67, 65, 64, 62], [Fraction(1)] * 8)
GRID = timed_grid([note.note for note in LINE], tempo_bpm=120)
PERFECT = perfect_take(LINE, GRID)
RHYTHM = TimedRules(pitch_counts=False)
Judge = Callable[[Sequence[ExpectedNote], Sequence[PlayedNote], TimedGrid], Judgement]


def in_rhythm(line: Sequence[ExpectedNote], played: Sequence[PlayedNote], grid: TimedGrid) -> Judgement:
    return judge_timed(line, played, grid, RHYTHM)


def in_free_time(line: Sequence[ExpectedNote], played: Sequence[PlayedNote], _: TimedGrid) -> Judgement:
    return judge_free(line, played).judgement


def in_order(line: Sequence[ExpectedNote], played: Sequence[PlayedNote], _: TimedGrid) -> Judgement:
    return judge_untimed(line, played)


EVERY_JUDGE = pytest.mark.parametrize("judge", [judge_timed, in_rhythm, in_free_time, in_order])


def words(judgement: Judgement) -> list[str]:
    return [verdict.verdict.value for verdict in judgement.verdicts]


def heard(note: PlayedNote, **changes: object) -> PlayedNote:
    """The note as a microphone gives it."""
    return replace(note, place=None, **changes)


def all_heard(played: Sequence[PlayedNote]) -> list[PlayedNote]:
    return [heard(note) for note in played]


def unsure_at(played: Sequence[PlayedNote], *indices: int, off: int = 12) -> list[PlayedNote]:
    """The take with these notes heard unsurely, `off` semitones from what they were."""
    return [
        heard(note, sure=False, sounding=note.sounding + off) if at in indices else heard(note)
        for at, note in enumerate(played)
    ]


@EVERY_JUDGE
@pytest.mark.parametrize("off", [-12, 0, 3, 12])
@pytest.mark.parametrize("index", [0, 3, 7])
def test_a_note_that_could_not_be_told_is_unsure_whatever_it_sounded_like(judge: Judge, index: int, off: int) -> None:
    judgement = judge(LINE, unsure_at(PERFECT, index, off=off), GRID)
    assert words(judgement) == ["unsure" if at == index else "clean" for at in range(8)]
    assert judgement.extra == judgement.events == ()
    assert judgement.verdicts[index].offset_ms is judgement.verdicts[index].time_to_find_ms is None


@EVERY_JUDGE
def test_unsure_notes_are_in_no_share_and_the_take_kept_going(judge: Judge) -> None:
    summary = summary_of(judge(LINE, unsure_at(PERFECT, 2, 3, 4, 7), GRID), LINE)
    assert summary.counts[Verdict.UNSURE] == 4
    assert (summary.asked, summary.right_notes, summary.clean_share, summary.kept_going) == (4, 4, 1.0, True)
    assert summary.in_time in (4, None)


@EVERY_JUDGE
def test_a_noise_that_answers_nothing_is_no_extra_note(judge: Judge) -> None:
    noise = heard(PERFECT[3], sure=False, sounding=90, started_s=PERFECT[3].started_s - 0.15)
    judgement = judge(LINE, [*all_heard(PERFECT), noise], GRID)
    assert words(judgement) == ["clean"] * 8
    assert judgement.extra == ()


@EVERY_JUDGE
def test_a_take_of_which_nothing_could_be_told_asks_nothing(judge: Judge) -> None:
    summary = summary_of(judge(LINE, unsure_at(PERFECT, *range(8), off=0), GRID), LINE)
    assert (summary.asked, summary.right_notes, summary.clean_share) == (0, 0, None)
    assert (summary.counts[Verdict.UNSURE], summary.kept_going) == (8, True)


@EVERY_JUDGE
@pytest.mark.parametrize("seed", range(how_many(40, by_default=4)))
def test_unsure_notes_change_no_verdict_but_to_unsure(judge: Judge, seed: int) -> None:
    rng = Random(seed)
    line = random_line(40, rng)
    grid = timed_grid([note.note for note in line], tempo_bpm=90)
    # By order alone nobody can tell which of two notes side by side was wrong, and which could not be told.
    errors = Errors(dropped=0, added=0, wrong=0) if judge is in_order else Errors(dropped=0.04, added=0.02, wrong=0.04)
    made = all_heard(made_take(line, grid, errors, rng).played)
    doubtful = [
        heard(rng.choice(made), sure=False, sounding=rng.randint(40, 80), started_s=rng.uniform(-1, made[-1].started_s))
        for _ in range(rng.randint(1, 20))
    ]
    # The judge in order of play is given what was played in its order.
    together = sorted([*made, *doubtful], key=lambda note: note.started_s)
    before, after = judge(line, made, grid), judge(line, together, grid)
    assert after.extra == before.extra
    for one, other in zip(before.verdicts, after.verdicts, strict=True):
        assert other.verdict in (one.verdict, Verdict.UNSURE)
        assert other.offset_ms in (one.offset_ms, None)


@EVERY_JUDGE
@pytest.mark.parametrize("seed", range(how_many(40, by_default=4)))
def test_the_shares_are_those_of_a_take_that_did_not_ask_what_could_not_be_told(judge: Judge, seed: int) -> None:
    rng = Random(seed)
    line = random_line(40, rng)
    grid = timed_grid([note.note for note in line], tempo_bpm=90)
    made = made_take(line, grid, Errors(dropped=0.0, added=0.0, wrong=0.05, spread_s=0.03), rng).played
    unsure = {at for at in range(40) if rng.random() < 0.1}
    whole, part = judge(line, all_heard(made), grid), judge(line, unsure_at(made, *unsure), grid)
    assert {at for at, verdict in enumerate(part.verdicts) if verdict.verdict is Verdict.UNSURE} == unsure
    left = [verdict.verdict for at, verdict in enumerate(whole.verdicts) if at not in unsure]
    assert [verdict.verdict for at, verdict in enumerate(part.verdicts) if at not in unsure] == left


def test_a_run_of_notes_that_could_not_be_told_is_no_stop() -> None:
    assert judge_timed(LINE, unsure_at(PERFECT, 2, 3, 4, 5), GRID).events == ()
    silent = judge_timed(LINE, all_heard([*PERFECT[:2], *PERFECT[6:]]), GRID)
    assert [event.kind for event in silent.events] == [EventKind.STOP]


def test_the_last_notes_of_a_take_may_be_unsure_and_it_came_to_its_end() -> None:
    judgement = judge_timed(LINE, unsure_at(PERFECT, 3, 4, 5, 6, 7), GRID)
    assert words(judgement) == ["clean"] * 3 + ["unsure"] * 5
    assert judgement.events == ()


def test_a_bang_long_after_the_player_stopped_reads_no_notes() -> None:
    bang = heard(PERFECT[7], sure=False)
    judgement = judge_timed(LINE, [*all_heard(PERFECT[:2]), bang], GRID)
    assert words(judgement) == ["clean"] * 2 + ["unread"] * 6


def test_a_note_that_was_missed_beside_one_that_could_not_be_told_is_still_missed() -> None:
    judgement = judge_timed(LINE, [note for at, note in enumerate(unsure_at(PERFECT, 3)) if at != 4], GRID)
    assert words(judgement) == ["clean"] * 3 + ["unsure", "missed"] + ["clean"] * 3


def test_nobody_knows_how_long_the_note_after_an_unsure_one_was_looked_for() -> None:
    for judgement in (judge_timed(LINE, unsure_at(PERFECT, 3), GRID), judge_untimed(LINE, unsure_at(PERFECT, 3))):
        assert [verdict.time_to_find_ms is None for verdict in judgement.verdicts[2:6]] == [False, True, True, False]


def test_a_sure_wrong_note_stays_wrong_among_unsure_ones() -> None:
    played = all_heard(PERFECT)
    played[3] = replace(played[3], sounding=66)
    played.insert(4, heard(PERFECT[3], sure=False, started_s=PERFECT[3].started_s + 0.05))
    assert words(judge_timed(LINE, played, GRID)) == ["clean"] * 3 + ["wrong pitch"] + ["clean"] * 4


# --- while it is played ---


def live(played: Sequence[PlayedNote], until_s: float | None = None) -> dict[int, NoteVerdict]:
    take, told = begin_timed(LINE, GRID), {}
    for note in played:
        take, news = hear_timed(take, note)
        told |= {verdict.n: verdict for verdict in news.verdicts}
    take, news = pass_time(take, played[-1].started_s + 0.5 if until_s is None else until_s)
    return told | {verdict.n: verdict for verdict in news.verdicts}


@pytest.mark.parametrize("indices", [(0,), (3,), (2, 3, 4), (7,), (0, 7)])
def test_live_and_final_verdicts_agree(indices: tuple[int, ...]) -> None:
    played = unsure_at(PERFECT, *indices)
    final = judge_timed(LINE, played, GRID)
    assert [live(played)[n].verdict for n in range(1, 9)] == [verdict.verdict for verdict in final.verdicts]


def test_an_unsure_last_note_is_told_once_its_time_is_over() -> None:
    played = unsure_at(PERFECT, 7)
    assert 8 not in live(played, until_s=played[-1].started_s + 0.05)
    assert live(played, until_s=played[-1].started_s + 0.5)[8].verdict is Verdict.UNSURE


def page(*notes: PlayedNote, waits: bool = True) -> list[str]:
    take = begin(LINE, now_s=0.0, rules=UntimedRules(waits=waits))
    for note in notes:
        take, _ = hear(take, note)
    return words(finish(take))


def note(sounding: int, at_s: float, *, sure: bool = True) -> PlayedNote:
    return PlayedNote(started_s=at_s, sounding=sounding, place=None, sure=sure)


@pytest.mark.parametrize("waits", [True, False])
def test_the_page_moves_on_by_an_unsure_note_of_the_right_pitch(waits: bool) -> None:
    assert page(note(60, 1), note(62, 2, sure=False), note(64, 3), waits=waits)[:4] == [
        *("clean", "unsure", "clean", "unread")
    ]


def test_a_note_played_once_more_is_the_answer_to_the_one_that_was_left() -> None:
    assert page(note(60, 1), note(62, 2, sure=False), note(62, 3), note(64, 4))[:4] == [
        *("clean", "clean", "clean", "unread")
    ]


def test_the_page_stays_at_an_unsure_note_of_another_pitch_and_no_later_try_makes_up_for_it() -> None:
    assert page(note(60, 1), note(74, 2, sure=False))[:2] == ["clean", "unsure"]
    assert page(note(60, 1), note(74, 2, sure=False), note(62, 3))[:3] == ["clean", "unsure", "unread"]


def test_a_noise_on_the_way_to_the_string_takes_nothing_from_the_note() -> None:
    assert page(note(60, 1), note(90, 1.9, sure=False), note(62, 2))[:3] == ["clean", "clean", "unread"]


def test_a_page_that_does_not_wait_goes_on_with_its_player() -> None:
    played = [note(60, 1), note(74, 2, sure=False), note(64, 3), note(65, 4)]
    take = begin(LINE, now_s=0.0, rules=UntimedRules(waits=False))
    for one in played:
        take, _ = hear(take, one)
    assert [verdict.verdict.value for verdict in take.live] == ["clean", "unsure", "clean", "clean"]
    assert words(finish(take))[:5] == ["clean", "unsure", "clean", "clean", "unread"]


def test_waiting_and_aligning_come_to_the_same() -> None:
    for seed in range(how_many(100, by_default=15)):
        rng = Random(seed)
        line = random_line(30, rng)
        take = begin(line, now_s=0.0)
        at_s = 0.0
        while not take.done:
            at_s += 1.0
            off = rng.choice((0, 0, 0, 0, 0, 0, 1))
            take, _ = hear(take, note(take.asked.sounding + off, at_s, sure=rng.random() > 0.1))
        judged = judge_untimed(line, take.heard)
        clean = [word == "clean" for word in words(finish(take))]
        assert sum(a != (b == "clean") for a, b in zip(clean, words(judged), strict=True)) <= 2
