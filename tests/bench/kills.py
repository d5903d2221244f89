"""A running demo, killed with SIGKILL again and again: `python -m tests.bench.kills [KILLS]`. Nothing here fails.

Each demo is the real one at its real pace, in a folder of its own, and is killed after some seconds by chance. It tells
on standard output what it handed to its log and when. A note counts as lost when it was handed over more than a second
before the kill and is not in the file. The reference is SQLite's own word on the file (`PRAGMA integrity_check`).

    python -m tests.bench.kills demo FOLDER      the demo that is killed
"""

import sqlite3
import subprocess
import sys
import tempfile
import time
from pathlib import Path
from random import Random

KILLS, LOST_AT_MOST_S = 200, 1.0


def main(kills: int) -> None:
    """Print the table."""
    chance = Random(7)
    sound = taken_up = handed = lost = 0
    newest_lost_s = [0.0]
    for _ in range(kills):
        with tempfile.TemporaryDirectory() as folder:
            told, killed_s = _killed(Path(folder), chance.uniform(0.2, 8.0))
            kept = _kept(Path(folder))
            sound += kept is not None
            missing = [at_s for at_s, take, note in told if (take, note) not in (kept or ())]
            handed += len(told)
            lost += sum(killed_s - at_s > LOST_AT_MOST_S for at_s in missing)
            newest_lost_s += [killed_s - at_s for at_s in missing]
            taken_up += _opens_again(Path(folder))
    print(f"{'kills':44}{kills}")
    print(f"{'logs that were sound':44}{sound}")
    print(f"{'logs that opened, and were played on':44}{taken_up}")
    print(f"{'notes handed to the log':44}{handed}")
    print(f"{'lost though older than a second':44}{lost}   target 0")
    print(f"{'oldest note lost, ms before the kill':44}{1000 * max(newest_lost_s):.0f}")


def _killed(folder: Path, after_s: float) -> tuple[list[tuple[float, int, int]], float]:
    """What a demo handed over up to its death, so many seconds after its first note; and when it died."""
    command = [sys.executable, "-m", "tests.bench.kills", "demo", str(folder)]
    demo = subprocess.Popen(command, stdout=subprocess.PIPE, stderr=subprocess.DEVNULL, text=True)
    first = demo.stdout.readline()
    time.sleep(after_s)
    if not first:
        sys.exit(f"the demo ended by itself before its first note: run homefret demo --out {folder}")
    demo.kill()
    killed_s = time.monotonic()
    lines = [first, *demo.stdout.read().splitlines()]
    demo.wait()
    demo.stdout.close()
    told = [line.split() for line in lines if line.strip()]
    return [(float(at_s), int(take), int(note)) for at_s, take, note in told], killed_s


def _kept(folder: Path) -> set[tuple[int, int]] | None:
    """The notes in the file by take, None for a file that is not sound."""
    file = sqlite3.connect(folder / "practice.sqlite")
    try:
        if file.execute("PRAGMA integrity_check").fetchall() != [("ok",)]:
            return None
        return set(file.execute("SELECT number, i FROM take JOIN played USING (take)"))
    except sqlite3.Error:
        return None
    finally:
        file.close()


def _opens_again(folder: Path) -> bool:
    """Whether the next start finds the log, judges what was cut short, and goes on."""
    from game.player.player_coach import PlayerCoach
    from game.player.player_log import PlayerLog

    log = PlayerLog(folder)
    log.judge_interrupted_takes()
    known = PlayerCoach(log, target_bpm=lambda: 100).state
    return log.close() is None and known is not None


def demo(folder: str) -> None:
    """The demo, telling what it hands to its log."""
    from game.__main__ import main as homefret
    from game.practice_log.writing.practice_log import TakeHandle

    hand_over, counts = TakeHandle.played, {}

    def played(handle: TakeHandle, note) -> None:
        hand_over(handle, note)
        counts[handle.number] = counts.get(handle.number, 0) + 1
        print(time.monotonic(), handle.number, counts[handle.number], flush=True)

    TakeHandle.played = played
    sys.stdout.reconfigure(line_buffering=True)
    homefret(["demo", "--out", folder])


if __name__ == "__main__":
    if sys.argv[1:2] == ["demo"]:
        demo(sys.argv[2])
    else:
        main(int(sys.argv[1]) if len(sys.argv) > 1 else KILLS)
