"""A course: tunes in an order that is kept, as a folder or a book of solos has them, worked through several times, some
bars a day: pitch only, then the rhythm, then with the metronome. What each time came to stands beside the time before.

Pure: what was played is told bars by bars (`CourseBars`), in the order of everything, and all else follows from it.
"""

from collections.abc import Collection, Iterable, Mapping, Sequence
from dataclasses import dataclass

from game.coach.events import PageCutAnew
from game.coach.stages import Stage

ROUNDS = (Stage.PLACES, Stage.RHYTHM, Stage.TIME)
"""What is asked each time through; the last one against the metronome."""

FEWEST_BARS, MOST_BARS, USUAL_BARS = 2, 32, 8
MOST_TUNES = 500


@dataclass(frozen=True, slots=True, kw_only=True)
class Course:
    """What was made a course: its tunes, by their names on the shelf, in their order, and the bars of a day. It is
    known by its `title`. Raises `ValueError` for bars outside of 2 to 32.
    """

    title: str
    tunes: tuple[str, ...]
    bars_a_day: int = USUAL_BARS

    def __post_init__(self) -> None:
        if not FEWEST_BARS <= self.bars_a_day <= MOST_BARS:
            raise ValueError(f"a course of {self.bars_a_day} bars a day: choose {FEWEST_BARS} to {MOST_BARS}")


@dataclass(frozen=True, slots=True, kw_only=True)
class CourseBars:
    """Bars of a course that were played through: which time through it was (from 1), what went wrong of how many notes,
    and how long it took. `day` counts from any fixed one.
    """

    passage: str
    round: int
    wrong: int
    notes: int
    seconds: float
    day: int


@dataclass(frozen=True, slots=True, kw_only=True)
class CoursePassage:
    """A passage of the course as it stands on the shelf: its name, its tune and how many bars it has."""

    name: str
    tune: str
    bars: int


@dataclass(frozen=True, slots=True, kw_only=True)
class RoundFigures:
    """What one time through has come to so far: bars done, notes wrong of so many, and seconds."""

    round: int
    passages: int
    wrong: int
    notes: int
    seconds: float


@dataclass(frozen=True, slots=True, kw_only=True)
class CourseStanding:
    """How far a course has come. `round` counts from 1 and is one more than there are when it is worked through; `done`
    of `passages` are played in it. `today` is what is left for today, in order. `beside` are the figures of this time
    through and of the one before over the same passages: errors and seconds to be set side by side, None before there
    are any.
    """

    course: Course
    round: int
    done: int
    passages: int
    today: tuple[CoursePassage, ...]
    now: RoundFigures | None = None
    before: RoundFigures | None = None

    @property
    def over(self) -> bool:
        """Whether it was worked through as often as there is something new to ask."""
        return self.round > len(ROUNDS)

    @property
    def stage(self) -> Stage | None:
        """What is asked this time through; None when it is over."""
        return None if self.over else ROUNDS[self.round - 1]


def course_standing(
    course: Course, passages: Sequence[CoursePassage], played: Iterable[CourseBars], day: int
) -> CourseStanding:
    """How far a course has come on `day`. `passages` are those of its tunes that are on the shelf, in order; what was
    `played` of others is passed over. Of the same bars in the same time through, what was played first counts.
    """
    names = {passage.name for passage in passages}
    first: dict[tuple[int, str], CourseBars] = {}
    for bars in played:
        if bars.passage in names:
            first.setdefault((bars.round, bars.passage), bars)
    here = _round_under_way(first, names)
    left = [passage for passage in passages if here <= len(ROUNDS) and (here, passage.name) not in first]
    today_done = sum(passage.bars for passage in passages if _played_on(first, passage.name, day))
    now = [bars for (at, _), bars in first.items() if at == here]
    same = {bars.passage for bars in now}
    before = [bars for (at, name), bars in first.items() if at == here - 1 and (name in same or not same)]
    return CourseStanding(
        course=course,
        round=here,
        done=len(now),
        passages=len(passages),
        today=_of_today(left, course.bars_a_day - today_done),
        now=_figures(here, now),
        before=_figures(here - 1, before),
    )


def bars_cut_anew(said: PageCutAnew, played: Sequence[CourseBars], at: int) -> tuple[CourseBars, ...]:
    """A page that was cut anew, as it was played the `at`-th time through: none unless all pages were on which its
    notes stood, of each of which it has its share; none where it was played itself.
    """
    first: dict[str, CourseBars] = {}
    for bars in played:
        if bars.round == at:
            first.setdefault(bars.passage, bars)
    of = [first.get(page.name) for page in said.former]
    shares = [
        (bars, min(1.0, (page.last - page.first + 1) / max(bars.notes, 1)))
        for page, bars in zip(said.former, of, strict=True)
        if bars is not None
    ]
    if said.is_now in first or len(shares) < len(said.former):
        return ()
    return (
        CourseBars(
            passage=said.is_now,
            round=at,
            wrong=round(sum(share * bars.wrong for bars, share in shares)),
            notes=round(sum(share * bars.notes for bars, share in shares)),
            seconds=sum(share * bars.seconds for bars, share in shares),
            day=max(bars.day for bars, _ in shares),
        ),
    )


def _round_under_way(first: Mapping[tuple[int, str], CourseBars], names: Collection[str]) -> int:
    """The first time through that lacks some bars; one of which nothing is on the shelf has not begun."""
    rounds = range(1, len(ROUNDS) + 1)
    lacking = (at for at in rounds if not names or any((at, name) not in first for name in names))
    return next(lacking, len(ROUNDS) + 1)


def _played_on(first: Mapping[tuple[int, str], CourseBars], name: str, day: int) -> bool:
    return any(bars.day == day for (_, passage), bars in first.items() if passage == name)


def _of_today(left: Sequence[CoursePassage], bars: int) -> tuple[CoursePassage, ...]:
    """As many passages as have room, and one at least where anything is left of the day's bars."""
    taken: list[CoursePassage] = []
    for passage in left:
        if bars <= 0 or (taken and passage.bars > bars):
            break
        taken.append(passage)
        bars -= passage.bars
    return tuple(taken)


def _figures(at: int, played: Sequence[CourseBars]) -> RoundFigures | None:
    if not played:
        return None
    return RoundFigures(
        round=at,
        passages=len(played),
        wrong=sum(bars.wrong for bars in played),
        notes=sum(bars.notes for bars in played),
        seconds=sum(bars.seconds for bars in played),
    )
