"""What kind of music a page holds, as its reader tells it apart: a lead sheet, a study, or a song. Pure."""

import unicodedata
from enum import Enum

from game.music.score import Score


class TuneKind(Enum):
    """What a page is to its reader. A `SONG` is every page that is nothing else: hymns, dances and themes too."""

    SONG = "song"
    STUDY = "study"
    LEAD_SHEET = "lead sheet"


# A title that begins with one of these, in the languages titles are printed in, without accents.
_STUDY_WORDS = frozenset("study etude etuede studie estudio studio exercise ubung uebung ejercicio esercizio".split())
# Charts of one chord for eight bars are common; a chord name on one page of a symphony makes no lead sheet (ours).
_CHORD_IN_BARS = 8


def tune_kind(score: Score) -> TuneKind:
    """The kind of a tune, by what stands on its page.

    A study says so at the beginning of its title. A lead sheet has chord symbols all along, one in eight bars at
    least, and says how it is felt or divided as charts do: swing or straight eighths in words, or boxed sections. A
    melody with chords and "Andante" above it is a song.
    """
    if not _STUDY_WORDS.isdisjoint(_plain_words(score.title)[:1]):
        return TuneKind.STUDY
    with_chords = sum(bool(bar.chords) for bar in score.bars)
    as_a_chart = score.swung is not None or any(bar.marks.section for bar in score.bars)
    if as_a_chart and with_chords * _CHORD_IN_BARS >= len(score.bars):
        return TuneKind.LEAD_SHEET
    return TuneKind.SONG


def _plain_words(title: str) -> list[str]:
    apart = unicodedata.normalize("NFKD", title.casefold())
    return "".join(char if char.isalpha() else " " for char in apart if not unicodedata.combining(char)).split()
