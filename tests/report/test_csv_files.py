"""Figures as CSV: plain for programs, harmless for spreadsheets."""

import csv
import io
from contextlib import contextmanager
from dataclasses import dataclass, replace
from datetime import date

import pytest

from game.report.csv_files import csv_files, csv_text, safe_cell, write_csv_files
from tests.report.month import write_month
from tests.report.reports_of_files import reports_of
from tests.speaking import speaking


@dataclass(frozen=True)
class Row:
    name: str
    day: date
    share: float | None
    times: int
    causes: tuple[tuple[str, int], ...]


ROW = Row(name='a, "b"', day=date(2026, 3, 14), share=0.5, times=12, causes=(("slip", 2), ("octave", 1)))


def test_fields_are_headings_days_iso_numbers_with_a_point_and_nothing_is_empty():
    text = csv_text([ROW, Row("x", date(2026, 1, 2), None, 0, ())])
    assert text.splitlines() == [
        "name,day,share,times,causes",
        '"a, ""b""",2026-03-14,0.5,12,slip 2; octave 1',
        "x,2026-01-02,,0,",
    ]
    assert text.endswith("\r\n")
    assert csv_text([]) == ""


@pytest.mark.parametrize("text", ["=1+1", "+x", "-x", "@x", " =1", "|calc", "%x", "＝1+1", "＋x", "－x", "＠x", " ＝1"])
def test_text_that_a_spreadsheet_would_run_is_text(text):
    assert safe_cell(text) == f"'{text}"
    (_, row) = csv.reader(io.StringIO(csv_text([Row(text, date(2026, 1, 2), None, 0, ())])))
    assert row[0] == f"'{text}"


def test_other_text_stands_as_it_is():
    assert safe_cell("Möwe - 2") == "Möwe - 2"


def test_four_tables_lie_beside_the_page_under_its_name_alike_in_each_language(tmp_path):
    write_month(tmp_path / "practice.sqlite")
    (report,) = reports_of(tmp_path / "practice.sqlite")
    written = write_csv_files(csv_files(report), tmp_path / "page.html")
    assert [path.name for path in written] == [f"page-{what}.csv" for what in ("days", "notes", "passages", "wrong")]
    english = [path.read_bytes() for path in written]
    assert all(text.startswith(b"\xef\xbb\xbf") for text in english)
    with speaking("de"):
        assert [path.read_bytes() for path in write_csv_files(csv_files(report), tmp_path / "page.html")] == english


def test_a_table_for_which_there_is_no_room_is_told_and_that_of_before_stays_whole(tmp_path, most_bytes):
    write_month(tmp_path / "practice.sqlite")
    (report,) = reports_of(tmp_path / "practice.sqlite")
    page = tmp_path / "page.html"
    before = {path: path.read_bytes() for path in write_csv_files(csv_files(report), page)}
    with most_bytes(64), pytest.raises(OSError, match="too large"):
        write_csv_files(csv_files(replace(report, days=report.days[:1])), page)
    assert {path: path.read_bytes() for path in tmp_path.glob("page*")} == before


@pytest.fixture
def most_bytes():
    """A way to let no file grow beyond so many bytes, which the system refuses in the middle of writing."""
    resource = pytest.importorskip("resource")

    @contextmanager
    def limited(most):
        before = resource.getrlimit(resource.RLIMIT_FSIZE)
        resource.setrlimit(resource.RLIMIT_FSIZE, (most, before[1]))
        try:
            yield
        finally:
            resource.setrlimit(resource.RLIMIT_FSIZE, before)

    return limited
