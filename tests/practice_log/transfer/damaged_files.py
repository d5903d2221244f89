"""Logs as a broken disk, or a hand that meant it, leaves them."""

import sqlite3
from pathlib import Path

PAGE = 4096
"""Bytes of a page of a log."""


def pages_of(path: Path) -> int:
    return path.stat().st_size // PAGE


def flip(path: Path, page: int) -> Path:
    """Turn every bit of a page, counted from 1 as SQLite does."""
    content = bytearray(path.read_bytes())
    place = slice((page - 1) * PAGE, page * PAGE)
    content[place] = bytes(byte ^ 0xFF for byte in content[place])
    path.write_bytes(content)
    return path


def first_page_of(path: Path, name: str) -> int:
    """The page at which a table or an index begins."""
    log = sqlite3.connect(path)
    (page,) = log.execute("SELECT rootpage FROM sqlite_master WHERE name = ?", (name,)).fetchone()
    log.close()
    return page


def cut_off(path: Path, length: int) -> Path:
    path.write_bytes(path.read_bytes()[:length])
    return path
