"""Bars put together again from a log come out as the page had them."""

from dataclasses import replace
from fractions import Fraction

import pytest

from game.engraving.ids import note_id
from game.engraving.notation import musicxml
from game.judging.tolerance import BarSpan
from game.music.meter import Meter
from game.music.passage import passages_of
from game.music.score import Note, Rest
from game.music.written import written_out
from game.neck.neck_map import standard_map
from game.practice_log.rows.take_beginning import asked_in, bars_of
from game.report.rebuilt_bars import rebuilt
from game.tunes.library.library import open_entry, shipped_entries
from tests.engraving.verovio_timemap import timemap
from tests.made import bar, passage, score
from tests.tunes.book_by_number import book_by_number

MAP = standard_map()


def _again(tune):
    return rebuilt(asked_in(tune, MAP), bars_of(tune), tune.reading)


@pytest.mark.parametrize(
    "rows",
    [
        ("F4 q, G4 q, A4 q, Bb4 q", "C5 h, F#4 h"),
        ("r q, G4 e, A4 e, Bb4 h ~", "~Bb4 q, r h."),
        ("C5 q., D5 e, r h", "r w", "F4 w"),
    ],
)
@pytest.mark.parametrize("key", [-1, -3, 2])
def test_bars_with_rests_ties_and_signatures_come_back_note_for_note(rows, key):
    tune = passage(*rows, key=key)
    again = _again(tune)
    assert again.passage.notes == tune.notes
    assert [one.key.fifths for one in again.passage.bars] == [key] * len(rows)
    assert [one.number for one in again.passage.bars] == [one.number for one in tune.bars]
    values = [[(event.onset, event.length, type(event)) for event in one.events] for one in tune.bars]
    assert [[(event.onset, event.length, type(event)) for event in one.events] for one in again.passage.bars] == values


def test_a_pickup_bar_and_the_short_bar_that_ends_its_tune_come_back():
    bars = (
        bar("C5 q", number="0", meter=Meter(3, 4), pickup=True),
        bar("F4 h, A4 q", number="1", meter=Meter(3, 4)),
        bar("F4 h", number="2", meter=Meter(3, 4)),
    )
    tune = replace(passage("F4 w"), score=replace(score("F4 w"), bars=bars), stop=3)
    again = _again(tune)
    assert again.sure
    assert [one.length for one in again.passage.bars] == [1, 3, 2]
    assert again.passage.bars[0].pickup


def test_every_passage_of_the_shipped_tunes_comes_back_with_its_notes_and_nineteen_of_twenty_surely_as_they_were():
    sure = total = 0
    for entry in shipped_entries():
        for tune in passages_of(written_out(open_entry(entry))):
            again = _again(tune)
            assert [(one.onset, one.length, one.pitch) for one in again.passage.notes] == [
                (one.onset, one.length, one.pitch) for one in tune.notes
            ]
            sure += again.sure
            total += 1
    assert total > 50
    assert sure / total > 0.95


def test_the_engraved_page_sounds_when_the_log_says():
    """Against verovio's own account of what begins when (`renderToTimemap`): ids of the heads, in quarter notes."""
    for entry in book_by_number()[3:40:6]:
        tune = passages_of(written_out(open_entry(entry)))[0]
        asked = asked_in(tune, MAP)
        again = rebuilt(asked, bars_of(tune), tune.reading)
        begins = {
            name: step["qstamp"]
            for step in timemap(musicxml(again.passage.bars, again.passage.reading, final_barline=False))
            for name in step.get("on", ())
        }
        for logged, note in zip(asked.notes, again.passage.notes, strict=True):
            assert begins[note_id(note.heads[0])] == pytest.approx(float(logged.note.onset), abs=1e-3)


def test_a_key_that_changes_on_the_way_changes_there():
    bars = (bar("F4 q, Bb4 q, C5 h", number="1", key=-1), bar("F#4 q, B4 q, C#5 h", number="2", key=2))
    tune = replace(passage("F4 w"), score=replace(score("F4 w"), bars=bars), stop=2)
    assert [one.key.fifths for one in _again(tune).passage.bars] == [-1, 2]


def test_notes_that_fill_no_bars_make_no_page():
    tune = passage("F4 q, G4 q, A4 q, Bb4 q", "C5 h, F#4 h", key=-1)
    asked, bars = asked_in(tune, MAP), bars_of(tune)
    backwards = replace(asked, spans=asked.spans[::-1])
    apart = replace(asked, spans=(*asked.spans, BarSpan(start=Fraction(10**9), meter=Meter(4, 4))) * 300)
    endless = replace(asked, spans=(asked.spans[0], replace(asked.spans[1], start=Fraction(10**9))))
    fine = replace(asked, spans=(asked.spans[0], replace(asked.spans[1], start=4 + Fraction(1, 10**9))))
    for broken in (replace(asked, notes=()), replace(asked, spans=()), backwards, apart, endless, fine):
        assert rebuilt(broken, bars, tune.reading) is None


def test_a_rebuilt_bar_is_as_long_as_what_it_holds():
    again = _again(passage("r q, G4 e, A4 e, Bb4 h ~", "~Bb4 q, r h.", key=-1))
    for one in again.passage.bars:
        assert sum(event.length for event in one.events) == one.length
        assert all(isinstance(event, Note | Rest) for event in one.events)
