"""Chord symbols as MusicXML 4.0 `harmony`."""

from xml.sax.saxutils import escape, quoteattr

from game.music.chords import ChordSymbol

_ALTERS = {"": 0, "#": 1, "b": -1, "##": 2, "bb": -2}
# For "N.C." and anything else without a root the schema still wants a root-step; its empty text hides it.
_NO_ROOT = '<root><root-step text="">C</root-step></root>'


def harmony(chord: ChordSymbol, offset_divisions: int) -> str:
    """One chord symbol, `offset_divisions` after the place in the bar where it is written."""
    root = _named("root", chord.root) if chord.root else _NO_ROOT
    kind = f"<kind text={quoteattr(_kind_text(chord))}>{escape(chord.kind or 'none')}</kind>"
    bass = _named("bass", chord.bass) if chord.bass else ""
    offset = f"<offset>{offset_divisions}</offset>" if offset_divisions else ""
    return f"<harmony>{root}{kind}{bass}{offset}</harmony>"


def _named(what: str, name: str) -> str:
    alter = _ALTERS.get(name[1:], 0)
    altered = f"<{what}-alter>{alter}</{what}-alter>" if alter else ""
    return f"<{what}><{what}-step>{escape(name[0])}</{what}-step>{altered}</{what}>"


def _kind_text(chord: ChordSymbol) -> str:
    """What stands between the root and the bass in the text on the page: "m7" of "Gm7/D"."""
    text = chord.text.removeprefix(chord.root)
    return text.removesuffix(f"/{chord.bass}") if chord.bass else text
