"""Three pickups that report differently are each set up by playing, and a take survives one that goes away in it.

The sender is a process of its own, and everything goes through a real JACK server into the game in its window.
"""

import time
from random import Random

import pytest

from game.instrument.decoding.played import PlayedNote
from game.instrument.decoding.strings_setup import StringsSetup
from game.neck.tuning import STANDARD, Place
from tests.instrument.pickup_simulator import Fault, Pickup, stream
from tests.system.game_on_screen import a_screen, game_on
from tests.system.jack import jack_server
from tests.system.pickup import pickup
from tests.system.test_game_on_screen import ENDINGS, SHELF_ROW, first_passage

pytestmark = pytest.mark.system

OPEN = tuple(Place(string, 0) for string in (6, 5, 4, 3, 2, 1, 6))
DIRTY = {Fault.SLIDE_BY_NOTES: 0.3, Fault.SOFT_GHOST: 0.3, Fault.SHORT_GHOST: 0.3}
ONE_CHANNEL = (1,)


def as_sent(places, channels, shares, *, every_s, seed):
    """What a pickup on `channels` sends for places, one after another: (at_s, bytes) from 0."""
    notes = [
        PlayedNote(started_s=0.3 + every_s * number, sounding=STANDARD.sounding(place), place=place, velocity=90)
        for number, place in enumerate(places)
    ]
    setup = StringsSetup() if channels == ONE_CHANNEL else StringsSetup(channels=channels)
    played = stream(Pickup(setup=setup, shares=shares, tells_range=False), notes, Random(seed))
    sent = [(stamped.at_s, list(stamped.message)) for stamped in played]
    if channels == ONE_CHANNEL:
        # A slide told as notes leaves its first frets sounding on one channel: such a device tells none.
        sent = [(at_s, [message[0] & 0xF0, *message[1:]]) for at_s, message in sent if message[0] >> 4 != 0xE]
    return sent


@pytest.mark.parametrize(
    ("channels", "told"),
    [
        ((1, 2, 3, 4, 5, 6), "other place"),
        ((16, 15, 14, 13, 12, 11), "other place"),
        (ONE_CHANNEL, None),
    ],
)
def test_a_pickup_is_set_up_by_playing_and_finishes_a_take_in_which_it_was_killed(tmp_path, channels, told):
    homes = first_passage()
    elsewhere = next(place for place in STANDARD.places_of(STANDARD.sounding(homes[8]), 22) if place != homes[8])
    played = [*homes[:2], Place(homes[2].string, homes[2].fret + 1), *homes[2:8], elsewhere, *homes[9:]]
    faults = {3: "wrong pitch"} | ({9: told} if told else {})
    with (
        jack_server(tmp_path) as jack,
        a_screen(tmp_path) as display,
        game_on(display, tmp_path, jack) as game,
    ):
        with pickup(jack, "--to", "Homefret") as guitar:
            game.key("i")
            guitar.play(as_sent(OPEN[:1], channels, {}, every_s=0.5, seed=1))
            time.sleep(0.5)
            game.key("Return")
            guitar.play(as_sent(OPEN, channels, {}, every_s=0.6, seed=1))
            time.sleep(0.5)
            game.key("space")
            game.picture(tmp_path / "set-up.png")
            game.key("Return", "Escape")
            game.key(*["Down"] * SHELF_ROW, "Return")
            time.sleep(0.7)
            guitar.play(as_sent(played[:6], channels, DIRTY, every_s=0.4, seed=2))
            guitar.process.kill()
        time.sleep(1.5)
        with pickup(jack, "--to", "Homefret") as guitar:
            guitar.play(as_sent(played[6:], channels, DIRTY, every_s=0.4, seed=3))
        game.wait_for(ENDINGS, 1)
        assert dict(game.log("SELECT n, verdict FROM verdict WHERE verdict != 'clean' ORDER BY n")) == faults
        assert game.log("SELECT outcome FROM judgement") == [("finished",)]
        (count,) = game.log("SELECT count(*) FROM revised")
        assert count[0] > 0
