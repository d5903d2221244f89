"""How these logs were made, by the program as it was on 29 November 2026, before every entry of a log had a key of its
own.

It runs against the code of that day only (commit 48ff9ed), and is kept to say where each log comes from:

    python -m tests.practice_log.old_logs.make_old_logs

Everybody in it is simulated: the learner of the demo, at the real game without a window. Each archive is a folder as
it lay on a disk:

- `two_weeks`: fourteen days of one player on one computer.
- `first_computer`: three days were practised on it, a back-up was made, and three more days came after that.
- `third_computer`: that back-up was restored on a second computer, whose player Möwe has another id, and played on for
  two days; a back-up of this was restored on a third and played on for one. One log, three devices, three players who
  are one person. The days on the three computers overlap.
- `interrupted`: one day, and a take in which the program was killed: five notes and one help, no judgement, the
  last of it only in the journal (`-wal`) beside the log.
- `damaged`: the log of `two_weeks`, played on for a day after `device.json` was copied from `first_computer`, so that
  the takes of two logs have one number; then `player.json` was emptied. An export and a back-up of `two_weeks` lie
  beside it, and what was seen, met and known by ear.

`facts.json` and `known.json.xz` are what that day's program knew of each: see `facts_of`.
"""

import json
import lzma
import os
import shutil
import signal
import sqlite3
import subprocess
import sys
import tarfile
import tempfile
from contextlib import closing
from datetime import UTC, datetime
from pathlib import Path
from random import Random
from typing import Any
from uuid import UUID

import msgspec
from game.player.met_lines import add_met_line
from game.player.opened_tunes import add_opened_tune

from game.__main__ import main as command
from game.coach.stages import Stage
from game.demo.demonstration import Demonstration
from game.instrument.decoding.played import PlayedNote
from game.judging.untimed import HintStep
from game.lines.fresh_line import fresh_line
from game.lines.levels import level_of
from game.lines.scale import key_named
from game.music.passage import Passage, passages_of
from game.music.written import written_out
from game.neck.neck_map import standard_map
from game.player import player_coach, player_notes
from game.player.known_by_ear import tune_id, write_known_by_ear
from game.player.player_log import PlayerLog
from game.practice_log.database.identity import read_or_make_identity
from game.practice_log.queries.bars_met import times_met
from game.practice_log.queries.summaries import summarised
from game.practice_log.rows.log_records import Terms
from game.practice_log.rows.passage_key import passage_key
from game.tunes.library.library import open_entry, shipped_entries

HERE = Path(__file__).parent
LOG = "practice.sqlite"
TUNES = ("Ode to Joy", "Silent Night", "Au clair de la lune")


def main() -> None:
    """Make everything anew beside this file."""
    with tempfile.TemporaryDirectory() as work:
        at = Path(work)
        os.environ.update(HOME=work, XDG_DATA_HOME=f"{work}/data", XDG_CONFIG_HOME=f"{work}/config", TZ="UTC")
        os.environ.update(SDL_VIDEODRIVER="dummy", SDL_AUDIODRIVER="dummy")
        make_two_weeks(at / "two_weeks")
        make_three_computers(at)
        make_interrupted(at / "interrupted")
        make_damaged(at)
        facts = {}
        for name in ("two_weeks", "first_computer", "third_computer", "interrupted", "damaged"):
            packed(at / name)
            facts[name] = facts_of(at / name)
        facts["third_computer"]["as one"] = facts_as_one(at / "third_computer")
        write_facts(facts)


def write_facts(facts: dict[str, Any]) -> None:
    """What can be read goes into `facts.json`; of each player what the coach knew, which is long, is packed apart."""
    known = {
        f"{name} {player}": {key: one.pop(key) for key in ("coach", "notes")}
        for name, log in facts.items()
        for player, one in (*log["players"].items(), *([("as one", log["as one"])] if "as one" in log else []))
    }
    text = json.dumps(facts, ensure_ascii=False, indent=1)
    (HERE / "facts.json").write_text(text + "\n", encoding="utf-8")
    (HERE / "known.json.xz").write_bytes(lzma.compress(json.dumps(known).encode()))


def make_two_weeks(folder: Path) -> None:
    seated(folder, "two weeks")
    practise(folder, days=14)


def make_three_computers(at: Path) -> None:
    first, second, third = (at / f"{which}_computer" for which in ("first", "second", "third"))
    for folder, name in ((first, ""), (second, "Möwe"), (third, "")):
        seated(folder, folder.name, name)
    practise(first, days=3)
    carried(first, second)
    practise(second, after=3, days=2)
    practise(first, after=3, days=1)
    carried(second, third)
    practise(third, after=6, days=1)
    practise(first, after=6, days=2)


def make_interrupted(folder: Path) -> None:
    seated(folder, "interrupted")
    practise(folder, days=1)
    in_one_file(folder / LOG)
    child = [sys.executable, "-m", "tests.practice_log.old_logs.make_old_logs", str(folder)]
    ended = subprocess.run(child, check=False, cwd=HERE.parents[2])
    assert ended.returncode == -signal.SIGKILL, ended


def be_killed(folder: Path) -> None:
    """The game as a process that is killed in the middle of a take."""
    log = PlayerLog(folder, lambda: datetime(2026, 3, 4, 18, 5, tzinfo=UTC))
    passage = first_of("Silent Night")
    take = log.recorder(passage, standard_map(), Terms(stage=Stage.PLACES), zero_s=0.0)
    for number, note in enumerate(passage.notes[:5], start=1):
        home = standard_map().home_of(note.sounding)
        assert home is not None
        take.played(PlayedNote(started_s=0.9 * number, sounding=note.sounding, place=home.place, source="Larch Hexa"))
    take.helped(6, HintStep.LETTER, at_s=6.5)
    assert log.flush()
    os.kill(os.getpid(), signal.SIGKILL)


def make_damaged(at: Path) -> None:
    folder = at / "damaged"
    folder.mkdir()
    for name in (LOG, "player.json"):
        shutil.copy(at / "two_weeks" / name, folder)
    shutil.copy(at / "first_computer" / "device.json", folder)
    practise(folder, after=20, days=1)
    (folder / "player.json").write_bytes(b"")
    for name in ("03-ode-to-joy", "01-au-clair-de-la-lune"):
        add_opened_tune(name, folder)
    add_met_line(fresh_line(level_of(2), standard_map(), key=key_named("F"), bars=4, rng=Random(1)), folder)
    write_known_by_ear(frozenset({tune_id(first_of("Silent Night"))}), folder)
    for words in (("--export", folder / "two_weeks.zip"), ("--back-up", folder / "two_weeks.sqlite")):
        at_home(at / "two_weeks", "log", *map(str, words))


def seated(folder: Path, seed: str, name: str = "") -> None:
    """A folder on a computer, with ids that come out the same each time."""
    folder.mkdir(parents=True)
    for which in ("player", "device"):
        uuid = UUID(int=Random(f"{seed} {which}").getrandbits(128), version=4)
        read_or_make_identity(
            folder / f"{which}.json", name=name if which == "player" else "", new_uuid=lambda made=uuid: made
        )


def practise(folder: Path, *, days: int, after: int = 0) -> None:
    """The learner of the demo practises on so many days, the first of them `after` days from the demo's first."""
    learner = Demonstration(folder, Random(f"{folder.name} {after}"), fast=True, days=after + days)
    learner.game.day = after
    learner.play()
    for picture in folder.glob("*.png"):
        picture.unlink()
    in_one_file(folder / LOG)


def carried(source: Path, target: Path) -> None:
    """A back-up of one computer's log, restored on another."""
    with tempfile.TemporaryDirectory() as stick:
        copy = Path(stick) / "practice.sqlite"
        at_home(source, "log", "--back-up", str(copy))
        at_home(target, "log", "--restore", str(copy))


def at_home(folder: Path, *words: str) -> None:
    """A command on the computer whose player's folder this is."""
    with tempfile.TemporaryDirectory() as data:
        (Path(data) / "homefret").symlink_to(folder)
        os.environ["XDG_DATA_HOME"] = data
        assert command(list(words)) == 0, words


def in_one_file(log: Path) -> None:
    """Nothing of a log in a journal beside it, and no room for nothing in it."""
    with closing(sqlite3.connect(log)) as connection:
        connection.execute("VACUUM")
        connection.execute("PRAGMA wal_checkpoint(TRUNCATE)")
    for ending in ("-wal", "-shm", ".in-use", ".sums"):
        log.with_name(log.name + ending).unlink(missing_ok=True)


def packed(folder: Path) -> None:
    """The folder as an archive, the same bytes each time."""
    with tarfile.open(HERE / f"{folder.name}.tar.xz", "w:xz", preset=9) as archive:
        for path in sorted(folder.iterdir()):
            if path.suffix == ".snapshot" or path.name.endswith(("-shm", ".in-use", ".sums")):
                continue
            about = archive.gettarinfo(path, path.name)
            about.mtime, about.uid, about.gid, about.uname, about.gname = 0, 0, 0, "", ""
            with path.open("rb") as content:
                archive.addfile(about, content)


def facts_of(folder: Path) -> dict[str, Any]:
    """What the log of a folder holds, and what the program made of it: for each player what the coach knew, with its
    marks, what was known of each note, and how often the first bars of some tunes were met. Times are UTC. Of takes:
    device, number, beginning, tune, stage, tempo, sighting, notes played, outcome (null without a judgement).
    """
    with tempfile.TemporaryDirectory() as copied:
        here = Path(copied) / "log"
        shutil.copytree(folder, here)
        with closing(sqlite3.connect(here / LOG)) as log:
            return {
                "devices": [uuid for (uuid,) in log.execute("SELECT uuid FROM device ORDER BY device")],
                "takes": log.execute(_TAKES).fetchall(),
                "coach_events": log.execute("SELECT COUNT(*) FROM coach_event").fetchone()[0],
                "played": log.execute("SELECT COUNT(*) FROM played").fetchone()[0],
                "days": days_of(log),
                "players": {uuid: player_facts(log, UUID(uuid)) for (uuid,) in log.execute("SELECT uuid FROM player")},
            }


_TAKES = """
SELECT device.uuid, number, started_utc, title, stage, tempo_bpm, sighting,
    (SELECT COUNT(*) FROM played WHERE played.take = take.take),
    (SELECT outcome FROM judgement WHERE judgement.take = take.take ORDER BY judgement DESC LIMIT 1)
FROM take JOIN device USING (device) JOIN bars USING (bars) ORDER BY take
"""


def days_of(log: sqlite3.Connection) -> list[Any]:
    """The sums of each day, in UTC: day, minutes, takes, notes read, of these clean."""
    with summarised(log, "+0 minutes"):
        return log.execute(
            "SELECT day, SUM(minutes), SUM(takes), SUM(read), SUM(clean) FROM summaries.day_sums GROUP BY day"
        ).fetchall()


def player_facts(log: sqlite3.Connection, player: UUID) -> dict[str, Any]:
    """What the program made of one player's part of a log."""
    coach = player_coach.FOLD.add_entries(log, player, player_coach.FOLD.initial, 0)
    notes = player_notes.FOLD.add_entries(log, player, player_notes.FOLD.initial, 0)
    (name,) = log.execute("SELECT name FROM player WHERE uuid = ?", (str(player),)).fetchone()
    return {
        "name": name,
        "marks": {passage: [mark.value for mark in record.marks] for passage, record in coach.records.items()},
        "coach": plain(player_coach.FOLD.pack(coach)),
        "notes": plain(player_notes.FOLD.pack(notes)),
        "met": {title: times_met(log, player, first_of(title)) for title in TUNES},
    }


def facts_as_one(folder: Path) -> dict[str, Any]:
    """What that program would have made of the log, had one player on one computer played all of it: every entry is
    given to the first player, and each take counts again how often its bars had been met before.
    """
    with closing(sqlite3.connect(":memory:")) as log, closing(sqlite3.connect(folder / LOG)) as kept:
        kept.backup(log)
        for (name,) in log.execute("SELECT name FROM sqlite_master WHERE type = 'trigger'").fetchall():
            log.execute(f"DROP TRIGGER {name}")
        (one,) = log.execute("SELECT uuid FROM player WHERE player = 1").fetchone()
        log.execute("UPDATE coach_event SET player = 1")
        log.execute("UPDATE take SET player = -1")
        for take, title, start, stop, key in log.execute(
            "SELECT take, title, start, stop, passage_key FROM take JOIN bars USING (bars) ORDER BY take"
        ).fetchall():
            passage = Passage(score=score_of(title), start=start, stop=stop)
            assert passage_key(passage) == key, title
            met = times_met(log, UUID(one), passage)
            log.execute("UPDATE take SET player = 1, sighting = ? WHERE take = ?", (met + 1, take))
        return player_facts(log, UUID(one)) | {"sightings": [s for (s,) in log.execute("SELECT sighting FROM take")]}


def plain(value: object) -> Any:
    """As it stands in JSON."""
    return msgspec.json.decode(msgspec.json.encode(value, enc_hook=repr))


def score_of(title: str) -> Any:
    (entry,) = (entry for entry in shipped_entries() if entry.title == title)
    return written_out(open_entry(entry))


def first_of(title: str) -> Passage:
    return passages_of(score_of(title))[0]


if __name__ == "__main__":
    if len(sys.argv) > 1:
        be_killed(Path(sys.argv[1]))
    else:
        main()
