"""A table for each test, and what may be plugged in there."""

import pytest

from game.text import language
from tests.screens.drawn_text import DrawnText
from tests.screens.plugged_in import Plugged
from tests.screens.table import Table


@pytest.fixture
def table(tmp_path):
    return Table(tmp_path)


@pytest.fixture
def pickup(table):
    return Plugged(table)


@pytest.fixture
def in_brackets(monkeypatch):
    """The pseudo-language is spoken, also where somebody else takes the seat, whose settings choose a language."""
    monkeypatch.setenv(language.LANGUAGE_VARIABLE, language.PSEUDO)
    language.choose_language()
    yield
    monkeypatch.undo()
    language.choose_language()


@pytest.fixture
def drawn(monkeypatch):
    """Every text that is drawn from now on."""
    return DrawnText(monkeypatch)
