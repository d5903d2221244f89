"""What settings have to agree on beyond the bounds of each: the map with its neck, the words with what they name.

Each rule is a function from settings to settings that keep it, and the faults there were.
"""

from collections.abc import Callable
from typing import TypeAlias

import msgspec

from game.errors import MapError
from game.message import message
from game.neck.neck_map import FEWEST_FRETS
from game.neck.tuning import TUNINGS, Place, tuning_named
from game.player.file_faults import MOST_TOLD_OF_A_TABLE, AnyFault, Fault, MoreFaults
from game.player.settings import FRETS_ABOVE_POSITION, Settings
from game.text.language import languages

_Kept: TypeAlias = tuple[Settings, list[AnyFault]]


def within_rules(settings: Settings) -> _Kept:
    """Settings that keep every rule, and the faults there were."""
    faults: list[AnyFault] = []
    for rule in _RULES:
        settings, broken = rule(settings)
        faults += broken
    return settings, faults


def _tuning_is_known(settings: Settings) -> _Kept:
    """One of the table, or open strings that can be."""
    try:
        tuning_named(settings.tuning)
    except MapError:
        usual = Settings().tuning
        expected = message("player.expected_tuning", tunings=tuple(TUNINGS))
        return _with(settings, tuning=usual), [Fault(("tuning",), settings.tuning, expected, usual)]
    return settings, []


def _capo_leaves_a_neck(settings: Settings) -> _Kept:
    """Behind it are as many frets as a map needs."""
    highest = settings.frets - FEWEST_FRETS
    if settings.capo <= highest:
        return settings, []
    expected = message("player.expected_whole_number", lowest=0, highest=highest)
    return _with(settings, capo=highest), [Fault(("capo",), settings.capo, expected, highest)]


def _position_is_on_the_neck(settings: Settings) -> _Kept:
    """The fourth finger needs a fret, too."""
    highest = settings.frets_left - FRETS_ABOVE_POSITION
    if settings.position <= highest:
        return settings, []
    expected = message("player.expected_whole_number", lowest=1, highest=highest)
    return _with(settings, position=highest), [Fault(("position",), settings.position, expected, highest)]


def _second_region_is_another_on_the_neck(settings: Settings) -> _Kept:
    """A region is joined to another one, and its fourth finger needs a fret, too."""
    highest = settings.frets_left - FRETS_ABOVE_POSITION
    if settings.second is None or settings.position != settings.second[0] <= highest:
        return settings, []
    expected = message("player.expected_second_region", highest=highest, position=settings.position)
    return _with(settings, second=None), [Fault(("second",), list(settings.second), expected, None)]


def _choices_sound_their_pitch(settings: Settings) -> _Kept:
    """A place sounds one pitch only: with this, none is named twice either."""
    tuning = tuning_named(settings.tuning)
    fit = {
        sounding: place
        for sounding, place in settings.choices.items()
        if place[0] <= tuning.strings and place[1] <= settings.frets_left and tuning.sounding(Place(*place)) == sounding
    }
    misfits = {sounding: place for sounding, place in settings.choices.items() if sounding not in fit}
    expected = message("player.expected_place_of_pitch", frets=settings.frets_left)
    faults: list[AnyFault] = [
        Fault(("choices", str(sounding)), list(place), expected)
        for sounding, place in list(misfits.items())[:MOST_TOLD_OF_A_TABLE]
    ]
    if len(misfits) > MOST_TOLD_OF_A_TABLE:
        faults.append(MoreFaults(("choices",), len(misfits) - MOST_TOLD_OF_A_TABLE))
    return _with(settings, choices=fit), faults


def _strings_have_channels_of_their_own(settings: Settings) -> _Kept:
    """Two strings on one channel cannot be told apart."""
    devices, faults = dict(settings.devices), list[AnyFault]()
    for name, device in settings.devices.items():
        if device.channels and len(set(device.channels)) < len(device.channels):
            devices[name] = msgspec.structs.replace(device, channels=None)
            at = ("devices", name, "channels")
            faults.append(Fault(at, device.channels, message("player.expected_different_channels"), None))
    return _with(settings, devices=devices), faults


def _language_is_there(settings: Settings) -> _Kept:
    """One that the catalogue has."""
    if not settings.language or settings.language in languages():
        return settings, []
    expected = message("player.expected_word", words=tuple(f'"{language}"' for language in languages()))
    return _with(settings, language=""), [Fault(("language",), settings.language, expected, "")]


def _with(settings: Settings, **changes: object) -> Settings:
    return msgspec.structs.replace(settings, **changes)


_RULES: tuple[Callable[[Settings], _Kept], ...] = (
    _tuning_is_known,
    _capo_leaves_a_neck,
    _position_is_on_the_neck,
    _second_region_is_another_on_the_neck,
    _choices_sound_their_pitch,
    _strings_have_channels_of_their_own,
    _language_is_there,
)
