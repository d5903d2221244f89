"""The running game, killed with SIGKILL again and again in takes that are played into it: `python -m tests.bench.kills
[KILLS]`. Nothing here fails.

The game is a process of its own on a virtual screen (Xvfb), at home in one folder throughout; the notes come from
another process through a JACK server with the dummy driver, which tells when it handed over each. A note counts as lost
when it was handed over more than half a second before the kill and is not in the log. The reference is SQLite's own
word on the file (`PRAGMA integrity_check`).
"""

import sqlite3
import sys
import tempfile
import threading
import time
from contextlib import closing
from pathlib import Path
from random import Random

from game.instrument.decoding.dirt import NO_LIMITS
from game.player.player_coach import PlayerCoach
from game.player.player_log import PlayerLog
from tests.system.game_on_screen import Screen, a_screen, game_on, keep_settings
from tests.system.jack import jack_server
from tests.system.ode_to_joy import first_passage, next_string, open_first_passage, wait_for_guitar
from tests.system.pickup import Pickup, pickup, plucked

KILLS, LOST_AT_MOST_S, EVERY_S = 200, 0.5, 0.07
MOST_S = 4.0


def main(kills: int) -> None:
    """Print the table."""
    chance = Random(7)
    sound = handed = lost = 0
    newest_lost_s = [0.0]
    with tempfile.TemporaryDirectory() as name:
        home = Path(name)
        keep_settings(home, limits=NO_LIMITS)
        with jack_server(home) as jack, a_screen(home) as screen:
            for _ in range(kills):
                before = _kept(home)
                told, killed_s = _killed(home, screen, jack, chance.uniform(0.3, MOST_S))
                kept = _kept(home)
                sound += kept is not None
                missing = [at_s for at_s in told if at_s < killed_s][(kept or 0) - (before or 0) :]
                handed += sum(at_s < killed_s for at_s in told)
                lost += sum(killed_s - at_s > LOST_AT_MOST_S for at_s in missing)
                newest_lost_s += [killed_s - at_s for at_s in missing]
            taken_up = _opens_again(home)
    print(f"{'kills':44}{kills}")
    print(f"{'logs that were sound':44}{sound}")
    print(f"{'the log opened again, nothing left unjudged':44}{'yes' if taken_up else 'no'}")
    print(f"{'notes handed to JACK before the kill':44}{handed}")
    print(f"{'lost though older than half a second':44}{lost}   target 0")
    print(f"{'oldest note lost, ms before the kill':44}{1000 * max(newest_lost_s):.0f}")


def _killed(home: Path, screen: Screen, jack: dict[str, str], after_s: float) -> tuple[list[float], float]:
    """When each note was handed over to a game that died so many seconds after the first; and when it died.

    A take of pitch only waits for the right note: the wrong ones all go into it.
    """
    wrong = next_string(first_passage()[0])
    notes = plucked([wrong] * round(2 * MOST_S / EVERY_S), every_s=EVERY_S)
    with game_on(screen, home, jack) as game, pickup(jack, "--to", "Homefret") as guitar:
        wait_for_guitar(game)
        open_first_passage(game)
        told: list[float] = []
        playing = threading.Thread(target=_play, args=(guitar, notes, told))
        playing.start()
        time.sleep(after_s)
        game.process.kill()
        killed_s = time.perf_counter()
        playing.join()
    return told[::2], killed_s


def _play(guitar: Pickup, notes: list, told: list[float]) -> None:
    told += guitar.play(notes, in_time=True)


def _kept(home: Path) -> int | None:
    """How many notes are in the log, None for a file that is not sound."""
    paths = list(home.rglob("practice.sqlite"))
    if not paths:
        return 0
    file = sqlite3.connect(paths[0])
    try:
        if file.execute("PRAGMA integrity_check").fetchall() != [("ok",)]:
            return None
        return int(file.execute("SELECT count(*) FROM played").fetchone()[0])
    except sqlite3.Error:
        return None
    finally:
        file.close()


def _opens_again(home: Path) -> bool:
    """Whether the next start finds the log, judges what was cut short, and goes on."""
    (path,) = home.rglob("practice.sqlite")
    log = PlayerLog(path.parent)
    log.judge_interrupted_takes()
    known = PlayerCoach(log, target_bpm=lambda: 100).state
    closed = log.close() is None
    with closing(sqlite3.connect(path)) as file, file:
        (left,) = file.execute("SELECT count(*) FROM take WHERE take NOT IN (SELECT take FROM judgement)").fetchone()
    return closed and known is not None and not left


if __name__ == "__main__":
    main(int(sys.argv[1]) if len(sys.argv) > 1 else KILLS)
