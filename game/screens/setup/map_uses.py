"""Going over to another of the player's maps, from whatever screen."""

import dataclasses

from game.errors import HomefretError, reason_of
from game.screens.context import ScreenContext
from game.screens.setup.map_changes import MapChange, MapChanges
from game.text.catalogue import say


def use_map(context: ScreenContext, map_id: str) -> bool:
    """Use a map from now on, and say so. Whether it is used: one that is gone is said, and a full disk is, where it
    holds for this time.
    """
    maps = context.session.maps
    try:
        maps.use(map_id)
    except HomefretError as error:
        context.say_error(error)
        return False
    except OSError as error:
        context.say(say("settings.not_kept", reason=reason_of(error)))
        return True
    context.say(say("maps.used", name=maps.current.name))
    return True


def to_position(context: ScreenContext, changes: MapChanges, position: int) -> MapChange:
    """The change to another position: to the map that is kept there, where there is one. Raises `MapError` for one that
    is not on the neck.
    """
    change, maps = changes.to_position(position), context.session.maps
    kept = maps.at(change.settings.neck_map())
    if kept is None:
        return change
    return dataclasses.replace(change, settings=maps.settings_of(kept.id), map_id=kept.id)


def keep_change(context: ScreenContext, change: MapChange) -> None:
    """Take a change over. Where it leaves a map with homes that were chosen by hand, it is said that this one stays."""
    maps = context.session.maps
    left = maps.current
    if change.map_id:
        use_map(context, change.map_id)
        return
    context.change_settings(change.settings)
    if maps.current.id != left.id and any(one.id == left.id for one in maps.all):
        context.say(say("map.left_kept", name=left.name))
