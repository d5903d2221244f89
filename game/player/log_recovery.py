"""Putting a damaged log right while the picture goes on: it may take some seconds."""

from concurrent.futures import ThreadPoolExecutor
from pathlib import Path

from game.player.session import Session
from game.practice_log.back_ups.recovery import Recovered, recover


class LogRecovery:
    """From now on the log of a session is put right, from a back-up, from what can be read of it, or from both; with
    neither there is a new one. The session is closed: what was played in it is kept for the log that will be there.
    When it is `over`, the player sits down again (`game.player.session.sit_down_again`).
    """

    def __init__(self, session: Session, *, back_up: Path | None, with_readable: bool) -> None:
        log, now = session.log.path, session.now()
        session.close()
        self._worker = ThreadPoolExecutor(max_workers=1, thread_name_prefix="log-recovery")
        self._done = self._worker.submit(recover, log, back_up=back_up, with_readable=with_readable, now=now)
        self._worker.shutdown(wait=False)

    @property
    def over(self) -> bool:
        """Whether it has ended, well or not."""
        return self._done.done()

    def result(self) -> Recovered:
        """What became of the log; waits for it. Raises `LogError` where it could not be put right: it is as it was."""
        return self._done.result()
