"""The process that makes an automatic back-up, so that no frame waits for it."""

from datetime import date
from pathlib import Path

from game.player.background_process import BackgroundProcess
from game.practice_log.back_ups.automatic import back_up_due

_BEGUN: list[BackgroundProcess] = []
"""The one that was begun last: one that begins when the game is left goes on after it."""


def begin_back_up(log: Path, today: date) -> bool:
    """Let the back-up of today be made, where one is due and none is being made. Whether it was begun."""
    if any(not process.over for process in _BEGUN) or not back_up_due(log, today):
        return False
    _BEGUN[:] = [BackgroundProcess("game.practice_log.back_ups.automatic", str(log), today.isoformat(), outlives=True)]
    return True
