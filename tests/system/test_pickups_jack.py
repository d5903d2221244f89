"""Pickups that report differently are each set up by playing, and a take survives one that goes away in it.

The sender is a process of its own, and everything goes through a real JACK server into the game in its window. What a
pickup sends that nobody played is told apart by how long it lasts: so that a busy computer keeps that too, the take is
played at half the speed, and the limits are wide.
"""

from pathlib import Path
from random import Random

import pytest

from game.instrument.decoding.dirt import Limits
from game.instrument.decoding.played import PlayedNote
from game.instrument.decoding.strings_setup import StringsSetup
from game.instrument.ports.midi_inputs import OFFERED
from game.neck.tuning import STANDARD, Place
from game.player.device_settings import DeviceSettings
from game.player.settings_file import load
from game.text.catalogue import say
from tests.instrument.pickup_faults import Fault
from tests.instrument.pickup_simulator import Pickup, stream
from tests.sampling import only_where_all_is_run
from tests.system.game_on_screen import Game, game_on, keep_settings, settings_of
from tests.system.ode_to_joy import (
    FAULTS,
    GUITAR,
    elsewhere,
    homes_of_bars,
    next_string,
    open_two_bars,
    wait_for_guitar,
)
from tests.system.pickup import Pickup as Sender
from tests.system.pickup import Sent, pickup
from tests.system.waiting import played_anew, wait_until
from tests.system.words_on_screen import DIALOG_TITLE, SECOND_INSTRUMENT, SET_UP, SHELF_TITLE, SLIP

pytestmark = pytest.mark.system

OPEN = tuple(Place(string, 0) for string in (6, 5, 4, 3, 2, 1, 6))
DIRTY = {Fault.SLIDE_BY_NOTES: 0.5, Fault.SOFT_GHOST: 0.5, Fault.SHORT_GHOST: 0.5}
WIDE = Limits(shortest_s=0.3, faint_s=0.3, arrives_s=0.35, bend_arrives_s=1.0)
RINGS_S = 0.3
ONE_CHANNEL = (1,)
CHANNELS = ((16, 15, 14, 13, 12, 11), (1, 2, 3, 4, 5, 6), ONE_CHANNEL)


def as_sent(places, channels, shares, *, every_s: float, seed: int, slower: float = 1.0) -> list[Sent]:
    """What a pickup on `channels` sends for places, one after another: (at_s, bytes) from 0. The last ones ring on."""
    notes = [
        PlayedNote(started_s=0.3 + every_s * number, sounding=STANDARD.sounding(place), place=place, velocity=90)
        for number, place in enumerate(places)
    ]
    setup = StringsSetup() if channels == ONE_CHANNEL else StringsSetup(channels=channels)
    played = stream(Pickup(setup=setup, shares=shares, tells_range=False), notes, Random(seed))
    until_s = notes[-1].started_s + RINGS_S
    sent = [(slower * stamped.at_s, list(stamped.message)) for stamped in played if stamped.at_s < until_s]
    if channels == ONE_CHANNEL:
        # Such a device has no bends to tell.
        sent = [(at_s, [message[0] & 0xF0, *message[1:]]) for at_s, message in sent if message[0] >> 4 != 0xE]
    return sent


def before_the_last(sent: list[Sent]) -> list[Sent]:
    """What comes before the last note begins, or a slide to it arrives. What a killed process told in the last moments
    dies with it, before JACK passes it on: that may be nothing that the rest of a test needs.
    """
    begins = [index for index, (_, message) in enumerate(sent) if message[0] >> 4 == 0x9]
    return sent[: begins[-1]]


def set_up_by_playing(game: Game, guitar: Sender, channels: tuple[int, ...], home: Path) -> DeviceSettings:
    """From the shelf and back; what the game keeps of the instrument."""
    wait_for_guitar(game)
    game.keys("i")
    game.wait_for_words(DIALOG_TITLE, say("instruments.title"))
    guitar.play(as_sent(OPEN[:1], channels, {}, every_s=0.3, seed=1))
    game.wait_for_words(SECOND_INSTRUMENT, OFFERED)
    game.keys("Return")
    game.wait_for_words(DIALOG_TITLE, say("set_up.title"))
    guitar.play(as_sent(OPEN, channels, {}, every_s=0.5, seed=1))
    if channels != ONE_CHANNEL:
        game.wait_for_words(SET_UP, say("set_up.slide"))
        game.keys("Return")
    kept = wait_until(lambda: load(settings_of(home)).settings.devices.get(OFFERED), "the instrument in the settings")
    game.keys("Return", "Escape")
    game.wait_for_words(SHELF_TITLE, say("shelf.title"))
    return kept


def set_up_and_killed_in_a_take(jack, screen, tmp_path, channels) -> None:
    homes = homes_of_bars(2)
    played = [*homes[:2], next_string(homes[2]), *homes[2:5], elsewhere(homes[5]), *homes[6:]]
    faults = {3: "wrong pitch"} | ({} if channels == ONE_CHANNEL else {6: "other place"})
    keep_settings(tmp_path, limits=WIDE)
    with game_on(screen, tmp_path, jack) as game:
        with pickup(jack, "--to", "Homefret") as guitar:
            kept = set_up_by_playing(game, guitar, channels, tmp_path)
            assert kept.channels == (None if channels == ONE_CHANNEL else channels)
            open_two_bars(game)
            guitar.play(before_the_last(as_sent(played[:4], channels, DIRTY, every_s=0.35, seed=2, slower=2.0)))
            guitar.process.kill()
        game.wait_for_words(SLIP, say("page.waits", device=GUITAR))
        with pickup(jack, "--to", "Homefret") as guitar:
            wait_for_guitar(game, SLIP)
            guitar.play(as_sent(played[3:], channels, DIRTY, every_s=0.35, seed=3, slower=2.0))
            game.wait_for_rows("SELECT judgement FROM judgement", 1)
        assert dict(game.log(FAULTS)) == faults
        assert game.log("SELECT outcome FROM judgement") == [("finished",)]
        ((revised,),) = game.log("SELECT count(*) FROM revised")
        assert revised > 0


@only_where_all_is_run("it takes a quarter of a minute")
@pytest.mark.parametrize("channels", CHANNELS)
def test_a_pickup_is_set_up_by_playing_and_finishes_a_take_in_which_it_was_killed(jack, screen, tmp_path, channels):
    played_anew(lambda home: set_up_and_killed_in_a_take(jack, screen, home, channels), tmp_path)
