"""Figures as CSV beside a report (RFC 4180, UTF-8 with its mark, which spreadsheets want): days as 2026-03-14, numbers
with a point, empty where there is nothing to tell.
"""

import csv
import io
from collections.abc import Callable, Sequence
from dataclasses import fields
from datetime import date
from pathlib import Path
from typing import Any

from game.paths import write_whole_file
from game.report.student import StudentReport

# Spreadsheets of East Asian languages take the full-width signs as well.
_FORMULA = ("=", "+", "-", "@", "\t", "\r", "|", "%", "\uff1d", "\uff0b", "\uff0d", "\uff20", "\uff5c", "\uff05")
# White space of all kinds, of no width too, the mark of byte order, and signs that turn the direction.
_PASSED_OVER = "".join(map(chr, (*range(0x21), 0x85, 0xA0, 0x1680, *range(0x2000, 0x2010), *range(0x2028, 0x2030)))) + (
    "\u205f\u2060\u2066\u2067\u2068\u2069\u3000\ufeff"
)


TABLES_BESIDE = ("days", "notes", "passages", "wrong")


def csv_files(report: StudentReport) -> tuple[bytes, ...]:
    """What stands in the files beside a page: days, notes, passages and what went wrong (`TABLES_BESIDE`)."""
    records: tuple[Sequence[Any], ...] = (report.days, report.notes, report.passages, report.wrong)
    return tuple(csv_text(one).encode("utf-8-sig") for one in records)


def write_csv_files(files: Sequence[bytes], page: Path) -> tuple[Path, ...]:
    """Write them beside a page, under its name, each whole or not at all. Raises `OSError`."""
    paths = table_paths(page)
    for path, content in zip(paths, files, strict=True):
        # A class has four for each student, made anew each Monday: they are not waited for one by one.
        write_whole_file(path, content, forced=False)
    return paths


def table_paths(page: Path) -> tuple[Path, ...]:
    """Where the tables of a page lie."""
    return tuple(page.with_name(f"{page.stem}-{what}.csv") for what in TABLES_BESIDE)


def csv_text(records: Sequence[Any]) -> str:
    """Records of one kind (dataclasses), a line each under the names of their fields; empty for none."""
    out = io.StringIO()
    rows = csv.writer(out, lineterminator="\r\n")
    names = [field.name for field in fields(records[0])] if records else []
    if names:
        rows.writerow(names)
    rows.writerows([_cell(getattr(record, name)) for name in names] for record in records)
    return out.getvalue()


def safe_cell(text: str) -> str:
    """Text that no spreadsheet takes for a formula: an apostrophe goes before what looks like one (OWASP, "CSV
    Injection"), also behind spaces and signs that nobody sees.
    """
    if text[:1].isalnum():
        return text
    seen = text.lstrip(_PASSED_OVER)
    return f"'{text}" if text.startswith(_FORMULA) or seen.startswith(_FORMULA) else text


def _figure(value: float) -> str:
    return f"{value:.4f}".rstrip("0").rstrip(".")


def _pairs(value: tuple[Any, ...]) -> str:
    return safe_cell("; ".join(" ".join(map(_cell, pair)) for pair in value))


_CELLS: dict[type, Callable[[Any], str]] = {
    str: safe_cell,
    int: str,
    float: _figure,
    date: date.isoformat,
    tuple: _pairs,
    type(None): lambda _: "",
}


def _cell(value: Any) -> str:
    as_cell = _CELLS.get(type(value))
    return as_cell(value) if as_cell else safe_cell(str(value))
