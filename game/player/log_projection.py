"""What is known of a player from the log, made when first asked for and kept up as things happen."""

from typing import Generic

from game.errors import LogError
from game.player.log_fold import AT_ONCE, Fold, Folded, Made, ProjectionRebuild, from_log
from game.player.player_log import PlayerLog


class LogProjection(Generic[Made]):
    """One thing made of one player's log. Ask between takes, never during one: the first answer may take a second."""

    def __init__(self, fold: Fold[Made], log: PlayerLog) -> None:
        self._fold, self._log = fold, log
        self._from_log: Folded[Made] | None = None
        self._anew: ProjectionRebuild | None = None

    @property
    def at_hand(self) -> Made | None:
        """What was made so far, without going to the log; None before anything was."""
        return None if self._from_log is None else self._from_log.made

    @property
    def made(self) -> Made:
        """What is known: of the whole log, or of the newest entries while all of them are gone through elsewhere."""
        return self._up_to_date().made

    @made.setter
    def made(self, made: Made) -> None:
        whole = self._from_log is None or self._from_log.whole
        self._from_log = Folded(made=made, whole=whole)

    @property
    def whole(self) -> bool:
        """Whether the whole log stands behind it."""
        return self._up_to_date().whole

    def _up_to_date(self) -> Folded[Made]:
        if self._anew is not None and self._anew.over:
            # Where the other process came to nothing, the newest entries must do until the next start.
            self._anew, self._from_log = None, self._made()
        elif self._from_log is None:
            self._from_log = self._made()
            if not self._from_log.whole:
                self._anew = ProjectionRebuild(self._log.path.parent, self._fold.name)
        return self._from_log

    def wait(self, timeout_s: float) -> None:
        """Wait until the whole log was gone through."""
        if self._anew is not None:
            self._anew.wait(timeout_s)

    def _made(self) -> Folded[Made]:
        log = self._log
        try:
            with log.reading() as connection:
                return from_log(self._fold, connection, log.path.parent, log.player.uuid, AT_ONCE)
        except LogError:
            return Folded(made=self._fold.nothing, whole=True)
