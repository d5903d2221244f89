"""Going over to another of the player's maps, from whatever screen."""

from game.errors import HomefretError
from game.screens.context import ScreenContext
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
        context.say(say("settings.not_kept", reason=error.strerror))
        return True
    context.say(say("maps.used", name=maps.current.name))
    return True
