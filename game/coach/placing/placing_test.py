"""A new player is placed by a short test instead of starting from the bottom: some single notes, then two fresh lines.

What is asked next follows from what was answered: a Bayesian estimate of the player's level on a grid, as for the
steady tempo. A fold: `next_question(test)` is what to ask, `note_answered` and `line_read` take in what came,
`placement(test)` is the proposal at any moment. The player may take another.
"""

from dataclasses import dataclass, field, replace
from math import exp, log
from statistics import median

from game.coach.numbers import NUMBERS, CoachNumbers
from game.coach.stages import Stage
from game.message import Message, message

LOWEST_LEVEL, HIGHEST_LEVEL = 1, 8
"""The levels of fresh lines."""

HIGHEST_NOTE_LEVEL = 5
"""Beyond, levels differ in how notes follow each other, not in the notes."""

_STEPS_A_LEVEL = 4
GRID = tuple(0.5 + step / _STEPS_A_LEVEL for step in range(8 * _STEPS_A_LEVEL + 1))
"""Levels a player may stand at, 0.5 to 8.5."""


@dataclass(frozen=True, slots=True)
class NoteQuestion:
    """Ask for one note of a level 1 to 5: one of `game.coach.placing.placing_notes.notes_of_level`."""

    level: int


@dataclass(frozen=True, slots=True)
class LineQuestion:
    """Ask for a fresh line of a level 1 to 8, pitch only, once through."""

    level: int


@dataclass(frozen=True, slots=True, kw_only=True)
class Placement:
    """The level of lines and the stage a player should begin with, and why. `low` and `high` are levels between which
    they stand four times in five.
    """

    level: int
    stage: Stage
    low: float
    high: float
    reason: Message


@dataclass(frozen=True, slots=True, kw_only=True)
class PlacingTest:
    """The test under way. Begin with `begin_placing`.

    `weights` is how likely each level of `GRID` is; `answers` are the single notes so far: right or not, and the
    seconds they took; `lines` how many lines were read.
    """

    weights: tuple[float, ...]
    answers: tuple[tuple[bool, float], ...] = field(default=())
    lines: int = 0


def begin_placing(numbers: CoachNumbers = NUMBERS) -> PlacingTest:
    """Nothing asked yet."""
    away = [(level - numbers.placing_level) / numbers.placing_spread for level in GRID]
    return PlacingTest(weights=_normed([exp(-(x**2) / 2) for x in away]))


def next_question(test: PlacingTest, numbers: CoachNumbers = NUMBERS) -> NoteQuestion | LineQuestion | None:
    """What to ask next; None when the test is over."""
    level = _standing_level(test)
    if len(test.answers) < numbers.placing_notes and not _gave_up(test, numbers):
        return NoteQuestion(min(level, HIGHEST_NOTE_LEVEL))
    if test.lines < numbers.placing_lines and not _gave_up(test, numbers):
        return LineQuestion(level)
    return None


def note_answered(test: PlacingTest, *, right: bool, find_s: float, numbers: CoachNumbers = NUMBERS) -> PlacingTest:
    """The test after the note that was asked came right or not, after `find_s` seconds. Raises `ValueError` where no
    note was asked.
    """
    asked = next_question(test, numbers)
    if not isinstance(asked, NoteQuestion):
        raise ValueError("no single note is asked for now: ask next_question")  # noqa: TRY004 - the moment is wrong
    good = right and find_s <= numbers.placing_quick_s
    weights = _updated(test.weights, asked.level, float(good), float(not good), numbers)
    return replace(test, weights=weights, answers=(*test.answers, (right, find_s)))


def line_read(test: PlacingTest, *, notes: int, good: int, numbers: CoachNumbers = NUMBERS) -> PlacingTest:
    """The test after the line that was asked was read: of so many notes so many right and found within the time of the
    table. Raises `ValueError` where no line was asked.
    """
    asked = next_question(test, numbers)
    if not isinstance(asked, LineQuestion) or not 0 <= good <= notes:
        raise ValueError(f"no line of which {good} of {notes} notes were good is asked for now: ask next_question")
    each = numbers.placing_line_note
    weights = _updated(test.weights, asked.level, good * each, (notes - good) * each, numbers)
    return replace(test, weights=weights, lines=test.lines + 1)


def placement(test: PlacingTest, numbers: CoachNumbers = NUMBERS) -> Placement:
    """What the test says so far."""
    low, high = _quantile(test, numbers.one_sided / 2), _quantile(test, 1 - numbers.one_sided / 2)
    level = LOWEST_LEVEL if _gave_up(test, numbers) else _standing_level(test)
    stage = _stage(test, numbers)
    return Placement(
        level=level, stage=stage, low=low, high=high, reason=message(f"coach.placed.{stage.value}", level=level)
    )


def chance_of_good(standing: float, level: float, numbers: CoachNumbers = NUMBERS) -> float:
    """The model: how likely a player who stands at one level finds a note of another in time."""
    share = numbers.placing_share / (1 - numbers.placing_lapse)
    z = numbers.placing_slope * (standing - level) + log(share / (1 - share))
    return (1 - numbers.placing_lapse) / (1 + exp(-z))


def _stage(test: PlacingTest, numbers: CoachNumbers) -> Stage:
    if not test.answers:
        return Stage.PLACES
    share = sum(right for right, _ in test.answers) / len(test.answers)
    if share < numbers.placing_letters_share:
        return Stage.LETTERS
    usual_s = median(find_s for _, find_s in test.answers)
    quick = usual_s <= numbers.placing_time_s and share >= numbers.placing_time_share
    return Stage.TIME if quick else Stage.PLACES


def _gave_up(test: PlacingTest, numbers: CoachNumbers) -> bool:
    first = test.answers[: numbers.placing_gives_up]
    return len(first) == numbers.placing_gives_up and not any(right for right, _ in first)


def _standing_level(test: PlacingTest) -> int:
    """The level nearest to the middle of what is believed."""
    return min(max(round(_quantile(test, 0.5)), LOWEST_LEVEL), HIGHEST_LEVEL)


def _quantile(test: PlacingTest, chance: float) -> float:
    so_far = 0.0
    for level, weight in zip(GRID, test.weights, strict=True):
        if so_far + weight >= chance:
            return level + ((chance - so_far) / weight - 0.5) / _STEPS_A_LEVEL
        so_far += weight
    return GRID[-1]


def _updated(
    weights: tuple[float, ...], level: int, good: float, bad: float, numbers: CoachNumbers
) -> tuple[float, ...]:
    shares = [chance_of_good(standing, level, numbers) for standing in GRID]
    likely = [good * log(share) + bad * log(1 - share) for share in shares]
    most = max(likely)
    return _normed([weight * exp(value - most) for weight, value in zip(weights, likely, strict=True)])


def _normed(weights: list[float]) -> tuple[float, ...]:
    total = sum(weights)
    return tuple(max(weight / total, 1e-12) for weight in weights)
