"""How notes are called where nobody chose: as usual in the language that is spoken, H and B in German."""

import os

from game.music.names import NoteNames
from game.text.catalogue import SOURCE_LANGUAGE, catalogue_in
from game.text.language import PSEUDO, wanted_language


def usual_note_names(language: str = "") -> NoteNames:
    """The names of the language that is spoken where the settings say `language`, "" for that of the system."""
    spoken = wanted_language(language, os.environ)
    return NoteNames(catalogue_in(SOURCE_LANGUAGE if spoken == PSEUDO else spoken).say("language.note_names"))
