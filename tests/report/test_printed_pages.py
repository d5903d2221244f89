"""Music on paper: every line whole on a page, titles and chord symbols as text, in fonts that are in the file."""

import io
from dataclasses import replace

import pytest
from pypdf import PdfReader

from game.music.passage import whole_tune
from game.music.written import HeadId
from game.report.printed_pages import Paper, PrintedPiece, printed_pages
from game.tunes.library.library import open_entry, shipped_entries
from tests.made import score

POINTS_A_MM = 72 / 25.4


def piece_of(score_, title="The Weir"):
    passage = whole_tune(score_)
    return PrintedPiece(title=title, facts="bars 1-8, places", bars=passage.bars, reading=passage.reading)


def read(pieces, paper=Paper.A4):
    return PdfReader(io.BytesIO(printed_pages(pieces, paper)))


def texts(reader):
    """Each text with the height of its baseline above the lower edge, in mm, page by page."""
    pages = []
    for page in reader.pages:
        found = []
        page.extract_text(visitor_text=lambda text, _cm, tm, *_, found=found: found.append((text.strip(), tm[5])))
        pages.append([(text, y / POINTS_A_MM) for text, y in found if text])
    return pages


@pytest.mark.parametrize(
    ("paper", "size_mm"), [(Paper.A4, (210, 297)), (Paper.LETTER, (215.9, 279.4))], ids=["ISO 216", "ANSI Y14.1"]
)
def test_pages_have_the_size_of_the_paper(paper, size_mm):
    (page,) = read([piece_of(score("F4 w"))], paper).pages
    assert (float(page.mediabox.width), float(page.mediabox.height)) == pytest.approx(
        tuple(side * POINTS_A_MM for side in size_mm), abs=0.1
    )


def test_the_positions_of_the_hand_stand_above_their_notes_as_text():
    piece = replace(piece_of(score("A4 q, F3 q, A4 h")), numerals={HeadId(0, 0): "V", HeadId(0, 1): "III"})
    ((*_, page),) = (texts(read([piece])),)
    heights = dict(page)
    assert heights["V"] == pytest.approx(heights["III"], abs=0.5)
    assert heights["bars 1-8, places"] > heights["V"]


def test_title_facts_and_chord_symbols_are_text_that_can_be_searched():
    entry = next(entry for entry in shipped_entries() if entry.title == "Ode to Joy")
    words = read([piece_of(open_entry(entry), entry.title)]).pages[0].extract_text()
    assert "Ode to Joy" in words
    assert "bars 1-8, places" in words
    assert "B♭" in words
    assert "F7" in words


def test_the_fonts_are_in_the_file():
    page = read([piece_of(score("F4 w"))]).pages[0]
    for font in page["/Resources"]["/Font"].values():
        (descendant,) = font["/DescendantFonts"]
        assert "/FontFile2" in descendant["/FontDescriptor"]


def test_a_long_tune_goes_on_over_pages_and_nothing_leaves_the_paper():
    reader = read([piece_of(score(*["F4 q, A4 q, C5 q, E5 q"] * 120)), piece_of(score("F4 w"), "Afterwards")])
    assert len(reader.pages) >= 3
    for number, page in enumerate(texts(reader), start=1):
        assert f"page {number}" in [text for text, _ in page]
        assert all(5 < y < 297 - 15 for _, y in page)
    assert "Afterwards" in reader.pages[-1].extract_text()


def test_a_title_never_stands_alone_at_the_foot_of_a_page():
    for page in texts(read([piece_of(score("F4 w"), f"Piece {number}") for number in range(30)])):
        titles = [y for text, y in page if text.startswith("Piece")]
        assert titles
        assert min(titles) > 30


def test_a_title_wider_than_the_paper_is_cut():
    words = read([piece_of(score("F4 w"), "A very long title " * 12)]).pages[0].extract_text()
    assert "…" in words


def test_nothing_to_print_is_an_empty_document_and_no_fault():
    assert printed_pages([]).startswith(b"%PDF-")
