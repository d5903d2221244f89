"""English in brackets: «what is said so comes from the catalogue». A bare word on screen or on paper is seen."""

from game.message import VERBATIM
from game.text.catalogue import SOURCE_LANGUAGE, Catalogue

PSEUDO = "pseudo"
"""How the language of brackets is asked for. It is nobody's: no setting offers it."""

OPENING, CLOSING = "«", "»"
"""The shipped fonts have them, and no sentence of ours uses them otherwise."""


class BracketedCatalogue(Catalogue):
    """The English sentences, each in brackets; what stands as it is (names, old entries of a log) has none."""

    def __init__(self) -> None:
        super().__init__(SOURCE_LANGUAGE)

    def say(self, key: str, /, **values: object) -> str:
        text = super().say(key, **values)
        return text if key == VERBATIM else f"{OPENING}{text}{CLOSING}"
