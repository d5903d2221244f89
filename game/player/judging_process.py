"""The process that judges takes of long ago again, so that no frame waits for it:
`python -m game.player.judging_process FOLDER`. What is made of the log is made anew at its end, for the next start.
"""

import sys
from datetime import datetime
from pathlib import Path

from game.errors import LogError
from game.player import log_fold
from game.player.background_process import BackgroundProcess
from game.player.player_log import PlayerLog
from game.player.profiles import LOG_FILE
from game.practice_log.database.opening import opened_log
from game.practice_log.database.own_device import own_device
from game.practice_log.database.own_player import own_player
from game.practice_log.queries.summaries import summarised
from game.practice_log.writing.judged_file import delivered_so_far
from game.practice_log.writing.judging_again import JudgedAgain, anything_to_judge, fold_due, judge_again, note_folded
from game.text.catalogue import say

_FOLDED = ("player_coach", "player_notes")


class JudgingProcess(BackgroundProcess):
    """Judges what older judges judged. Ended anywhere, it leaves the log whole, and goes on there the next time."""

    def __init__(self, log: PlayerLog) -> None:
        self._log, self._before = log.path, delivered_so_far(log.path)
        super().__init__("game.player.judging_process", str(log.path.parent))

    @property
    def came_in(self) -> bool:
        """Whether the log got other judgements since it began."""
        return delivered_so_far(self._log) != self._before


def start_judging(log: PlayerLog) -> JudgingProcess | None:
    """Judge again what is left to be judged; None where nothing is."""
    try:
        with log.reading() as connection:
            return JudgingProcess(log) if anything_to_judge(connection, log.path) else None
    except LogError:
        return None


def judge_log(folder: Path, now: datetime) -> JudgedAgain:
    """Judge again in the log of a folder, and let all that is made of it be made anew. Raises `LogError` where the log
    cannot be read, or written now.
    """
    log = folder / LOG_FILE
    with opened_log(log) as connection:
        judged = judge_again(connection, log, own_device(folder), now)
    if fold_due(log):
        _fold(folder)
        note_folded(log)
    return judged


def _fold(folder: Path) -> None:
    """Make anew what the next start and the screens would have to wait for."""
    for name in _FOLDED:
        log_fold.main(folder, name)
    log = folder / LOG_FILE
    with opened_log(log) as connection, summarised(connection, own_player(log).uuid):
        pass


def main(folder: Path) -> int:
    """Judge a log; what stands in the way is said to whoever began it by hand."""
    try:
        judge_log(folder, datetime.now().astimezone())
    except LogError as error:
        print(say("command.mistake", mistake=error.message), file=sys.stderr)
        return 1
    return 0


if __name__ == "__main__":
    sys.exit(main(Path(sys.argv[1])))
