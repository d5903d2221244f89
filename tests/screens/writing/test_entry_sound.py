"""The page as it sounds."""

from fractions import Fraction

import pytest

from game.screens.writing.entry_sound import hear_page
from game.tunes.entering.draft import Draft
from tests.tunes.entering.made_taps import BEATS, tapped_run, taps, with_pitches


def test_the_page_sounds_from_the_bar_with_the_pencil_at_the_tempo_of_the_click(table, monkeypatch):
    lines = []
    monkeypatch.setattr(table.context.devices.sound, "play", lambda given, _clock: lines.extend(given))
    draft = tapped_run(with_pitches(8, tempo_bpm=60), taps(BEATS)).draft
    hear_page(table.context, draft, 5)
    assert [note.onset_s for note in lines[0].notes] == pytest.approx([float(Fraction(beat)) for beat in range(4)])
    assert [note.sounding for note in lines[0].notes] == [pitch.sounding for pitch in draft.pitches[4:]]


def test_nothing_sounds_where_there_is_nothing(table, monkeypatch):
    monkeypatch.setattr(table.context.devices.sound, "play", None)
    hear_page(table.context, Draft(), 0)
