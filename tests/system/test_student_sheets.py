"""A student's page for their teacher in a real browser: on paper, on a phone, and for those who cannot see it.

What is readable is judged by axe-core, as for the other pages (`test_report_page`).
"""

import io
import json
from itertools import product

import pypdf
import pytest

from tests.report.class_with_sheets import TODAY, advised, class_of_three, weeks_of, write_student
from tests.sampling import sample
from tests.speaking import speaking
from tests.system.test_report_page import RULES

pytestmark = pytest.mark.system

MOST_SHEETS = 3
CASES = tuple(product(("Ada", "Cem"), ("en", "de"), (390, 1280)))


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


@pytest.mark.parametrize("language", sample(("de", "en"), by_default=1))
def test_the_fullest_page_prints_on_three_sheets_of_paper(window, pages, language):
    """A4, ISO 216: 210 by 297 mm."""
    window.open(pages["Ada", language].as_uri())
    sheets = pypdf.PdfReader(io.BytesIO(window.printed(width_cm=21.0, height_cm=29.7))).pages
    assert 1 < len(sheets) <= MOST_SHEETS
    text = " ".join(" ".join(sheet.extract_text() for sheet in sheets).split())
    assert "Ada Lovelace" in text
    assert "homefret assign" in text


@pytest.mark.parametrize("width", [390, 1280])
def test_no_page_is_wider_than_its_screen_or_asks_for_anything(window, pages, width):
    window.as_wide_as(width)
    for page in pages.values():
        window.asked_for()
        window.open(page.as_uri())
        assert window.run("arguments[arguments.length - 1](document.documentElement.scrollWidth);") <= width
        assert [url for url in window.asked_for() if not url.startswith(("data:", "chrome:", page.as_uri()))] == []


@pytest.mark.parametrize(("name", "language", "width"), sample(CASES, by_default=1))
def test_axe_finds_no_fault(window, pages, axe, name, language, width):
    words = json.dumps({"runOnly": RULES, "preload": False})
    window.as_wide_as(width)
    window.open(pages[name, language].as_uri())
    found = window.run(f"{axe}; axe.run(document, {words}).then(arguments[arguments.length - 1]);")
    assert [(fault["id"], [node["target"] for node in fault["nodes"][:3]]) for fault in found["violations"]] == []
    assert len(found["passes"]) > 10
