"""Keys as a foot tells them: what stands in their boxes, and what they do."""

from collections.abc import Iterable

from game.screens.key_hints import KeyHint


def told_keys(hints: Iterable[KeyHint]) -> dict[str, str]:
    """What each does, by what stands on it; several boxes with a space between."""
    return {" ".join(hint.labels): hint.meaning for hint in hints}
