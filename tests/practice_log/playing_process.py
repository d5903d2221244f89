"""A program that practises without end, for tests that kill it.

    python -m tests.practice_log.playing_process LOG SEED [TAKES]

It tells on standard output what it handed to the log and when, on the clock that all processes share:
"played MONOTONIC_S TAKE_OF_THIS_RUN NOTE", "ended MONOTONIC_S TAKE_OF_THIS_RUN". With TAKES it stops
after so many and closes its log; with 0 it stops in the middle of the first, and waits there to be killed.
"""

import sys
import time
from datetime import UTC, datetime
from itertools import count
from pathlib import Path
from random import Random
from uuid import UUID

from game.practice_log.database.identity import Identity
from game.practice_log.writing.practice_log import PracticeLog
from tests.practice_log.logged_takes import begun, ended, judged, notes_of

NOTE_S = 0.02
WAITS_S = 120.0


def device_of(seed: int) -> Identity:
    return Identity(uuid=UUID(int=seed), name=f"process {seed}")


def main(path: str, seed: str, takes: str = "") -> None:
    chance = Random(int(seed))
    log = PracticeLog(Path(path), device=device_of(int(seed)), now=lambda: datetime.now(UTC))
    if takes == "0":
        play_half(log)
    for take in range(1, int(takes) + 1) if takes else count(1):
        play(log, take, chance)
    print("closed", log.close(), flush=True)


def play_half(log: PracticeLog) -> None:
    asked = begun()
    handle = log.begin_take(asked, zero_s=0.0)
    for note in notes_of(asked)[:3]:
        handle.played(note)
    time.sleep(WAITS_S)


def play(log: PracticeLog, take: int, chance: Random) -> None:
    asked = begun(minutes=take)
    played = notes_of(asked, wrong={chance.randint(1, 6)})
    handle = log.begin_take(asked, zero_s=0.0)
    for number, note in enumerate(played, start=1):
        handle.played(note)
        tell("played", take, number)
        time.sleep(NOTE_S * chance.uniform(0.2, 1.8))
    handle.end(ended(judged(asked, played)))
    tell("ended", take)


def tell(what: str, *numbers: int) -> None:
    print(what, time.monotonic(), *numbers, flush=True)


if __name__ == "__main__":
    main(*sys.argv[1:])
