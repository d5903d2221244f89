"""How keys are told at the foot of a page: what stands in each box, what it does, and what a click on it is."""

from dataclasses import dataclass, replace
from typing import Final

import pygame

from game.text.catalogue import say

_NAMED: Final = "keys."


@dataclass(frozen=True, slots=True)
class KeyPress:
    """A press of a key, as the window system would tell it."""

    key: int
    unicode: str = ""
    mod: int = 0

    @property
    def event(self) -> pygame.event.Event:
        """The press as an event."""
        return pygame.event.Event(pygame.KEYDOWN, key=self.key, unicode=self.unicode, mod=self.mod, scancode=0)


@dataclass(frozen=True, slots=True)
class KeyHint:
    """Keys that belong together, in words: what stands in their boxes, what they do, and the press of each box.

    Without presses it tells of something that is no key: a string. What is `on_sheet_only` stands on the sheet of all
    keys, and not at the foot, where there are to be few.
    """

    labels: tuple[str, ...]
    meaning: str
    presses: tuple[KeyPress, ...] = ()
    on_sheet_only: bool = False


NamedKey = tuple[str, str]
"""What stands on a key, or its name in the catalogue, and the key of a sentence that says what it does."""

LIST_KEYS: Final[tuple[NamedKey, ...]] = (("keys.page_up_down", "keys.turn_pages"), ("keys.home_end", "keys.ends"))
"""What moves in every long list: told on the sheet of all keys, so that the foot has room for the others."""

_SEVERAL: Final[dict[str, tuple[tuple[str, KeyPress], ...]]] = {
    "keys.arrows": (("←", KeyPress(pygame.K_LEFT)), ("→", KeyPress(pygame.K_RIGHT))),
    "keys.all_arrows": (
        ("←", KeyPress(pygame.K_LEFT)),
        ("→", KeyPress(pygame.K_RIGHT)),
        ("↑", KeyPress(pygame.K_UP)),
        ("↓", KeyPress(pygame.K_DOWN)),
    ),
    "keys.ctrl_arrows": (
        ("keys.ctrl_left", KeyPress(pygame.K_LEFT, mod=pygame.KMOD_LCTRL)),
        ("→", KeyPress(pygame.K_RIGHT, mod=pygame.KMOD_LCTRL)),
        ("↑", KeyPress(pygame.K_UP, mod=pygame.KMOD_LCTRL)),
        ("↓", KeyPress(pygame.K_DOWN, mod=pygame.KMOD_LCTRL)),
    ),
    "keys.page_up_down": (
        ("keys.page_up", KeyPress(pygame.K_PAGEUP)),
        ("keys.page_down", KeyPress(pygame.K_PAGEDOWN)),
    ),
    "keys.home_end": (("keys.home", KeyPress(pygame.K_HOME)), ("keys.end", KeyPress(pygame.K_END))),
    "keys.updown": (("↑", KeyPress(pygame.K_UP)), ("↓", KeyPress(pygame.K_DOWN))),
}
_WORDS: Final = {
    "keys.enter": KeyPress(pygame.K_RETURN, "\r"),
    "keys.escape": KeyPress(pygame.K_ESCAPE, "\x1b"),
    "keys.tab": KeyPress(pygame.K_TAB, "\t"),
    "keys.space": KeyPress(pygame.K_SPACE, " "),
    "keys.backspace": KeyPress(pygame.K_BACKSPACE, "\b"),
    "keys.delete": KeyPress(pygame.K_DELETE, "\x7f"),
    "keys.insert": KeyPress(pygame.K_INSERT),
    "keys.down": KeyPress(pygame.K_DOWN),
    "keys.ctrl_o": KeyPress(pygame.K_o, "\x0f", pygame.KMOD_LCTRL),
}
_ARROWS: Final = {"←": pygame.K_LEFT, "→": pygame.K_RIGHT, "↑": pygame.K_UP, "↓": pygame.K_DOWN}


def key_hints(*keys: NamedKey) -> tuple[KeyHint, ...]:
    """Keys in the language that was chosen. Each is what stands on it ("F1", "[ ]" for two) or, where that is a word,
    its name in the catalogue ("keys.escape"); what it does is a sentence of the catalogue.
    """
    return tuple(_hint(key, say(meaning)) for key, meaning in keys)


def on_sheet(hints: tuple[KeyHint, ...]) -> tuple[KeyHint, ...]:
    """The same keys, told on the sheet of all keys only."""
    return tuple(replace(hint, on_sheet_only=True) for hint in hints)


MORE_KEYS: Final[NamedKey] = ("F1 ?", "keys.more")
"""At a foot that does not tell all keys: where they stand."""


def _hint(key: str, meaning: str) -> KeyHint:
    if key in _SEVERAL:
        boxes = _SEVERAL[key]
        labels = tuple(say(label) if label.startswith(_NAMED) else label for label, _ in boxes)
        return KeyHint(labels, meaning, tuple(press for _, press in boxes))
    if key.startswith(_NAMED):
        press = _WORDS.get(key)
        return KeyHint((say(key),), meaning, (press,) if press else ())
    labels = tuple(key.split())
    return KeyHint(labels, meaning, tuple(_press(label) for label in labels))


def _press(label: str) -> KeyPress:
    """The press of a key that has on it what is said: a letter, a figure, a sign, "F1"."""
    if label in _ARROWS:
        return KeyPress(_ARROWS[label])
    if label == "+":
        # It stands on one key with =, which is as good, and where it has a key of its own that writes it, too.
        return KeyPress(pygame.K_EQUALS, label)
    if len(label) == 1:
        # The key codes of letters, figures and signs are those of ASCII (SDL).
        return KeyPress(ord(label.lower()), label.lower())
    return KeyPress(pygame.key.key_code(label))
