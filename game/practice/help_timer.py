"""How long a note has been looked for, and what help is due: the letter first, then the place."""

from game.judging.untimed import HintStep

# Ours, teachers' practice: long enough to work a note out, short enough not to be stuck.
LETTER_AFTER_S = 5.0
PLACE_AFTER_S = 10.0


class HelpTimer:
    """Counts the seconds since the note was asked, pauses left out."""

    def __init__(self, now_s: float) -> None:
        self._asked_s = now_s
        self._paused_s: float | None = None

    @property
    def paused(self) -> bool:
        """Whether time stands still."""
        return self._paused_s is not None

    def ask(self, now_s: float) -> None:
        """A new note is asked."""
        self._asked_s = now_s

    def due(self, now_s: float) -> HintStep:
        """The help that is due by now."""
        looked_for_s = (now_s if self._paused_s is None else self._paused_s) - self._asked_s
        if looked_for_s >= PLACE_AFTER_S:
            return HintStep.PLACE
        return HintStep.LETTER if looked_for_s >= LETTER_AFTER_S else HintStep.NONE

    def pause(self, now_s: float) -> None:
        """Stop counting."""
        if self._paused_s is None:
            self._paused_s = now_s

    def resume(self, now_s: float) -> float:
        """Count again; returns the seconds that were left out."""
        if self._paused_s is None:
            return 0.0
        away_s = now_s - self._paused_s
        self._asked_s += away_s
        self._paused_s = None
        return away_s
