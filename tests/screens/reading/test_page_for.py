"""Which page a request has."""

from dataclasses import replace

import pytest

from game.coach.stages import Stage
from game.player.settings import InstrumentKind
from game.screens.reading.page_for import page_for
from tests.screens.ways import request_of


@pytest.mark.parametrize(
    ("stage", "page"),
    [
        (Stage.LETTERS, "LettersPage"),
        (Stage.PLACES, "PlacesPage"),
        (Stage.RHYTHM, "FreePage"),
        (Stage.TIME, "FreePage"),
        (Stage.SIGHT, "FreePage"),
    ],
)
def test_each_stage_has_its_page(table, stage, page):
    assert type(page_for(table.context, request_of(table, stage))).__name__ == page


@pytest.mark.parametrize("stage", [Stage.PLACES, Stage.RHYTHM, Stage.TIME, Stage.SIGHT])
def test_whatever_has_a_tempo_is_played_against_the_click(table, stage):
    page = page_for(table.context, replace(request_of(table, stage), tempo_bpm=60))
    assert type(page).__name__ == "MetronomePage"


def test_who_is_not_listened_to_marks_places_themselves(table):
    table.settle(instrument=InstrumentKind.NO_PICKUP)
    assert type(page_for(table.context, request_of(table))).__name__ == "SelfMarkedPage"
    assert type(page_for(table.context, request_of(table, Stage.LETTERS))).__name__ == "LettersPage"


def test_a_page_takes_notes_and_letters_for_its_own_request(table):
    request = request_of(table)
    page = page_for(table.context, request)
    assert (page.request, page.in_take, page.neck_map) == (request, True, request.neck_map)
