"""A hundred files that nobody of good will would hand over, each by a maker that is given where it is to lie."""

import os
import sqlite3
import struct
import zipfile
from collections.abc import Callable, Iterator
from contextlib import closing
from functools import partial
from pathlib import Path

from game.practice_log.database.store import open_store
from game.practice_log.transfer.export import write_export
from tests.practice_log.logged_takes import MORNING, PLAYER
from tests.practice_log.transfer.hostile_files import (
    ENDLESS,
    bomb,
    endless_view,
    log_of,
    members_of,
    packed_up,
    planted,
    told_in_contents,
)

Maker = Callable[[Path], Path]


def bombed(member: str, line: bytes, times: int, path: Path) -> Path:
    return bomb(path.with_name("b.zip"), members_of(path), member=member, line=line, times=times)


def changed(member: str, content: bytes, path: Path) -> Path:
    return packed_up(path.with_name("b.zip"), members_of(path) | {member: content})


def documents_of(path: Path) -> dict[str, bytes]:
    """An export of today, taken apart."""
    with closing(open_store(log_of(path, 5), now_utc=MORNING)) as log:
        write_export(log, PLAYER, path.with_name("a.zip"), now=MORNING)
    with zipfile.ZipFile(path.with_name("a.zip")) as archive:
        return {name: archive.read(name) for name in archive.namelist()}


def documents_changed(content: bytes, path: Path) -> Path:
    return packed_up(path.with_name("b.zip"), documents_of(path) | {"entries.jsonl": content})


def bombed_documents(times: int, path: Path) -> Path:
    members = documents_of(path)
    line = members["entries.jsonl"].splitlines(keepends=True)[-1]
    return bomb(path.with_name("b.zip"), members, member="entries.jsonl", line=line, times=times // len(line) * 50)


def told(fields: dict, path: Path) -> Path:
    return packed_up(path.with_name("b.zip"), told_in_contents(members_of(path), **fields))


def many_members(count: int, path: Path) -> Path:
    """A directory of so many members that all lie at one place (APPNOTE.TXT 4.3.12 and 4.3.14-16)."""
    base = packed_up(path.with_name("b.zip"), {"contents.json": b"{}"}).read_bytes()
    start = base.index(b"PK\x01\x02")
    entry = base[start : base.index(b"PK\x05\x06")]
    out = path.with_name("c.zip")
    with out.open("wb") as file:
        file.write(base[:start])
        file.write(entry * count)
        size = len(entry) * count
        record = struct.pack("<4sQ2H2L4Q", b"PK\x06\x06", 44, 45, 45, 0, 0, count, count, size, start)
        file.write(record + struct.pack("<4sLQL", b"PK\x06\x07", 0, start + size, 1))
        file.write(struct.pack("<4s4H2LH", b"PK\x05\x06", 0, 0, 0xFFFF, 0xFFFF, 0xFFFFFFFF, 0xFFFFFFFF, 0))
    return out


def lying_sizes(size: int, path: Path) -> Path:
    members = members_of(path)
    out = bomb(
        path.with_name("b.zip"),
        members,
        member="verdict.jsonl",
        line=b'[1,1,"clean",null,0,null,null]\n',
        times=2_000_000,
    )
    content = bytearray(out.read_bytes())
    at = content.rindex(b"PK\x01\x02")
    content[at + 24 : at + 28] = size.to_bytes(4, "little")
    out.write_bytes(content)
    return out


def cut(share: float, path: Path) -> Path:
    out = packed_up(path.with_name("b.zip"), members_of(path))
    out.write_bytes(out.read_bytes()[: int(share * out.stat().st_size)])
    return out


def bytes_changed(at_share: float, path: Path) -> Path:
    out = packed_up(path.with_name("b.zip"), members_of(path))
    content = bytearray(out.read_bytes())
    at = int(at_share * len(content))
    content[at : at + 30] = bytes(byte ^ 0xFF for byte in content[at : at + 30])
    out.write_bytes(content)
    return out


def packed_otherwise(kind: int, path: Path) -> Path:
    with zipfile.ZipFile(path.with_name("b.zip"), "w", kind) as archive:
        for name, content in members_of(path).items():
            archive.writestr(name, content * (50 if name == "played.jsonl" else 1))
    return path.with_name("b.zip")


def encrypted(path: Path) -> Path:
    out = packed_up(path.with_name("b.zip"), members_of(path))
    content = bytearray(out.read_bytes())
    for sign, offset in ((b"PK\x03\x04", 6), (b"PK\x01\x02", 8)):
        at = content.find(sign)
        while at >= 0:
            content[at + offset] |= 1
            at = content.find(sign, at + 4)
    out.write_bytes(content)
    return out


def no_file(kind: str, path: Path) -> Path:
    out = path.with_name("b.zip" if kind != "sqlite pipe" else "b.sqlite")
    if "pipe" in kind:
        os.mkfifo(out)
    elif kind == "folder":
        out.mkdir()
    elif kind == "device":
        out.symlink_to("/dev/zero")
    else:
        out.symlink_to(out)
    return out


def hostile_log(statements: tuple[str, ...], path: Path) -> Path:
    return planted(log_of(path, 5), *statements)


def endless_takes(path: Path) -> Path:
    return endless_view(log_of(path, 5))


def pages_in_a_ring(path: Path) -> Path:
    """A page that leads to itself, many times over."""
    log_of(path, 400)
    with closing(sqlite3.connect(path)) as log:
        (root,) = log.execute("SELECT rootpage FROM sqlite_master WHERE name = 'played'").fetchone()
        (root,) = log.execute("SELECT rootpage FROM sqlite_master WHERE name = 'take'").fetchone()
    content = bytearray(path.read_bytes())
    page = (root - 1) * 4096
    for at in range(page + 12, page + 40, 4):
        content[at : at + 4] = root.to_bytes(4, "big")
    content[page] = 5
    path.write_bytes(content)
    return path


DEEP = b"[" * 200_000 + b"]" * 200_000 + b"\n"
ROWS = (
    DEEP,
    b'{"a":' * 100_000 + b"1" + b"}" * 100_000 + b"\n",
    b"[" + b"9" * 3_000_000 + b"]\n",
    b"[1e999999, -1e999999, 1]\n",
    b'["' + b"x" * 3_900_000 + b'", 1]\n',
    b"[" + b"1," * 1_900_000 + b"1]\n",
    b'["\\ud800", 1, 2]\n' * 1000,
    b"\x00" * 1_000_000,
    b"\xff\xfe" * 500_000,
    b"[1" + b" " * 5_000_000 + b"]\n",
    b"[]\n" * 1_000_000,
    b"\n" * 3_000_000,
    b"NaN\n[NaN]\n[Infinity]\n",
    b'[1, 1, {"a": 1}]\n',
    b"[1, 1, [1]]\n",
)
TOLD = (
    {"format": "x" * 900_000},
    {"version": 10**30},
    {"version": 99},
    {"migrations": ["takes"] * 100_000},
    {"migrations": ["from 2031"]},
    {"player": {"uuid": "../../x", "name": "\u202e" * 1000}},
    {"player": {"uuid": "5a0c5b36-6d3c-4d8f-9d53-0c1d7a5f2e11", "name": "x" * 900_000}},
    {"columns": {"take": ["take"] * 100_000}},
    {"columns": {"take": ["take); DROP TABLE take; --"]}},
    {"columns": {"sqlite_master": ["sql"]}},
    {"rows": {"take": 10**18}},
    {"utc_offset_minutes": 10**12},
    {"exported_utc": "9999-99-99"},
    {"days": {"first": "x" * 100_000, "last": None, "practised": -1}},
)
LOGS = (
    (f"CREATE VIEW planted AS {ENDLESS}",),
    (f"CREATE TRIGGER planted AFTER INSERT ON take BEGIN INSERT INTO source (name) {ENDLESS}; END",),
    ("DROP TABLE device", f"CREATE VIEW device AS {ENDLESS}"),
    ("DROP TABLE migration", f"CREATE VIEW migration AS SELECT i AS migration, 'takes' AS name FROM ({ENDLESS})"),
    ("DROP TABLE source", "CREATE TABLE source (source INTEGER PRIMARY KEY, name AS (hex(zeroblob(1000000000))))"),
    ("DROP TABLE source", "CREATE VIRTUAL TABLE source USING fts5(name)"),
    ("INSERT INTO migration (name, applied_utc) VALUES ('of tomorrow', '')",),
    ("INSERT INTO source (name) VALUES (CAST(zeroblob(900000000) AS TEXT))",),
    ("DROP TABLE source", "CREATE TABLE source (source, name CHECK (hex(zeroblob(1000000000)) > name))",
     "PRAGMA ignore_check_constraints = ON", "INSERT INTO source VALUES (1, 'x')"),
    ("CREATE TABLE many (x)", f"INSERT INTO many SELECT i FROM ({ENDLESS}) LIMIT 300000"),
    ("INSERT INTO source (name) SELECT hex(randomblob(50)) || i FROM (" + ENDLESS + ") LIMIT 200000",),
)  # fmt: skip


BOMBS = (
    ("device.jsonl", b'[1,"a","b"]\n'),
    ("help.jsonl", b'[null,1,1,"place",0]\n'),
    ("judgement.jsonl", b'[null,1,1,"",""]\n'),
    ("verdict.jsonl", b'[1,1,"clean",null,0,null,null]\n'),
    ("played.jsonl", b"[1,1,1,60,1,1,90,1]\n"),
    ("other.jsonl", b"[1]\n"),
    ("verdict.jsonl", b"[]\n"),
    ("contents.json", b'{"a": 1}'),
)
MAKERS: tuple[tuple[str, Callable[..., Path], list[tuple]], ...] = (
    ("a bomb", bombed, [(*bomb, times) for bomb in BOMBS for times in (5_000_000, 50_000_000)]),
    ("a bomb of documents", bombed_documents, [(5_000_000,), (50_000_000,)]),
    ("an endless line", bombed, [("take.jsonl", line, 200_000_000) for line in (b" ", b"[[[[", b"1", b'"x')]),
    ("a million members", many_members, [(100_000,), (1_000_000,)]),
    ("lying sizes", lying_sizes, [(0,), (100,), (2**31,), (2**32 - 2,)]),
    ("rows that are none", changed, [("verdict.jsonl", row) for row in ROWS[:10]]),
    ("documents that are none", documents_changed, [(row,) for row in ROWS[:10]]),
    ("contents that are none", changed, [("contents.json", row) for row in ROWS[:8]]),
    ("contents that lie", told, [(fields,) for fields in TOLD]),
    ("cut off", cut, [(0.01,), (0.5,), (0.99,)]),
    ("bytes changed", bytes_changed, [(number / 6,) for number in range(6)]),
    ("packed otherwise", packed_otherwise, [(zipfile.ZIP_LZMA,), (zipfile.ZIP_BZIP2,)]),
    ("encrypted", encrypted, [()]),
    ("no file", no_file, [(kind,) for kind in ("pipe", "sqlite pipe", "folder", "device", "link to itself")]),
    ("a hostile log", hostile_log, [(statements,) for statements in LOGS]),
    ("a hostile log", endless_takes, [()]),
    ("a hostile log", pages_in_a_ring, [()]),
)


def hostile_exports() -> Iterator[tuple[str, Maker]]:
    """What it is, and who makes it: a hundred."""
    for kind, maker, cases in MAKERS:
        for case in cases:
            yield kind, partial(maker, *case)
