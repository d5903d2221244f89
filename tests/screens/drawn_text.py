"""Every text that is drawn on screen, as it was before it was broken into lines or cut to its room."""

import sys

from game.desk import pencil, typography
from game.desk.kit.canvas import Canvas
from game.screens import router
from game.tunes.library.library import shelf
from tests.bare_words import bare_words

assert router, "all screens are loaded now: one that came later would have caught functions for good"


TITLES = {"The Ford at Low Water", "The Weir", "A week"}
FILES = r"\b[\w-]+\.(musicxml|toml|txt|abc)\b"
KEY_CAPS = r"\bF\d+\b"
CHORDS = r"\b[A-G][♯♭]*(m|maj|dim|aug|sus)?\d*([♯♭]\d+)*(?!\w)"
FORMATS = {"MusicXML", "ABC", "MIDI"}


class DrawnText:
    """Catches texts where type is set, from now on: `whole` are those that were drawn, each once."""

    def __init__(self, monkeypatch):
        self.whole: dict[str, None] = {}
        self._parts: set[str] = set()
        self._font = typography.font
        for name in ("wrapped", "shortened"):
            self._replace(monkeypatch, getattr(typography, name), self._whole_of)
        for module in (typography, pencil):
            monkeypatch.setattr(module, "font", self._catching_font)
        typography._set.clear()
        pencil.letters.cache_clear()

    def _replace(self, monkeypatch, function, catching):
        """In every module that has imported it, for all of them call it by its name."""
        caught = catching(function)
        for name, module in list(sys.modules.items()):
            if name.startswith("game.") and getattr(module, function.__name__, None) is function:
                monkeypatch.setattr(module, function.__name__, caught)

    def _whole_of(self, function):
        def caught(text, *measures):
            made = function(text, *measures)
            self.whole[text] = None
            self._parts |= {made} if isinstance(made, str) else set(made)
            return made

        return caught

    def _catching_font(self, face, px):
        return _Font(self._font(face, px), self._drawn)

    def _drawn(self, text):
        if text not in self._parts:
            self.whole[text] = None


class _Font:
    """A font that tells what it draws."""

    def __init__(self, font, drawn):
        self._font, self._drawn = font, drawn

    def __getattr__(self, name):
        return getattr(self._font, name)

    def render(self, text, *how):
        self._drawn(text)
        return self._font.render(text, *how)


def bare(drawn, *known):
    """Each text in which a word is bare, with that word."""
    names = {*TITLES, *FORMATS, *known, *(name for entry in shelf() for name in (entry.title, entry.composer) if name)}
    found = {text: bare_words(text, names, (FILES, KEY_CAPS, CHORDS)) for text in drawn.whole}
    return {text: words for text, words in found.items() if words}


def beginnings(typed):
    """A word as it is typed, letter by letter."""
    return [typed[:length] for length in range(2, len(typed) + 1)]


def written_texts(monkeypatch):
    """Every text as it stands on the picture from now on, cut where it is cut."""
    texts, write = [], Canvas.write

    def noting(canvas, text, *where):
        texts.append(text)
        return write(canvas, text, *where)

    monkeypatch.setattr(Canvas, "write", noting)
    return texts
