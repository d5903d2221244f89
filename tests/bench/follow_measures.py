"""What the bench of following measures of a take: each gives what was lost, of how much, and what strictly was lost."""

from collections.abc import Callable

from game.judging.free import judge_free
from game.judging.live_timed import LiveUpdate, begin_timed, hear_timed, pass_time
from game.judging.timed import judge_timed
from game.judging.timed_verdict import DEFAULT_RULES, TimedRules
from game.judging.verdicts import COUNTS_AS_CLEAN, EventKind, Judgement, Verdict
from tests.judging.players.performed import Fate, Performance
from tests.judging.players.scoring import answers_of, pitch_score

FRAME_S = 0.05
"""How often time passes in a take played live."""

Measure = Callable[[Performance], tuple[int, int, int]]
"""Of one take: lost, whole, and lost without the equivalence."""


def judged(performance: Performance, rules: TimedRules = DEFAULT_RULES) -> Judgement:
    material = performance.material
    return judge_timed(material.line, performance.played, material.grid, rules)


def right_lost(performance: Performance) -> tuple[int, int, int]:
    score = pitch_score(performance, judged(performance))
    return score.lost, score.right, score.strict_lost


def all_lost(performance: Performance) -> tuple[int, int, int]:
    """For each written note; played notes that nobody told count as well, so that a hopeless take may lose more."""
    score = pitch_score(performance, judged(performance))
    return score.lost, score.notes, score.strict_lost


def free_lost(performance: Performance) -> tuple[int, int, int]:
    material = performance.material
    judgement = judge_free(material.line, performance.played, spans=material.spans).judgement
    score = pitch_score(performance, judgement)
    return score.lost, score.notes, score.strict_lost


def time_lost(performance: Performance) -> tuple[int, int, int]:
    """Of the notes after the jump that were made or told early or late: those told otherwise than made. Left out, but
    for the strict count, are notes within 15 ms of an edge of their tolerance.
    """
    verdicts = judged(performance).verdicts
    lost = whole = strict = 0
    for index in _after_the_jump(performance):
        said, made = verdicts[index].verdict, performance.in_time_word(index)
        if said is made is Verdict.CLEAN:
            continue
        untrue = said is not made
        strict += untrue
        if not at_an_edge(performance, index):
            whole += 1
            lost += untrue
    return lost, whole, strict


def _after_the_jump(performance: Performance) -> list[int]:
    """Written notes rightly played that were first read after the jump."""
    jumped = {at for kind, at in performance.events if kind is EventKind.STOP}
    if jumped:
        start = min(jumped)
    else:
        read = [performance.first[index] or 0 for index in range(len(performance.first))]
        last = max(at for at, meant in enumerate(performance.meant) if meant is not None and _again(performance, at))
        start = next((index for index, at in enumerate(read) if at > last), len(read))
    return [index for index in range(start, len(performance.fates)) if performance.fates[index] is Fate.RIGHT]


def _again(performance: Performance, at: int) -> bool:
    """Whether a note was played for a written note that had been read."""
    meant = performance.meant[at]
    return meant is not None and performance.first[meant] not in (None, at)


def at_an_edge(performance: Performance, index: int) -> bool:
    offset_s, grid = performance.offset_s(index), performance.material.grid
    return min(abs(offset_s - grid.late_s[index]), abs(offset_s + grid.early_s[index])) < 0.015


def rhythm_lost(performance: Performance) -> tuple[int, int, int]:
    """Written notes paired with another played note than was meant; one within 40 ms of it is as good."""
    verdicts = judged(performance, TimedRules(pitch_counts=False)).verdicts
    lost = strict = 0
    answers = answers_of(performance, verdicts)
    for index, (answer, first) in enumerate(zip(answers, performance.first, strict=True)):
        strict += answer != first
        lost += not _as_good(performance, answer, first) and not _read_later(performance, index, answer, first)
    return lost, len(answers), strict


def _as_good(performance: Performance, answer: int | None, first: int | None) -> bool:
    if answer is None or first is None:
        return answer is first
    return abs(performance.played[answer].started_s - performance.played[first].started_s) < 0.04


def _read_later(performance: Performance, index: int, answer: int | None, first: int | None) -> bool:
    """Missed at first, read when it was gone over again."""
    return first is None and answer is not None and performance.meant[answer] == index


def reversed_live(performance: Performance) -> tuple[int, int, int]:
    """Written notes whose right or not was said otherwise later, live or at the end; strictly, each played note called
    too many at first and right later counts too.
    """
    material = performance.material
    live = begin_timed(material.line, material.grid)
    said: dict[int, list[bool]] = {}
    extra_s: set[float] = set()
    clock_s = -1.0

    def show(news: LiveUpdate) -> None:
        for verdict in news.verdicts:
            said.setdefault(verdict.n, []).append(verdict.verdict in COUNTS_AS_CLEAN)
        if news.extra is not None:
            extra_s.add(news.extra.started_s)

    for note in performance.played:
        while clock_s < note.started_s:
            live, news = pass_time(live, clock_s)
            show(news)
            clock_s += FRAME_S
        live, news = hear_timed(live, note)
        show(news)
    final = judged(performance).verdicts
    turned = 0
    for verdict in final:
        words = said.get(verdict.n)
        if words is not None and verdict.verdict is not Verdict.UNREAD:
            words.append(verdict.verdict in COUNTS_AS_CLEAN)
            turned += len(set(words)) > 1
    spurned = sum(v.first is not None and v.first.started_s in extra_s and v.verdict in COUNTS_AS_CLEAN for v in final)
    return turned, len(final), turned + spurned
