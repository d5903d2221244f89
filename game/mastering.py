"""What is known of the player's notes, for the app: made from the practice log, and kept up as takes end."""

from collections.abc import Callable
from datetime import UTC, date, datetime

from game.coach.mastery import Mastery, due_notes, mastery_after
from game.coach.note_reads import JudgedTake
from game.coach.weights import weights
from game.errors import LogError
from game.judging.verdicts import Judgement
from game.keeping import Keeping, TakeInLog
from game.neck.map import NeckMap
from game.practice.finished import Finished, FinishedTake
from game.practice_log.reading import judgement_of, takes_between
from game.practice_log.records import TakeBegun

_EVER = (datetime(1970, 1, 1, tzinfo=UTC), datetime(9999, 1, 1, tzinfo=UTC))


class Mastering:
    """One player's mastery. `today` tells the date where the player is."""

    def __init__(self, keeping: Keeping, today: Callable[[], date] = date.today) -> None:
        self._keeping = keeping
        self._today = today
        self._known: Mastery | None = None

    @property
    def mastery(self) -> Mastery:
        """All that is known, made from the log when first asked for: never during a take."""
        if self._known is None:
            known = Mastery()
            try:
                with self._keeping.log.reading() as connection:
                    for logged in takes_between(connection, self._keeping.player.uuid, *_EVER):
                        judgement = judgement_of(connection, logged.take)
                        day = logged.begun.started_utc.astimezone().date().toordinal()
                        if judgement is not None:
                            known = mastery_after(known, judged_take(logged.begun, judgement, day))
            except LogError:
                pass
            self._known = known
        return self._known

    def heard(self, finished: Finished, take: TakeInLog) -> None:
        """A take is over: what it tells of its notes is added, if anything is known yet."""
        if self._known is not None and isinstance(finished, FinishedTake) and take.handle is not None:
            told = judged_take(take.begun, finished.judgement, self.day)
            self._known = mastery_after(self._known, told)

    @property
    def day(self) -> int:
        """Today, counted from the first of January of year 1."""
        return self._today().toordinal()

    def weights(self, neck_map: NeckMap) -> dict[int, float]:
        """How much more often each pitch should come up in a fresh line: slow, wrong and due notes more."""
        return dict(weights(self.mastery.items, neck_map, due=due_notes(self.mastery, self.day)))


def judged_take(begun: TakeBegun, judgement: Judgement, day: int) -> JudgedTake:
    """A logged take as the items hear of it."""
    return JudgedTake(
        judgement=judgement,
        expected=begun.asked.notes,
        neck_map=begun.neck_map,
        day=day,
        stage=begun.terms.stage,
        sighting=begun.sighting.nth,
        heard=begun.sighting.heard,
        known_by_ear=bool(begun.sighting.known_by_ear),
        self_marked=begun.terms.self_marked,
    )
