"""Our MusicXML as music21 (from PyPI) reads it: the outside check."""

import warnings


def read_by_music21(text):
    """The first part of a document."""
    with warnings.catch_warnings():
        warnings.simplefilter("ignore")
        from music21 import converter

        return converter.parse(text, format="musicxml").parts[0]
