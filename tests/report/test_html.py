"""Pages that need nothing beside them, in which what came out of files is only text."""

import pytest
from jinja2 import UndefinedError
from markupsafe import escape

from game.report import html
from game.report.html import html_page
from tests.speaking import speaking


def class_page(**parts):
    return html_page("index.html", **{"title": "x", "week": "", "rows": [], "faults": [], **parts})


def test_a_page_brings_its_style_and_its_fonts_along():
    page = class_page()
    assert page.count("@font-face") == 2
    assert "color-scheme: light" in page
    assert "default-src 'none'" in page


def test_text_is_escaped():
    page = class_page(title="<script>", faults=['"><img src=x>'])
    assert "<script>" not in page
    assert "<img" not in page
    assert "&lt;script&gt;" in page


def test_a_gap_that_nothing_fills_is_a_fault():
    with pytest.raises(UndefinedError):
        html_page("index.html", title="x")


def test_the_page_says_which_language_it_is_in():
    assert '<html lang="en">' in class_page()
    with speaking("de"):
        page = class_page(faults=["a.zip"])
    assert '<html lang="de">' in page
    assert "<h2>Was sich nicht lesen ließ</h2>" in page


def test_what_is_to_be_typed_is_marked_and_everything_else_escaped():
    assert html._with_code("say `a <b>` & `c`") == "say <code>a &lt;b&gt;</code> &amp; <code>c</code>"
    assert html._with_code("<nothing>") == "&lt;nothing&gt;"


def test_a_line_for_a_terminal_breaks_between_its_words_and_keeps_an_option_with_its_value():
    line = """homefret assign --title "The Hall, bars 1–2" --tune 'a "b"':1-2 --stage <i>"""
    parts = ("homefret", "assign", '--title "The Hall, bars 1–2"', "--tune 'a \"b\"':1-2", "--stage <i>")
    assert html._typed(line) == " ".join(f"<span>{escape(part)}</span>" for part in parts)


def test_bars_are_never_parted_from_their_numbers_however_long_the_title_before_them():
    assert html._kept("<b>, bars 1–4: why") == '&lt;b&gt;, <span class="kept">bars 1–4:</span> why'
    assert html._kept("x" * 60 + " 1–4") == "x" * 48 + f'<span class="kept">{"x" * 12} 1–4</span>'
    assert html._kept("A & B") == "A &amp; B"


def test_a_page_says_what_made_it_and_a_students_page_which_class_it_is_of(tmp_path):
    page = tmp_path / "page.html"
    page.write_text(class_page(), encoding="utf-8")
    assert '<meta name="generator" content="Homefret">' in class_page()
    assert not html.is_student_page_of(page, "index.html")
    for name in ("index.html", "<friday>.html"):
        page.write_text(f'<meta name="generator" content="{escape(html.generator(name))}">', encoding="utf-8")
        assert html.is_student_page_of(page, name)
        assert not html.is_student_page_of(page, "monday.html")
