"""What kind of music a page holds."""

from dataclasses import replace
from fractions import Fraction

import pytest

from game.music.chords import ChordSymbol
from game.music.score import BarMarks
from game.music.tune_kind import TuneKind, tune_kind
from tests.made import score

SYMBOL = ChordSymbol(onset=Fraction(0), root="C", kind="major", text="C")


def page(*, title="The Ford", with_chords=8, section="", swung=None):
    """Eight bars, the first ones with a chord."""
    made = score(*["C5 w"] * 8, title=title)
    bars = [
        replace(bar, chords=(SYMBOL,) if at < with_chords else (), marks=BarMarks(section=section if at == 0 else ""))
        for at, bar in enumerate(made.bars)
    ]
    return replace(made, bars=tuple(bars), swung=swung)


@pytest.mark.parametrize(
    ("asked", "kind"),
    [
        ({}, TuneKind.SONG),
        ({"section": "A"}, TuneKind.LEAD_SHEET),
        ({"swung": True}, TuneKind.LEAD_SHEET),
        ({"swung": False}, TuneKind.LEAD_SHEET),
        ({"swung": True, "with_chords": 1}, TuneKind.LEAD_SHEET),
        ({"swung": True, "with_chords": 0}, TuneKind.SONG),
        ({"section": "A", "with_chords": 0}, TuneKind.SONG),
        ({"title": "Study: The Thread", "section": "A", "swung": True}, TuneKind.STUDY),
        ({"title": "Étude Nº 3"}, TuneKind.STUDY),
        ({"title": "Übung 12"}, TuneKind.STUDY),
        ({"title": "A Study in Scarlet", "swung": True}, TuneKind.LEAD_SHEET),
        ({"title": "Studying at Night"}, TuneKind.SONG),
        ({"title": ""}, TuneKind.SONG),
    ],
)
def test_chords_with_sections_or_a_feel_make_a_lead_sheet_and_the_title_a_study(asked, kind):
    """A rehearsal mark above a part without chords, and chords above a hymn, are neither."""
    assert tune_kind(page(**asked)) is kind
