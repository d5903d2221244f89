"""The keys of the shelf, and how the foot of the sheet tells them."""

from game.screens.key_hints import KeyHint, NamedKey, key_hints

_CHOOSING: tuple[NamedKey, ...] = (("keys.updown", "keys.choose"), ("keys.arrows", "keys.pages"))
_WITH_TUNES: tuple[NamedKey, ...] = (
    ("F", "keys.first_sight"),
    ("/", "keys.search"),
    ("O", "keys.order"),
    ("V", "keys.programme"),
    ("Q", "keys.import_summary"),
    ("keys.ctrl_o", "keys.files"),
    ("E", "keys.from_paper"),
)


def shelf_hints(
    *, typing: bool, searched: bool, reading: bool = False, refused: bool = False, asked: bool = False
) -> tuple[KeyHint, ...]:
    """What is done with the tunes. While a search is typed letters are words; Esc ends what was `searched`, then the
    `reading` of files, then what is `asked` about one, before it leads back; what was not read is told of only where
    files were `refused`.
    """
    keys = _CHOOSING if typing else (*_CHOOSING, *_WITH_TUNES)
    if refused and not typing:
        keys = (*keys, ("U", "keys.not_read"))
    keys = (*keys, ("keys.escape", _ends(searched=typing or searched, reading=reading, asked=asked)))
    return key_hints(*keys) if typing else key_hints(*keys, ("I", "keys.instruments"))


def _ends(*, searched: bool, reading: bool, asked: bool) -> str:
    if searched:
        return "keys.all"
    if reading:
        return "keys.stop_reading"
    return "keys.no_part" if asked else "keys.today"
