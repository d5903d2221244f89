"""A game whose disk refuses something, for tests of what it says and of what is in the log afterwards.

    python -m tests.practice_log.refused_process FOLDER WHAT MINUTES

plays one take that many minutes into the morning and leaves the game. It tells on standard output what the player is
told while they play and when they leave, a line each. WHAT is refused: `nothing`, `disk` (no file may grow beyond some
kilobytes), `handles` (sixteen, of which the game has all but a few), `all handles` (not one is left), or `writing`
(a folder that is read-only for everybody).
"""

import ctypes
import os
import resource
import sys
from datetime import timedelta
from pathlib import Path

from game.message import message
from game.player.player_log import PlayerLog
from game.practice_log.writing import writer
from game.text.catalogue import tell
from tests.practice_log.logged_takes import MORNING, begun, ended, judged, notes_of

HANDLES, LARGEST_FILE = 16, 40_000
_PR_CAPBSET_DROP, _CAPABILITIES = 24, (1, 2)
"""The bounding set and, in it, passing over permissions (prctl(2), capabilities(7)): root has to obey them then."""


def main(folder: str, what: str, minutes: str) -> None:
    # Whatever is loaded late is loaded now: a game has been running for a while when its handles run out.
    tell(message("system.disk_full"))
    writer.RETRY_AFTER_S = 0.05
    if what == "disk":
        resource.setrlimit(resource.RLIMIT_FSIZE, (LARGEST_FILE, LARGEST_FILE))
    held = taken_handles(3) if what == "handles" else []
    log = PlayerLog(Path(folder), now=lambda: MORNING + timedelta(minutes=int(minutes)))
    if what == "all handles":
        held = taken_handles(0)
    play(log, int(minutes))
    log.flush()
    print(tell(log.trouble) if log.trouble else "", flush=True)
    said = log.close()
    print(tell(said) if said else "", flush=True)
    for handle in held:
        os.close(handle)


def obey_permissions(words: list[str]) -> None:
    """Begin once more as somebody who has to obey them."""
    for capability in _CAPABILITIES:
        ctypes.CDLL(None).prctl(_PR_CAPBSET_DROP, capability, 0, 0, 0)
    os.execv(
        sys.executable, [sys.executable, "-m", "tests.practice_log.refused_process", words[0], "nothing", words[2]]
    )


def taken_handles(free: int) -> list[int]:
    """All the handles there are but so many, under a limit of sixteen."""
    resource.setrlimit(resource.RLIMIT_NOFILE, (HANDLES, HANDLES))
    held = []
    while True:
        try:
            held.append(os.open(os.devnull, os.O_RDONLY))
        except OSError:
            break
    for _ in range(free):
        os.close(held.pop())
    return held


def play(log: PlayerLog, minutes: int) -> None:
    take = begun(minutes=minutes, player=log.player)
    handle = log._practice_log.begin_take(take, zero_s=0.0)
    played = notes_of(take)
    for note in played:
        handle.played(note)
    handle.end(ended(judged(take, played), minutes=minutes + 1))


if __name__ == "__main__":
    if sys.argv[2] == "writing":
        obey_permissions(sys.argv[1:])
    main(*sys.argv[1:])
