"""Takes by the click as people play them: right and wrong notes, leaning, wandering, stopping, leaving early."""

from dataclasses import dataclass, replace
from random import Random

from game.coach.judged_take import judged_notes, take_result
from game.coach.stages import Stage
from game.instrument.decoding.played import PlayedNote
from game.judging.expected import expected_notes
from game.judging.timed import judge_timed
from game.judging.timed_verdict import DEFAULT_RULES
from game.judging.tolerance import bar_spans, timed_grid
from game.music.passage import Passage
from game.neck.neck_map import standard_map
from game.practice.finished_take import FinishedTake
from tests.coach.coach_takes import PASSAGE
from tests.made import passage

MAP = standard_map()
_ROWS = ("C4 q, C4 q, D4 q, Bb3 q", "C4 q, D4 e, Eb4 e, D4 q, Bb3 q", "C4 q, D4 e, Eb4 e, D4 q, C4 q")
LINE = passage(*_ROWS, "Bb3 h, C4 h", key=-2)
LINE_OF_18 = passage(*_ROWS, "Bb3 q, C4 q, D4 q, C4 q", key=-2)


@dataclass(frozen=True)
class Habits:
    """How somebody plays: chances of a wrong note and of a missed one, ms early (negative) or late and how unevenly,
    a stop of some seconds before a note, and the note after which they leave.
    """

    wrong: float = 0.0
    missed: float = 0.0
    lean_ms: float = 0.0
    spread_ms: float = 8.0
    stop_before: int | None = None
    leaves_after: int | None = None


def any_habits(rng: Random, notes: int) -> Habits:
    """Somebody, on some day."""
    return Habits(
        wrong=rng.choice((0, 0, 0.05, 0.1, 0.4)),
        missed=rng.choice((0, 0, 0.05)),
        lean_ms=rng.choice((0, 0, -40, 60, 120)),
        spread_ms=rng.choice((8, 20, 60)),
        stop_before=rng.choice((None, None, None, rng.randint(3, notes))),
        leaves_after=rng.choice((None, None, None, None, rng.randint(1, notes))),
    )


def played_take(
    rng: Random, habits: Habits, *, bpm: int = 70, line: Passage = LINE, stage: Stage = Stage.TIME
) -> FinishedTake:
    """A take of `line` by these habits, judged as a whole."""
    expected = expected_notes(line.notes, MAP)
    grid = timed_grid(line.notes, tempo_bpm=bpm, spans=bar_spans(line.bars))
    played, stopped_s = [], 0.0
    for note, due_s in zip(expected[: habits.leaves_after], grid.onsets_s, strict=False):
        stopped_s += 4.0 if note.n == habits.stop_before else 0.0
        if rng.random() < habits.missed:
            continue
        off = rng.choice((-2, -1, 1, 2, 12)) if rng.random() < habits.wrong else 0
        home = MAP.home_of(note.sounding + off)
        at_s = due_s + stopped_s + rng.gauss(habits.lean_ms, habits.spread_ms) / 1000
        played.append(PlayedNote(started_s=at_s, sounding=note.sounding + off, place=home.place if home else None))
    rules = DEFAULT_RULES if habits.leaves_after is None else replace(DEFAULT_RULES, ended_s=played[-1].started_s + 0.2)
    judgement = judge_timed(expected, played, grid, rules)
    return FinishedTake(
        passage=line, expected=expected, judgement=judgement, stage=stage, tempo_bpm=bpm, played=tuple(played)
    )


def heard_by_coach(finished: FinishedTake, *, day: int = 1, sighting: int = 3):
    """The take as the coach hears of it."""
    return take_result(
        judged_notes(finished.judgement.verdicts, finished.expected),
        [event.kind for event in finished.judgement.events],
        passage=PASSAGE,
        day=day,
        stage=finished.stage,
        tempo_bpm=finished.tempo_bpm,
        sighting=sighting,
        settling=finished.settling,
    )
