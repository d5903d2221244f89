"""What was changed on the map in this sitting, so that it can be taken back and done again. Pure.

Each change is kept as what it changed: what was settled elsewhere meanwhile stays as it is. Where that was changed once
more elsewhere, as when another map is used, the change is not there any more, and there is nothing to take back.
"""

from typing import Any, Final

import msgspec

from game.player.settings import Settings

OF_THE_MAP: Final = ("position", "choices", "stretches", "open_strings", "second")
"""The settings that a change of the map changes."""

MOST_KEPT: Final = 200
_LAID_ON: Final = ("tuning", "frets")

_Change = dict[str, tuple[Any, Any]]


class MapHistory:
    """The changes of a sitting, the newest last. They are of one neck: with another tuning, or other frets, the places
    of before mean something else, and nothing of before is taken back.
    """

    def __init__(self) -> None:
        self._done: list[_Change] = []
        self._undone: list[_Change] = []
        self._neck: tuple[Any, ...] = ()

    def keep(self, before: Settings, after: Settings) -> None:
        """A change was made. What had been taken back is given up for it."""
        self._look_at_neck(before)
        changed = {name: (getattr(before, name), getattr(after, name)) for name in OF_THE_MAP}
        changed = {name: (old, new) for name, (old, new) in changed.items() if old != new}
        if changed:
            self._done = [*self._done, changed][-MOST_KEPT:]
            self._undone = []

    def can_take_back(self, now: Settings) -> bool:
        """Whether there is a change to take back."""
        self._look_at_neck(now)
        return bool(self._done) and all(getattr(now, name) == new for name, (_, new) in self._done[-1].items())

    def can_do_again(self, now: Settings) -> bool:
        """Whether something was taken back that can be done again."""
        self._look_at_neck(now)
        return bool(self._undone) and all(getattr(now, name) == old for name, (old, _) in self._undone[-1].items())

    def taken_back(self, now: Settings) -> Settings:
        """The settings without the newest change; as they are where there is none."""
        if not self.can_take_back(now):
            return now
        self._undone.append(self._done.pop())
        return msgspec.structs.replace(now, **{name: old for name, (old, _) in self._undone[-1].items()})

    def done_again(self, now: Settings) -> Settings:
        """The settings with the change that was taken back last; as they are where there is none."""
        if not self.can_do_again(now):
            return now
        self._done.append(self._undone.pop())
        return msgspec.structs.replace(now, **{name: new for name, (_, new) in self._done[-1].items()})

    def _look_at_neck(self, settings: Settings) -> None:
        neck = tuple(getattr(settings, name) for name in _LAID_ON)
        if neck != self._neck:
            self._neck, self._done, self._undone = neck, [], []
