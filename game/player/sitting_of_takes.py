"""What a day of practice came to, told by one of its takes."""

from collections.abc import Callable, Sequence

from game.coach.plan.last_time import LastSitting
from game.message import message
from game.player.shelf_passages import ShelfPassage
from game.practice_log.queries.last_sitting import SittingTake


def sitting_of_takes(
    takes: Sequence[SittingTake], find_passage: Callable[[str], ShelfPassage | None]
) -> LastSitting | None:
    """One take stands for the day: of what is on the shelf the last kept one, else the last found one, else the last.
    None without takes.
    """
    if not takes:
        return None
    places = {take.passage: find_passage(take.passage) for take in takes}
    of_tunes = [take for take in takes if places[take.passage] is not None]
    take = max(of_tunes or takes, key=lambda one: (one.kept, one.found))
    chosen = [one for one in of_tunes or takes if (one.kept, one.found) == (take.kept, take.found)][-1]
    place = places[chosen.passage]
    title = message("day.last.lines") if place is None else place.title
    return LastSitting(
        day=chosen.day, title=title, bpm=chosen.bpm, run=chosen.run, kept=chosen.kept, found=chosen.found
    )
