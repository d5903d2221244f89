"""A student's page for their teacher in a real browser: on paper, on a phone, and for those who cannot see it.

What is readable is judged by axe-core, as for the other pages (`test_report_page`).
"""

import json
import subprocess

import pypdf
import pytest

from game.report.student_sheets import write_student
from tests.report.class_with_sheets import TODAY, advised, class_of_three, weeks_of
from tests.speaking import speaking
from tests.system.browser import FLAGS, browser
from tests.system.needs import require
from tests.system.test_report_page import RULES, axe  # noqa: F401

pytestmark = pytest.mark.system

A4_POINTS = (595, 842)
MOST_SHEETS = 3


@pytest.fixture(scope="module")
def pages(tmp_path_factory):
    """The fullest page and the emptiest, in both languages."""
    connection, folder = class_of_three(), tmp_path_factory.mktemp("sheets")
    written = {}
    for language in ("en", "de"):
        with speaking(language):
            for name in ("Ada", "Cem"):
                student = advised(weeks_of(connection)[name])
                where = write_student(connection, student, folder / language, TODAY, index="index.html")
                written[name, language] = where
    return written


@pytest.fixture(scope="module")
def window(tmp_path_factory):
    with browser(tmp_path_factory.mktemp("profile")) as window:
        yield window


@pytest.mark.parametrize(("name", "language"), [("Ada", "de"), ("Ada", "en")])
def test_the_fullest_page_prints_on_three_sheets_of_a4(pages, tmp_path, name, language):
    out = tmp_path / "page.pdf"
    words = [
        require("chromium", package="chromium"), *FLAGS, f"--user-data-dir={tmp_path / 'profile'}",
        "--no-pdf-header-footer", f"--print-to-pdf={out}", pages[name, language].as_uri(),
    ]  # fmt: skip
    subprocess.run(words, capture_output=True, check=True, timeout=120)
    sheets = pypdf.PdfReader(out).pages
    assert 1 < len(sheets) <= MOST_SHEETS
    assert {tuple(round(float(side)) for side in sheet.mediabox[2:]) for sheet in sheets} == {A4_POINTS}


@pytest.mark.parametrize("width", [390, 1280])
def test_nothing_is_wider_than_a_phone_and_axe_finds_no_fault(window, pages, axe, width):  # noqa: F811
    window.as_wide_as(width)
    for page in pages.values():
        window.asked_for()
        window.open(page.as_uri())
        scrolled = window.run("arguments[arguments.length - 1](document.documentElement.scrollWidth);")
        assert scrolled <= width, page
        assert [url for url in window.asked_for() if not url.startswith(("data:", "chrome:", page.as_uri()))] == []
        words = json.dumps({"runOnly": RULES, "preload": False})
        found = window.run(f"{axe}; axe.run(document, {words}).then(arguments[arguments.length - 1]);")
        assert [(fault["id"], [node["target"] for node in fault["nodes"][:3]]) for fault in found["violations"]] == []
        assert len(found["passes"]) > 10
