"""What is told of the keys of a take against the click: Space begins it, and pauses what has begun."""

from game.practice.take_request import TakeRequest
from game.screens.context import ScreenContext
from game.screens.key_hints import MORE_KEYS, KeyHint
from game.screens.reading.page_keys import foot_keys, neck_key, still_key, string_keys

_KEYS = (
    ("keys.escape", "keys.stop"),
    MORE_KEYS,
    ("-", "keys.slower"),
    ("+", "keys.faster"),
)
_KEYS_LAST = (
    ("F8", "keys.loop"),
    (".", "keys.no_click"),
    (",", "keys.mute"),
)


def metronome_keys(
    context: ScreenContext, request: TakeRequest, *, running: bool, covered: bool
) -> tuple[KeyHint, ...]:
    """The keys as they are now: `running` from the count-in on, `covered` while the page lies face down."""
    strings = metronome_strings(context, request, running=running)
    if request.stage.once_through:
        does = "keys.turn_up" if covered else "keys.begin"
        begin = () if running else (("keys.enter", does), ("keys.space", does))
        return (*strings, *foot_keys(*begin))
    space = ("keys.space", "keys.pause" if running else "keys.begin")
    back = ("keys.backspace", "keys.bar_back" if context.listens else "keys.wrong_bar_back")
    last = (back, *_KEYS_LAST, still_key(context))
    return (*strings, *foot_keys(space, *neck_key(context), *_KEYS, last=last))


def metronome_strings(context: ScreenContext, request: TakeRequest, *, running: bool) -> tuple[KeyHint, ...]:
    """What the guitar in hand does instead of a key."""
    does = "keys.heard_stop" if running and context.settings.by_microphone else "keys.free_click"
    return string_keys(context, request.neck_map, does, request.soundings, begins=not running)
