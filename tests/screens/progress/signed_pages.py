"""Pages that are really signed off: played at the target tempo as the first take of two days."""

from dataclasses import replace

from game.coach.stages import Pulse, Stage
from game.practice.take_request import TakeRequest, request_for
from game.screens.routes import ToPage
from game.tunes.library.library import open_entry, shelf
from tests.screens.table import Table

TARGET = 60


def request_of(table: Table, title: str) -> TakeRequest:
    """A tune of the shelf, opened before."""
    entry = next(entry for entry in shelf() if entry.title == title)
    table.context.session.log.facts.open_tune(entry.name)
    return request_for(open_entry(entry), table.context.settings.neck_map())


def play_at_target(table: Table, request: TakeRequest, bpm: int = TARGET) -> None:
    """A clean take with the click."""
    table.go(ToPage(replace(request.in_stage(Stage.TIME), pulse=Pulse.METRONOME, tempo_bpm=bpm), chosen=True))
    table.play_in_time()
    table.wait(4.0, frame_s=0.1)
    assert table.screen_name == "ResultScreen"


def sign(table: Table, *requests: TakeRequest) -> None:
    """Sign pages off, on the day of the table and the one after it."""
    table.settle(target_bpm=TARGET)
    for _ in range(2):
        for request in requests:
            play_at_target(table, request)
        table.day += 1
    table.context.session.log.flush()
