"""A language for some lines of a test."""

from collections.abc import Iterator
from contextlib import contextmanager

from game.text import catalogue
from game.text.catalogue import catalogue_in
from game.text.language import PSEUDO
from game.text.pseudo import BracketedCatalogue


@contextmanager
def speaking(language: str) -> Iterator[None]:
    """Speak a language, in this process, and then again the one before."""
    before = catalogue.chosen()
    catalogue.choose(BracketedCatalogue() if language == PSEUDO else catalogue_in(language))
    try:
        yield
    finally:
        catalogue.choose(before)
