"""The guide is one page with its pictures and their words."""

import io

import pygame
import pytest
from pypdf import PdfReader

from game.report.printed_guide import GuidePicture, printed_guide


@pytest.fixture
def pictures(tmp_path):
    path = tmp_path / "desk.png"
    pygame.image.save(pygame.Surface((160, 90)), path)
    return [GuidePicture(path, f"What number {number} is for, in a sentence or two.") for number in range(6)]


def test_it_is_one_page_with_all_pictures_and_all_words(pictures):
    (page,) = PdfReader(io.BytesIO(printed_guide(pictures))).pages
    words = page.extract_text()
    assert all(f"What number {number} is for" in words for number in range(6))
    assert "read music on the guitar" in words
    assert "ask a teacher or a doctor" in words


def test_nothing_reaches_below_the_paper(pictures):
    (page,) = PdfReader(io.BytesIO(printed_guide(pictures))).pages
    heights = []
    page.extract_text(visitor_text=lambda text, _cm, tm, *_: heights.append(tm[5]) if text.strip() else None)
    assert min(heights) > 30
