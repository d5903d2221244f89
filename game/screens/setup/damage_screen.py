"""What was found wrong with the practice log at the start, and the ways to put it right, each by its number."""

from dataclasses import dataclass
from pathlib import Path

import pygame

from game.desk.paper import draw_heading, draw_paragraph
from game.desk.typography import Face
from game.errors import HomefretError
from game.player.log_recovery import LogRecovery
from game.player.seat import sit_down_again
from game.practice_log.back_ups.recovery import FoundDamage, Recovered
from game.screens.base_screen import BaseScreen
from game.screens.context import ScreenContext
from game.screens.key_hints import KeyHint, key_hints
from game.screens.routes import Route, ToShelf
from game.screens.shown_keys import draw_keys, lay_paper
from game.text.catalogue import as_sentence, say, tell


@dataclass(frozen=True, slots=True, kw_only=True)
class WayOut:
    """A way to put the log right: from a back-up, from what can be read of the file, from both, or, with neither, a new
    log.
    """

    words: str
    back_up: Path | None = None
    with_readable: bool = False


class DamageScreen(BaseScreen):
    """What was found wrong with the log of whoever plays, who may also go on without it."""

    def __init__(self, context: ScreenContext, found: FoundDamage) -> None:
        super().__init__(context)
        self.found, self.ways = found, ways_out(found)
        self._recovery: LogRecovery | None = None

    @property
    def moving(self) -> bool:
        """While the log is put right it is looked every moment whether it is."""
        return self._recovery is not None

    def on_key(self, event: pygame.event.Event) -> Route | None:
        if self._recovery is not None:
            return None
        if event.key == pygame.K_ESCAPE:
            self.context.session.log.leave_damaged()
            return ToShelf()
        if event.unicode.isdecimal() and 1 <= int(event.unicode) <= len(self.ways):
            way = self.ways[int(event.unicode) - 1]
            self._recovery = LogRecovery(self.context.session, back_up=way.back_up, with_readable=way.with_readable)
        return None

    def on_tick(self, now_s: float) -> Route | None:  # noqa: ARG002 - the log is in order when it is
        if self._recovery is None or not self._recovery.over:
            return None
        recovery, self._recovery = self._recovery, None
        session = self.context.session = sit_down_again(self.context.session)
        try:
            self.context.say(told(recovery.result()))
        except HomefretError as error:
            self.context.say_error(error)
        if session.log.damage is None:
            return ToShelf()
        self.found = session.log.damage
        self.ways = ways_out(self.found)
        return None

    @property
    def sentences(self) -> tuple[str, ...]:
        """What was found, and what happens to it."""
        said = [as_sentence(tell(self.found.damage.told))]
        if self._recovery is not None:
            return (*said, say("damage.working"))
        if not self.found.usable:
            said.append(say("damage.laid_aside"))
        if self.found.back_up is None and not self.found.usable:
            said.append(say("damage.no_back_up"))
        return tuple(said)

    def draw(self, surface: pygame.Surface) -> bool:
        sheet, theme = self.context.sheet, self.context.theme
        lay_paper(self.context, surface)
        draw_heading(surface, sheet, theme, say("damage.title"))
        area = sheet.text_area
        room = pygame.Rect(area.left, area.top + sheet.px(100), area.width, sheet.paper.bottom)
        for sentence in self.sentences:
            used = draw_paragraph(surface, sentence, room, Face.TEXT, sheet.text_px, theme.ink)
            room = pygame.Rect(room.left, used.bottom + sheet.px(8), room.width, room.height)
        room = pygame.Rect(room.left + sheet.px(34), room.top + sheet.px(14), room.width - sheet.px(34), room.height)
        for number, way in enumerate(self.ways if self._recovery is None else (), start=1):
            words = f"{number}   {way.words}"
            used = draw_paragraph(surface, words, room, Face.ITALIC, sheet.text_px, theme.faded)
            room = pygame.Rect(room.left, used.bottom + sheet.px(6), room.width, room.height)
        draw_keys(self.context, surface, self._keys())
        return True

    def _keys(self) -> tuple[KeyHint, ...]:
        if self._recovery is not None:
            return ()
        count = len(self.ways)
        numbers = [(" ".join(str(way) for way in range(1, count + 1)), "keys.take")] if count else []
        return key_hints(*numbers, ("keys.escape", "keys.leave_log" if self.found.usable else "keys.without_log"))


def ways_out(found: FoundDamage) -> tuple[WayOut, ...]:
    """The ways there are, the best first."""
    ways = []
    if found.back_up is not None:
        values = {"day": found.back_up.day, "count": found.back_up.takes}
        key = "damage.way_lacking" if found.usable else "damage.way_both" if found.readable else "damage.way_back_up"
        ways.append(WayOut(words=say(key, **values), back_up=found.back_up.path, with_readable=found.readable))
    if found.usable:
        return tuple(ways)
    if found.readable:
        ways.append(WayOut(words=say("damage.way_readable"), with_readable=True))
    return (*ways, WayOut(words=say("damage.way_new")))


def told(recovered: Recovered) -> str:
    """What became of the log, in words."""
    said = [say("damage.in_order", count=recovered.takes)]
    in_part = recovered.salvaged.takes_in_part if recovered.salvaged else 0
    said += [say("damage.lost", count=recovered.takes_lost)] if recovered.takes_lost else []
    said += [say("damage.in_part", count=in_part)] if in_part else []
    if recovered.kept is not None:
        said.append(say("damage.kept", file=recovered.kept.name))
    return " ".join(said)
