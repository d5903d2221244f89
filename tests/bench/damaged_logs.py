"""Two hundred damaged logs, each by a maker that is given the folder of a log with its automatic back-up."""

import shutil
import sqlite3
from collections.abc import Callable, Iterator
from contextlib import closing
from datetime import date
from functools import partial
from pathlib import Path
from random import Random

from game.practice_log.back_ups.automatic import make_back_up
from game.practice_log.database.take_mark import keep_take_count
from tests.practice_log.transfer.damaged_files import PAGE, cut_off, flip, pages_of
from tests.practice_log.transfer.hostile_files import ENDLESS, endless_view, planted
from tests.practice_log.transfer.practised import Computer

TAKES, IN_BACK_UP, DAY = 90, 70, date(2026, 11, 30)
LOG = "practice.sqlite"

Maker = Callable[[Path], None]


def make_home(folder: Path) -> Path:
    """A log of ninety takes, the last of them in the journal beside it, as after a crash; seventy in the back-up."""
    folder.mkdir()
    (folder / "while-open").mkdir()
    path = folder / "while-open" / LOG
    computer = Computer(1, path=path)
    for take in range(1, TAKES + 1):
        computer.play()
        if take == IN_BACK_UP:
            make_back_up(path, DAY)
        if take == TAKES - 5:
            computer.log.execute("PRAGMA wal_checkpoint(TRUNCATE)")
    keep_take_count(path, computer.log)
    for name in (LOG, f"{LOG}-wal", f"{LOG}.takes"):
        shutil.copyfile(path.with_name(name), folder / name)
    shutil.copytree(path.parent / "back-ups", folder / "back-ups")
    computer.log.close()
    shutil.rmtree(folder / "while-open")
    return folder


def in_one_file(folder: Path) -> Path:
    with closing(sqlite3.connect(folder / LOG)) as log:
        log.execute("PRAGMA journal_mode = DELETE")
    return folder / LOG


def flipped(page_share: float, folder: Path) -> None:
    path = in_one_file(folder)
    flip(path, 1 + round(page_share * (pages_of(path) - 1)))


def truncated(share: float, folder: Path) -> None:
    path = in_one_file(folder)
    cut_off(path, int(share * path.stat().st_size))


def several_bytes(seed: int, folder: Path) -> None:
    path, chance = in_one_file(folder), Random(seed)
    content = bytearray(path.read_bytes())
    for _ in range(chance.choice((1, 8, 200))):
        content[chance.randrange(len(content))] = chance.randrange(256)
    path.write_bytes(content)


def overwritten(seed: int, folder: Path) -> None:
    path, chance = in_one_file(folder), Random(seed)
    content = bytearray(path.read_bytes())
    at = PAGE * chance.randrange(len(content) // PAGE)
    content[at : at + 8 * PAGE] = chance.choice((b"\x00", b"\xa5", b"x")) * (8 * PAGE)
    path.write_bytes(content)


def without_journal(_: int, folder: Path) -> None:
    (folder / f"{LOG}-wal").unlink()


def damaged_journal(seed: int, folder: Path) -> None:
    path, chance = folder / f"{LOG}-wal", Random(seed)
    content = bytearray(path.read_bytes())
    at = chance.randrange(len(content))
    content[at:] = content[at : at + chance.randrange(0, 400)]
    path.write_bytes(content)


def foreign_journal(seed: int, folder: Path) -> None:
    other = Computer(40 + seed, path=folder / "other.sqlite", seed=seed)
    for _ in range(3 + 5 * seed):
        other.play()
    shutil.copyfile(folder / "other.sqlite-wal", folder / f"{LOG}-wal")
    other.log.close()
    (folder / "other.sqlite").unlink()


PLANTED = (
    [f"CREATE VIEW planted AS {ENDLESS}"],
    ["CREATE TRIGGER planted AFTER INSERT ON take BEGIN DELETE FROM device; END"],
    [f"CREATE TRIGGER planted AFTER INSERT ON played BEGIN INSERT INTO source (name) {ENDLESS}; END"],
    ["CREATE TABLE planted (x)", "INSERT INTO planted VALUES (zeroblob(3000000))"],
    ["CREATE TABLE planted (a, b AS (hex(zeroblob(100000000))))", "INSERT INTO planted VALUES (1)"],
    ["CREATE INDEX planted ON take (hex(zeroblob(stage)))"],
    ["DROP TABLE help"],
    ["DROP TABLE help", f"CREATE VIEW help AS {ENDLESS}"],
    ["DROP TABLE entry", f"CREATE VIEW entry AS {ENDLESS}"],
    ["DROP TABLE player", f"CREATE VIEW player AS {ENDLESS}"],
    ["DROP TABLE migration", f"CREATE VIEW migration AS {ENDLESS}"],
    ["DROP TABLE fact", "CREATE VIRTUAL TABLE fact USING fts5(about, content)"],
    ["DROP TRIGGER take_no_delete", "DELETE FROM take WHERE take > 50"],
)


def with_planted(which: int, folder: Path) -> None:
    planted(in_one_file(folder), *PLANTED[which % len(PLANTED)])


def takes_endless(_: int, folder: Path) -> None:
    endless_view(in_one_file(folder))


def newer(_: int, folder: Path) -> None:
    planted(in_one_file(folder), "INSERT INTO migration (name, applied_utc) VALUES ('of tomorrow', '')")


def no_log(which: int, folder: Path) -> None:
    path = in_one_file(folder)
    path.write_bytes(
        (b"", b"x", b"strings, a capo" * 5000, b"SQLite format 3\x00" + b"\xff" * 9000, b"PK\x03\x04")[which]
    )


MAKERS = (
    ("page flipped", flipped, [number / 69 for number in range(70)]),
    ("cut off", truncated, [number / 50 for number in range(50)]),
    ("some bytes changed", several_bytes, range(15)),
    ("pages overwritten", overwritten, range(10)),
    ("journal gone", without_journal, range(5)),
    ("journal damaged", damaged_journal, range(12)),
    ("journal foreign", foreign_journal, range(12)),
    ("planted", with_planted, range(len(PLANTED))),
    ("takes are an endless view", takes_endless, range(1)),
    ("no log", no_log, range(5)),
    ("newer program", newer, range(7)),
)


def damaged_logs() -> Iterator[tuple[str, Maker]]:
    """What is wrong, and who brings it about: two hundred."""
    for wrong, maker, cases in MAKERS:
        for case in cases:
            yield wrong, partial(maker, case)
