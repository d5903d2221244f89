"""A take against the click is begun with the terms of its request, and its clicks lie ready."""

from dataclasses import replace

from game.coach.stages import Pulse, Stage
from game.screens.reading.begun_timed_take import begun_timed_take, prepared_clicks
from tests.screens.table import Table


def test_it_has_the_tempo_and_the_stage_that_were_asked_for_and_has_not_started(tmp_path):
    table = Table(tmp_path)
    request = table.open("F4 q, G4 q, A4 q, F4 q", "F4 w")
    request = replace(request, stage=Stage.TIME, pulse=Pulse.METRONOME, tempo_bpm=80, settling=True)
    recorder, take = begun_timed_take(table.context, request)
    assert (take.terms.tempo_bpm, take.terms.stage, take.terms.settling) == (80, Stage.TIME, True)
    assert take.zero_s is None
    whole = prepared_clicks(table.context, request, take, recorder, 0)
    assert whole.loop_s == 8 * 60 / 80
    assert prepared_clicks(table.context, request, take, recorder, 1).loop_s == whole.loop_s / 2
