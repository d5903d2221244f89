"""Today of this day and the next ones, prepared for the first frame of the next start.

A process of its own does it when the game is left: `python -m game.screens.choosing.coming_days NAME FOLDER SETTINGS`.
It works on a copy of the log, with the clock set to each day in turn, so that nothing of a day that has not come goes
into the log of the player.
"""

import shutil
import sys
from contextlib import suppress
from dataclasses import dataclass
from datetime import date, datetime, timedelta
from pathlib import Path
from tempfile import TemporaryDirectory
from typing import Final

from game.clock import HandClock, wall_time
from game.errors import LogError
from game.player.background_process import BackgroundProcess
from game.player.prepared_sheet import write_prepared
from game.player.profiles import Profile
from game.player.session import Session, open_session
from game.player.settings import Settings
from game.player.settings_file import load_or_defaults
from game.practice_log.back_ups.backup import copy_whole, refused
from game.screens.choosing.today_sheet import TodaySheet
from game.screens.choosing.today_words import today_sheet
from game.screens.context import ScreenContext
from game.screens.devices import Devices
from game.screens.window import Window
from game.text.catalogue import chosen
from game.text.language import choose_language

DAYS: Final = 31
"""So many days are prepared, this one among them: who comes back later sees the frame of Today for a moment. Ours."""

_COPY: Final = "next-start-"
_NEEDED: Final = ("*.json", "*.snapshot", "*.sums")
_MOST_BYTES: Final = 50_000_000
"""Of one file beside the log: a larger one is made anew."""


def begin_preparing(session: Session) -> BackgroundProcess:
    """Let the coming days be prepared; nobody waits for it."""
    profile = session.profile
    words = (profile.name, str(profile.folder), str(profile.settings_path))
    return BackgroundProcess("game.screens.choosing.coming_days", *words, outlives=True)


def prepare(profile: Profile, now: datetime) -> None:
    """Prepare the days from now on for a player; nothing, where nobody has played yet or the log cannot be read."""
    settings = load_or_defaults(profile.settings_path).settings
    choose_language(settings.language)
    log = profile.log_path
    if not log.exists():
        return
    _sweep(profile.folder)
    # With the player's own files, and erased with them.
    own = TemporaryDirectory(prefix=_COPY, dir=profile.folder)
    with suppress(LogError), refused("backup.cannot_be_copied", log), own as folder:
        copy = Path(folder)
        copy_whole(log, copy / log.name)
        _copy_beside(profile.folder, copy)
        sheets = _sheets(Profile(name=profile.name, folder=copy, settings_path=copy / "settings"), settings, now)
        if sheets:
            write_prepared(profile.folder, sheets, settings, chosen().language)


def _sweep(folder: Path) -> None:
    """Remove what a process left that was ended on its way."""
    for left in folder.glob(f"{_COPY}*"):
        shutil.rmtree(left, ignore_errors=True)


def _copy_beside(folder: Path, copy: Path) -> None:
    """What lies beside the log and spares the work of going through it."""
    for pattern in _NEEDED:
        for path in folder.glob(pattern):
            if path.is_file() and path.stat().st_size <= _MOST_BYTES:
                shutil.copyfile(path, copy / path.name)


def _sheets(profile: Profile, settings: Settings, now: datetime) -> dict[date, TodaySheet]:
    clock = _WallByHand(now)
    session = open_session(profile, HandClock(0.0), now=clock, settings=settings)
    context = ScreenContext(session=session, devices=Devices(), window=Window())
    try:
        if session.log.damage is not None or not session.log.has_takes:
            return {}
        sheets = {session.today(): today_sheet(context)}
        while len(sheets) < DAYS and session.plan.complete:
            clock.now += timedelta(days=1)
            session.plan.replan()
            sheets[session.today()] = today_sheet(context)
        return sheets if session.plan.complete else {}
    finally:
        session.close()


@dataclass
class _WallByHand:
    """The time on the wall, set by hand."""

    now: datetime

    def __call__(self) -> datetime:
        return self.now


def main(name: str, folder: str, settings_path: str) -> int:
    """Prepare the coming days of a player."""
    prepare(Profile(name=name, folder=Path(folder), settings_path=Path(settings_path)), wall_time())
    return 0


if __name__ == "__main__":
    sys.exit(main(*sys.argv[1:4]))
