"""Two hundred damaged logs and a hundred hostile files: `python -m tests.bench.damage [logs|exports] [--first N]`.

Each is met by a process of its own: a log as the game meets it at the start and as the player lets it be put right by
the newest back-up and what can be read; a file as a teacher's report reads it, and as a player gathers it. Targets:
none crashes, hangs (30 s) or takes over 500 MB, its children included. The last column but one counts takes that are
gone and of which nothing was said.

    python -m tests.bench.damage start FOLDER       a start beside a damaged log
    python -m tests.bench.damage read FILE          a report of a file
"""

import argparse
import json
import resource
import shutil
import subprocess
import sys
import tempfile
import time
from collections import Counter, defaultdict
from collections.abc import Iterable
from pathlib import Path

from tests.bench.damaged_logs import LOG, TAKES, damaged_logs, make_home
from tests.bench.hostile_exports import hostile_exports

ROOT = Path(__file__).parents[2]
HANGS_S, MOST_MB, WAITED_S = 30.0, 500, 180.0


def main() -> int:
    parser = argparse.ArgumentParser(description=__doc__.splitlines()[0])
    parser.add_argument("which", nargs="?", choices=["logs", "exports", "start", "read"])
    parser.add_argument("path", nargs="?", type=Path)
    parser.add_argument("--every", type=int, default=1, help="only each so many-th case")
    args = parser.parse_args()
    if args.which in ("start", "read"):
        print(json.dumps({"start": start, "read": read}[args.which](args.path) | {"mb": peak_mb()}))
        return 0
    failed = 0
    if args.which != "exports":
        failed += print_table("damaged log", met_logs(args.every))
    if args.which != "logs":
        failed += print_table("hostile file", met_exports(args.every))
    print(f"{failed} crashed, hung or took too much (target 0)")
    return 1 if failed else 0


def met_logs(every: int) -> Iterable[tuple[str, dict]]:
    with tempfile.TemporaryDirectory() as parent:
        home = make_home(Path(parent) / "home")
        for wrong, make in list(damaged_logs())[::every]:
            folder = Path(parent) / "one"
            shutil.copytree(home, folder)
            make(folder)
            yield wrong, met("start", folder)
            shutil.rmtree(folder)


def met_exports(every: int) -> Iterable[tuple[str, dict]]:
    for kind, make in list(hostile_exports())[::every]:
        with tempfile.TemporaryDirectory() as folder:
            yield kind, met("read", make(Path(folder) / "a.sqlite"))


def met(how: str, path: Path) -> dict:
    """What a process of its own says of it; `failed` where it says nothing, or took too long or too much."""
    begun_s = time.monotonic()
    command = [sys.executable, "-m", "tests.bench.damage", how, str(path)]
    try:
        done = subprocess.run(command, cwd=ROOT, capture_output=True, text=True, timeout=WAITED_S, check=False)
    except subprocess.TimeoutExpired:
        return {"said": "hung", "failed": True, "s": WAITED_S, "mb": 0}
    took_s = time.monotonic() - begun_s
    if done.returncode:
        print(f"CRASHED {path}: {done.stderr[-2000:]}")
        return {"said": "crashed", "failed": True, "s": took_s, "mb": 0}
    told = json.loads(done.stdout)
    took_s = told.get("s", took_s)
    return told | {"s": took_s, "failed": told.get("failed") or took_s > HANGS_S or told["mb"] > MOST_MB}


def print_table(what: str, rows: Iterable[tuple[str, dict]]) -> int:
    by_kind: dict[str, list[dict]] = defaultdict(list)
    for kind, told in rows:
        by_kind[kind].append(told)
        if told["failed"]:
            print(f"FAILED {kind}, number {len(by_kind[kind])}: {told}")
    print(f"\n{what:26}{'count':>6}{'failed':>8}{'longest s':>11}{'most MB':>9}{'unsaid':>8}   what was said")
    for kind, all_told in by_kind.items():
        said = ", ".join(f"{count} {word}" for word, count in Counter(told["said"] for told in all_told).most_common(5))
        print(
            f"{kind:26}{len(all_told):6}{sum(told['failed'] for told in all_told):8}"
            f"{max(told['s'] for told in all_told):11.1f}{max(told['mb'] for told in all_told):9}"
            f"{sum(told.get('unsaid', 0) for told in all_told):8}   {said}"
        )
    return sum(told["failed"] for all_told in by_kind.values() for told in all_told)


def start(folder: Path) -> dict:
    """The game begins, and where something is wrong with the log the first way out is taken."""
    from game.clock import SystemClock
    from game.errors import LogError
    from game.player.profiles import Profile
    from game.player.session import open_session
    from game.practice_log.back_ups.recovery import recover

    def seated():
        profile = Profile(name="", folder=folder, settings_path=folder / "settings.json")
        session = open_session(profile, SystemClock())
        session.begin_practice()
        return session

    session = seated()
    found, lost, said = session.log.damage, 0, "nothing"
    if found is not None and found.usable and found.back_up is None:
        said, lost = found.damage.kind.value, dict(found.damage.told.values)["count"]
        session.log.leave_damaged()
    elif found is not None:
        said = found.damage.kind.value
        session.close()
        back_up = found.back_up.path if found.back_up else None
        try:
            done = recover(folder / LOG, back_up=back_up, with_readable=found.readable, now=session.now())
            lost = done.takes_lost
        except LogError as error:
            lost, said = TAKES, f"{said}, {error.message.key}"
        session = seated()
    known = session.coach.state is not None and session.notes.projection.state is not None
    trouble = session.log.trouble
    takes = count_of(session)
    session.close()
    if not known or trouble is not None:
        said += f", then {trouble and trouble.key}"
    return {"said": said, "takes": takes, "unsaid": max(0, TAKES - lost - takes)}


def count_of(session) -> int:
    from game.errors import LogError

    try:
        with session.log.reading() as log:
            return log.execute("SELECT count(*) FROM take").fetchone()[0]
    except LogError:
        return 0


def read(path: Path) -> dict:
    """A teacher's report of one file, and a player who gathers it."""
    from game.clock import wall_time
    from game.practice_log.transfer.gather import gather
    from tests.report.reports_of_files import reports_of

    with tempfile.TemporaryDirectory() as home:
        begun_s = time.monotonic()
        told = [refusal_of(lambda: list(reports_of(path)))]
        read_s = time.monotonic()
        told.append(refusal_of(lambda: gather(Path(home) / LOG, [path], now=wall_time())))
    longest_s = max(read_s - begun_s, time.monotonic() - read_s)
    return {"said": " and ".join(dict.fromkeys(told)), "failed": "several lines" in told, "s": longest_s}


def refusal_of(act) -> str:
    from game.errors import HomefretError
    from game.text.catalogue import tell

    try:
        act()
    except HomefretError as error:
        return error.message.key if len(tell(error.message).splitlines()) == 1 else "several lines"
    return "read"


def peak_mb() -> int:
    """The most memory that this process and the largest of its children ever took. What `getrusage` tells of the
    process itself is that of whoever started it, where that was more.
    """
    lines = Path("/proc/self/status").read_text(encoding="ascii").splitlines()
    own_kb = next(int(line.split()[1]) for line in lines if line.startswith("VmHWM"))
    return round((own_kb + resource.getrusage(resource.RUSAGE_CHILDREN).ru_maxrss) / 1000)


if __name__ == "__main__":
    sys.exit(main())
