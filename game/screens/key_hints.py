"""How keys are told at the foot of a page."""

from game.text.catalogue import say

KeyHint = tuple[str, str]
"""What stands on a key, and what it does, in words."""

_NAMED = "keys."


def key_hints(*keys: KeyHint) -> tuple[KeyHint, ...]:
    """Keys in the language that was chosen. Each is what stands on it ("F1") or, where that is a word, its name in the
    catalogue ("keys.escape"); what it does is a sentence of the catalogue.
    """
    return tuple((say(key) if key.startswith(_NAMED) else key, say(meaning)) for key, meaning in keys)
