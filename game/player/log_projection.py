"""What is known of a player from the log, made when first asked for and kept up as things happen."""

from typing import Generic

from game.errors import LogError
from game.player.log_fold import AT_ONCE, Fold, Folded, ProjectionRebuild, State, fold_log
from game.player.player_log import PlayerLog


class LogProjection(Generic[State]):
    """One thing made of one player's log. Ask between takes, never during one: the first answer may take a second."""

    def __init__(self, fold: Fold[State], log: PlayerLog) -> None:
        self._fold, self._log = fold, log
        self._folded: Folded[State] | None = None
        self._rebuild: ProjectionRebuild | None = None
        self._more_came = False

    @property
    def loaded(self) -> State | None:
        """What was made so far, without going to the log; None before anything was."""
        return None if self._folded is None else self._folded.state

    @property
    def state(self) -> State:
        """What is known: of the whole log, or of the newest entries while all of them are gone through elsewhere."""
        return self._up_to_date().state

    @state.setter
    def state(self, state: State) -> None:
        complete = self._folded is None or self._folded.complete
        self._folded = Folded(state=state, complete=complete)

    @property
    def complete(self) -> bool:
        """Whether the whole log stands behind it."""
        return self._up_to_date().complete

    def begin_again(self) -> None:
        """Entries came into the log from elsewhere, or stand at other moments now: make all of it from the log when it
        is asked for next. A process that goes through the log just now may not see them, and another comes after it.
        """
        self._folded, self._more_came = None, self._rebuild is not None

    def _up_to_date(self) -> Folded[State]:
        if self._rebuild is not None and self._rebuild.over:
            # Where the other process came to nothing, the newest entries must do until the next start.
            self._rebuild, self._folded = None, self._fold_log()
            if self._more_came:
                self._rebuild_what_is_left(self._folded)
        elif self._folded is None:
            self._folded = self._fold_log()
            self._rebuild_what_is_left(self._folded)
        return self._folded

    def _rebuild_what_is_left(self, folded: Folded[State]) -> None:
        if not folded.complete and self._rebuild is None:
            self._rebuild, self._more_came = ProjectionRebuild(self._log.path.parent, self._fold.name), False

    def wait(self, timeout_s: float) -> None:
        """Wait until the whole log was gone through."""
        if self._rebuild is not None:
            self._rebuild.wait(timeout_s)

    def _fold_log(self) -> Folded[State]:
        log = self._log
        try:
            with log.reading() as connection:
                return fold_log(self._fold, connection, log.path.parent, log.player.uuid, AT_ONCE)
        except LogError:
            return Folded(state=self._fold.initial, complete=True)
