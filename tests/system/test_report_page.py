"""The report in a real browser: quiet, whole by itself, and readable by everybody as far as a program can tell.

What is readable is judged by axe-core (npm, MPL-2.0), by its rules for WCAG 2.1 A and AA.
"""

import json
import subprocess
from datetime import UTC, date, datetime

import pytest

from game.practice_log.database.opening import opened_log
from game.practice_log.school.head_sums import ClassSums
from game.practice_log.transfer.export import write_export
from game.report.report_files import write_class
from game.report.school_page import school_page
from tests.practice_log.logged_takes import PLAYER
from tests.report.month import write_month
from tests.system.browser import browser
from tests.system.needs import require

pytestmark = pytest.mark.system

SCHOOL_CLASS = ClassSums(
    name="3a", teachers=("anna", "bob"), students=30, practised=20, week_minutes=1234.0, before_minutes=900.0,
    week_takes=400, read=4000, clean=3500, read_timed=1000, clean_timed=800,
)  # fmt: skip
AXE = "axe-core@4.14.1"
RULES = ["wcag2a", "wcag2aa", "wcag21a", "wcag21aa", "best-practice"]


@pytest.fixture(scope="module")
def axe(tmp_path_factory):
    """The source of axe-core."""
    npm = require("npm", package="npm")
    folder = tmp_path_factory.mktemp("axe")
    words = [npm, "install", "--no-audit", "--no-fund", "--ignore-scripts", "--prefix", str(folder), AXE]
    done = subprocess.run(words, capture_output=True, text=True, check=False, timeout=300)
    assert done.returncode == 0, done.stderr
    return (folder / "node_modules" / "axe-core" / "axe.min.js").read_text(encoding="utf-8")


@pytest.fixture(scope="module")
def pages(tmp_path_factory):
    """The page of all students, with one file that is broken, and that of a student."""
    folder = tmp_path_factory.mktemp("class")
    write_month(folder / "practice.log")
    with opened_log(folder / "practice.log") as connection:
        write_export(connection, PLAYER, folder / "ada.zip", now=datetime(2026, 6, 1, tzinfo=UTC))
    (folder / "broken.zip").write_bytes(b"no zip")
    written = write_class(folder, folder / "index.html")
    (folder / "school.html").write_text(school_page([SCHOOL_CLASS], date(2026, 11, 30)), encoding="utf-8")
    return {"all": written.index, "student": written.students[0].files[0], "school": folder / "school.html"}


@pytest.fixture(scope="module")
def window(tmp_path_factory):
    with browser(tmp_path_factory.mktemp("profile")) as window:
        yield window


@pytest.mark.parametrize("page", ["all", "student", "school"])
def test_a_page_asks_for_nothing_and_complains_of_nothing(window, pages, page):
    window.asked_for()
    window.log("browser")
    address = pages[page].as_uri()
    window.open(address)
    asked = window.asked_for()
    assert address in asked
    # What the browser's own first page still asks itself for, on a busy computer, is `chrome:`: no page of ours can.
    assert [url for url in asked if url != address and not url.startswith(("data:", "chrome:"))] == []
    assert window.log("browser") == []


@pytest.mark.parametrize("page", ["all", "student", "school"])
def test_a_page_has_no_fault_that_axe_finds(window, pages, axe, page):
    window.open(pages[page].as_uri())
    words = json.dumps({"runOnly": RULES, "preload": False})
    found = window.run(f"{axe}; axe.run(document, {words}).then(arguments[arguments.length - 1]);")
    faults = [
        (fault["impact"], fault["id"], [node["target"] for node in fault["nodes"][:3]]) for fault in found["violations"]
    ]
    assert faults == []
    assert len(found["passes"]) > 10


def test_axe_finds_a_fault_where_there_is_one(window, axe, tmp_path):
    (tmp_path / "bad.html").write_text("<!doctype html><title>x</title><img src='data:,'>", encoding="utf-8")
    window.open((tmp_path / "bad.html").as_uri())
    found = window.run(f"{axe}; axe.run(document).then(arguments[arguments.length - 1]);")
    assert {"image-alt", "html-has-lang"} <= {fault["id"] for fault in found["violations"]}
