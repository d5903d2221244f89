"""What is said of a course: what it is called, how far it has come, and how it went beside the time before."""

from collections.abc import Collection, Sequence

from game.coach.plan.course import CourseStanding, RoundFigures
from game.text.catalogue import say
from game.tunes.library.shelf_entry import ShelfEntry


def course_title(entries: Sequence[ShelfEntry], taken: Collection[str]) -> str:
    """A title for a course of these tunes: their composer where they have one in common, else the first of them and how
    many there are; with a number where another course is called so.
    """
    composers = {entry.composer for entry in entries}
    (composer,) = composers if len(composers) == 1 else ("",)
    title = composer or say("courses.of", title=entries[0].title, count=len(entries))
    return next(name for name in (title, *(f"{title} {n}" for n in range(2, len(taken) + 3))) if name not in taken)


def standing_in_words(standing: CourseStanding) -> str:
    """Which time through it is and what is asked, how far that has come, and the bars of a day."""
    if not standing.passages:
        return say("courses.gone")
    if standing.stage is None:
        return say("courses.over", count=standing.passages)
    return say(
        "courses.standing",
        round=say(f"courses.round.{standing.stage.value}"),
        done=standing.done,
        count=standing.passages,
        bars=standing.course.bars_a_day,
    )


def figures_in_words(standing: CourseStanding) -> str:
    """Errors and seconds of this time through, and of the time before over the same bars."""
    now, before = standing.now, standing.before
    if now is None:
        return say("courses.last", figures=_figures(before)) if before else ""
    if before is None:
        return say("courses.now", figures=_figures(now))
    return say("courses.beside", now=_figures(now), before=_figures(before))


def _figures(figures: RoundFigures) -> str:
    return say("courses.figures", wrong=figures.wrong, count=figures.notes, seconds=round(figures.seconds))
