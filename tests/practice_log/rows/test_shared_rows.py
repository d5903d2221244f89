"""Rows that many takes share: each stands once."""

from dataclasses import replace
from uuid import UUID

import pytest

from game.instrument.sources.note_sources import PlayedOn
from game.neck.neck_map import standard_map
from game.neck.tuning import Place
from game.practice_log.database.identity import Identity
from game.practice_log.rows.log_records import InstrumentUsed
from game.practice_log.rows.shared_rows import (
    put_bars,
    put_device,
    put_instrument,
    put_neck_map,
    put_player,
    put_source,
)
from tests.practice_log.logged_takes import begun

BARS = begun().bars
ADA = Identity(uuid=UUID(int=1), name="Ada")


@pytest.mark.parametrize(
    ("put", "one", "other"),
    [
        (put_device, ADA, Identity(uuid=UUID(int=2), name="Ada")),
        (put_player, ADA, Identity(uuid=UUID(int=2), name="Ada")),
        (put_bars, BARS, replace(BARS, title="Another")),
        (put_bars, BARS, replace(BARS, stop=BARS.stop + 1)),
        (put_neck_map, standard_map(), standard_map(position=7)),
        (put_neck_map, standard_map(), standard_map(choices={64: Place(1, 0)})),
        (
            put_instrument,
            InstrumentUsed(name="pickup", kind=PlayedOn.GUITAR),
            InstrumentUsed(name="pickup", kind=PlayedOn.KEYBOARD),
        ),
        (put_source, "pickup 1", "pickup 2"),
    ],
)
def test_the_same_has_one_number_and_another_a_number_of_its_own(log, put, one, other):
    number = put(log, one)
    assert put(log, other) != number
    assert put(log, one) == number


def test_a_player_who_changed_their_name_is_the_same_and_the_log_keeps_the_first(log):
    number = put_player(log, Identity(uuid=UUID(int=3), name="Ada"))
    assert put_player(log, Identity(uuid=UUID(int=3), name="Countess")) == number
    assert log.execute("SELECT name FROM player WHERE player = ?", (number,)).fetchone() == ("Ada",)


def test_a_map_is_told_by_its_choices_in_whatever_order_they_were_made(log):
    one = standard_map(choices={64: Place(1, 0), 59: Place(2, 0)})
    other = standard_map(choices={59: Place(2, 0), 64: Place(1, 0)})
    assert put_neck_map(log, one) == put_neck_map(log, other)
