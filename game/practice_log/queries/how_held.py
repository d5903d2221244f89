"""How a player holds their instrument: what they said of it in their log, so that a teacher's page shows it, too."""

from dataclasses import dataclass
from typing import Any
from uuid import UUID

from game.message import Message, message
from game.neck.tuning import MAX_FRETS
from game.practice_log.queries.facts import facts_about
from game.practice_log.rows.entry_rows import About


@dataclass(frozen=True, slots=True, kw_only=True)
class HowHeld:
    """With which hand, and with a capo at which fret, 0 for none."""

    left_handed: bool = False
    capo: int = 0

    @property
    def told(self) -> tuple[Message, ...]:
        """What of it is not as usual."""
        capo = (message("chart.sheet.capo", fret=self.capo),) if self.capo else ()
        return (*capo, message("chart.sheet.left_handed")) if self.left_handed else capo


USUAL_HOLD = HowHeld()


def how_held(log: Any, player: UUID) -> HowHeld:
    """What was said last of hand and capo, as settings are said; what makes no sense is passed over. `log` is an open
    connection.
    """
    left_handed, capo = False, 0
    for fact in facts_about(log, player, About.SETTING):
        name, value = fact.content.get("name"), fact.content.get("value")
        if name == "left_handed" and isinstance(value, bool):
            left_handed = value
        elif name == "capo" and type(value) is int and 0 <= value < MAX_FRETS:
            capo = value
    return HowHeld(left_handed=left_handed, capo=capo)
