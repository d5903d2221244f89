"""The evening of a programme."""

from dataclasses import replace

from game.coach.stages import Pulse, Stage
from game.screens.choosing.evening import evening_tunes, tempo_of, whole_request
from game.tunes.library.library import shelf
from tests.screens.choosing.signed_tunes import sign_pages


def test_tunes_stand_in_the_order_they_were_picked_and_one_that_is_gone_keeps_its_place(table):
    first, second = shelf()[4], shelf()[1]
    tunes = evening_tunes(table.context, (first.name, "gone", second.name))
    assert [tune.entry for tune in tunes] == [first, None, second]
    assert [bool(tune.pages.pages) for tune in tunes] == [True, False, True]
    assert whole_request(table.context, tunes[1]) is None


def test_a_tune_is_played_whole_with_the_metronome_at_the_tempo_all_its_pages_were_kept_at(table):
    """Never faster than the target."""
    entry = shelf()[2]
    sign_pages(table, entry, bpm=88)
    sign_pages(table, entry, pages=1, bpm=64)
    table.settle(target_bpm=80)
    (tune,) = evening_tunes(table.context, (entry.name,))
    request = whole_request(table.context, tune)
    assert (request.passage.whole, request.stage, request.pulse) == (True, Stage.TIME, Pulse.METRONOME)
    assert request.tempo_bpm == tempo_of(table.context, tune) == 64
    table.settle(target_bpm=60)
    assert tempo_of(table.context, tune) == 60


def test_a_tune_whose_file_cannot_be_opened_is_a_sentence(table):
    (tune,) = evening_tunes(table.context, (shelf()[2].name,))
    assert whole_request(table.context, replace(tune, entry=replace(tune.entry, name="x", shipped=False))) is None
    assert table.context.window.message
