"""How loud the noise is that is always there."""

_RISES = 1.35
"""A second: how fast the floor is given up when it gets noisier."""
_LEAST = 1e-5


class Background:
    """Falls at once to what is heard, and rises slowly. Changed by `hear`."""

    def __init__(self, steps_a_second: float) -> None:
        self._rise = _RISES ** (1 / steps_a_second)
        self.level = 1e-4

    def hear(self, level: float) -> float:
        """The floor, once the level of this step was heard too."""
        self.level = min(max(self.level * self._rise, _LEAST), max(level, _LEAST))
        return self.level
