"""Runs commands over what players had in November 2026, and tells what is no longer as it was then.

Nothing of the program is imported but its one way in, `main`, so that modules may move.
"""

import csv
import io
import json
import math
import os
import re
import shutil
import time
from collections.abc import Callable, Iterator, Mapping
from contextlib import chdir, contextmanager, redirect_stderr, redirect_stdout, suppress
from dataclasses import dataclass, field
from pathlib import Path
from typing import Any

import mido

from game.__main__ import main

HERE = Path(__file__).parent
ROOT = HERE.parents[1]
GOLDEN = HERE / "golden"
MATERIAL = ("home", "handed", "back-ups", "assignments", "tunes", "takes", "lines", "broken")
# An hour before UTC all the year: a take at half past eleven in the evening there is one of the next day here.
ZONE = "CET-1"
ANYTHING = "{anything}"
# What depends on the day, the machine or the version of the program.
_MASKED = {"exported_utc": ANYTHING, "program": ANYTHING, "found": ANYTHING, "api": ANYTHING, "ports": ANYTHING}
# Rows that may grow: their old entries must still be there.
_GROWING = frozenset({"migrations", "columns"})
# Versions of ours, told with what was made by them: a newer one may stand there, an older one not.
_RISING = frozenset({"judge_version"})
_KEPT_BEFORE = re.compile(r"before-\d{8}T\d+")


@dataclass(frozen=True, kw_only=True)
class Said:
    """What a command printed, and how it ended."""

    status: int
    out: str
    err: str


@dataclass(frozen=True, kw_only=True)
class Desk:
    """A player's computer for one command: a copy of the material, and an empty folder for what is written."""

    here: Path
    out: Path
    environment: Mapping[str, str] = field(default_factory=dict)

    @property
    def data(self) -> Path:
        """Where the practice logs and the library lie."""
        return self.here / "home" / "data" / "homefret"

    def run(self, *words: str) -> Said:
        """One command, with {here}, {out}, {data} and {tunes} in its words put in."""
        out, err = io.StringIO(), io.StringIO()
        with self._seated(), redirect_stdout(out), redirect_stderr(err):
            try:
                status = main([self._put_in(word) for word in words])
            except SystemExit as ended:
                status = int(ended.code or 0)
        return Said(status=status, out=self.plain(out.getvalue()), err=self.plain(err.getvalue()))

    def plain(self, text: str) -> str:
        """A text without the paths of this machine."""
        for name, path in self._places().items():
            text = text.replace(str(path), "{" + name + "}")
        return _KEPT_BEFORE.sub("before-{time}", text)

    def files(self) -> dict[str, Any]:
        """What was written: tables and takes by their content, of the rest the name."""
        return {str(path.relative_to(self.out)): _content(path) for path in sorted(self.out.rglob("*"))}

    def _put_in(self, word: str) -> str:
        for name, path in self._places().items():
            word = word.replace("{" + name + "}", str(path))
        return word

    def _places(self) -> dict[str, Path]:
        return {"out": self.out, "data": self.data, "here": self.here, "tunes": ROOT / "content" / "tunes"}

    @contextmanager
    def _seated(self) -> Iterator[None]:
        home = self.here / "home"
        settled = {
            "HOME": str(home),
            "XDG_DATA_HOME": str(home / "data"),
            "XDG_CONFIG_HOME": str(home / "config"),
            "TZ": ZONE,
            "COLUMNS": "80",
            "SDL_VIDEODRIVER": "dummy",
            "SDL_AUDIODRIVER": "dummy",
        }
        before = dict(os.environ)
        os.environ.update(settled | dict(self.environment))
        for name in {"HOMEFRET_PLAYER", "HOMEFRET_MIDI_API"} - set(self.environment):
            os.environ.pop(name, None)
        time.tzset()
        try:
            with chdir(self.out):
                yield
        finally:
            os.environ.clear()
            os.environ.update(before)
            time.tzset()


def laid_out(folder: Path, case: Mapping[str, Any] | None = None) -> Desk:
    """A desk in an empty folder, as a case wants it: `empty` is a computer on which nobody has played yet, `put` lays
    broken files in the place of others.
    """
    here, out = folder / "here", folder / "out"
    for name in MATERIAL:
        # All of it takes a while: what no word names is not laid there.
        if case is None or name == "home" or f"{{here}}/{name}" in str(case):
            with suppress(FileNotFoundError):
                shutil.copytree(HERE / name, here / name)
    case = case or {}
    if case.get("empty"):
        shutil.rmtree(here / "home")
        (here / "home").mkdir()
    for name, broken in case.get("put", {}).items():
        shutil.copy(HERE / "broken" / broken, here / name)
    out.mkdir(parents=True)
    return Desk(here=here, out=out, environment=case.get("environment", {}))


def asked(case: Mapping[str, Any], folder: Path) -> dict[str, Any]:
    """What the commands of a case answer on a desk of their own."""
    desk = laid_out(folder, case)
    for words in case.get("before", ()):
        said = desk.run(*words)
        assert (said.status, said.err) == (0, ""), (words, said)
    said = desk.run(*case["words"])
    assert (said.status, said.err) == (0, ""), (case["words"], said)
    answer = masked(json.loads(said.out)) if "--json" in case["words"] else said.out
    if case["words"][0] == "demo":
        return {"answer": answer | {"files": ANYTHING}, "files": ANYTHING}
    return {"answer": answer, "files": desk.files()}


def masked(answer: Any) -> Any:
    """An answer without what depends on the day, the machine or the version."""
    if isinstance(answer, dict):
        return {key: _MASKED.get(key, masked(value)) for key, value in answer.items()}
    return [masked(value) for value in answer] if isinstance(answer, list) else answer


def lost(then: Any, now: Any, at: str = "") -> list[str]:
    """What was answered then and is not now: fields may be added, none renamed, changed or left out."""
    if then == ANYTHING:
        return []
    if isinstance(then, dict) and isinstance(now, dict):
        gone = [f"{at}/{key} is gone" for key in then if key not in now]
        return gone + [
            fault
            for key, value in then.items()
            if key in now
            for fault in _compared_by(key)(value, now[key], f"{at}/{key}")
        ]
    if isinstance(then, list) and isinstance(now, list):
        if len(then) != len(now):
            return [f"{at} has {len(now)} entries, not {len(then)}"]
        pairs = zip(then, now, strict=True)
        return [fault for index, pair in enumerate(pairs) for fault in lost(*pair, f"{at}/{index}")]
    return [] if _same(then, now) else [f"{at} is {now!r}, not {then!r}"]


def helped(text: str) -> list[str]:
    """A help text as the things it says, whatever the width of its lines and the order of its usage."""
    _, *told = re.split(r"\n\n", text)
    entries = (re.split(r"\n  (?=\S)", part) for part in told)
    return [" ".join(entry.split()) for part in entries for entry in part if entry.strip()]


def mistake_said(line: str) -> str:
    """The line of a mistake, without the list of choices: it may grow, and each Python quotes it in its own way."""
    return re.sub(r"\(choose from [^)]*\)", "(choose)", line.strip())


def _compared_by(key: str) -> Callable[[Any, Any, str], list[str]]:
    if key in _RISING:
        return _fallen
    return _left_out if key in _GROWING else lost


def _fallen(then: Any, now: Any, at: str) -> list[str]:
    return [] if isinstance(now, int) and now >= then else [f"{at} is {now!r}, and was {then!r}"]


def _left_out(then: Any, now: Any, at: str) -> list[str]:
    if isinstance(then, dict):
        return [fault for key, rows in then.items() for fault in _left_out(rows, now.get(key, []), f"{at}/{key}")]
    return [f"{at} is without {one!r}" for one in then if one not in now]


def _same(then: Any, now: Any) -> bool:
    if isinstance(then, bool) or isinstance(now, bool) or not isinstance(then, (int, float)):
        return type(then) is type(now) and then == now
    return isinstance(now, (int, float)) and math.isclose(then, now, rel_tol=1e-6, abs_tol=1e-6)


def _content(path: Path) -> Any:
    if path.suffix == ".csv":
        return list(csv.DictReader(io.StringIO(path.read_text(encoding="utf-8-sig"))))
    if path.suffix == ".mid":
        return _played(path)
    if path.suffix == ".toml":
        return path.read_text(encoding="utf-8")
    return ANYTHING


def _played(path: Path) -> list[list[float]]:
    """Second, channel, pitch and velocity of each note of a MIDI file."""
    at_s, notes = 0.0, []
    for message in mido.MidiFile(path):
        at_s += message.time
        if message.type == "note_on" and message.velocity:
            notes.append([round(at_s, 4), message.channel + 1, message.note, message.velocity])
    return notes
