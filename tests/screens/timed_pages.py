"""Pages of the stages whose rhythm counts, open and waiting."""

from dataclasses import replace

from game.coach.stages import Pulse, Stage
from game.music.score import BarMarks
from game.practice.take_request import TakeRequest, request_for
from game.screens.routes import ToPage
from tests.made import score

ROWS = ("F4 q, G4 q, A4 q, Bb4 q", "C5 q, Bb4 q, A4 h")
SOUNDINGS = (53, 55, 57, 58, 60, 58, 57)


def metronome_page(table, *, tempo=100, stage=Stage.TIME, **changes):
    request = table.open(*ROWS, key=-1)
    request = replace(request, stage=stage, pulse=Pulse.METRONOME, tempo_bpm=tempo, **changes)
    table.go(ToPage(request, chosen=True))
    return table.screen


def free_page(table, stage=Stage.TIME):
    request = table.open(*ROWS, key=-1).in_stage(stage)
    table.go(ToPage(request, chosen=True))
    return table.screen


def sight_request(table) -> TakeRequest:
    """First sight of two bars, of which the first is played twice."""
    made = score("F4 q, G4 q, A4 q, G4 q", "F4 w")
    first = replace(made.bars[0], marks=BarMarks(repeat_end=2))
    repeated = replace(made, bars=(first, *made.bars[1:]))
    return request_for(repeated, table.context.settings.neck_map()).at_sight()
