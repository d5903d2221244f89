"""What was found wrong with the practice log at the start, and the ways to put it right, of which one is chosen."""

from dataclasses import dataclass
from pathlib import Path

import pygame

from game.desk.kit.by_pencil import draw_pencil
from game.desk.kit.canvas import Canvas, Style
from game.desk.kit.lines_of_text import draw_text_lines
from game.desk.typography import Face
from game.errors import HomefretError
from game.player.log_recovery import LogRecovery
from game.player.seat import sit_down_again
from game.practice_log.back_ups.recovery import FoundDamage, Recovered
from game.screens.base_screen import BaseScreen
from game.screens.context import ScreenContext
from game.screens.key_hints import KeyHint, key_hints
from game.screens.routes import Route, ToToday
from game.screens.setup.dialog_sheet import LEFT, ROW_LEFT, draw_foot, draw_running, lay_dialog, width_of
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
        self.chosen = 0
        self._recovery: LogRecovery | None = None
        # The upper and lower ends of the ways, in pixels.
        self._way_ends: list[tuple[int, int]] = []

    @property
    def moving(self) -> bool:
        """While the log is put right it is looked every moment whether it is."""
        return self._recovery is not None

    def on_key(self, event: pygame.event.Event) -> Route | None:
        if self._recovery is not None:
            return None
        if event.key == pygame.K_ESCAPE:
            self.context.session.log.leave_damaged()
            return ToToday()
        if event.key in (pygame.K_UP, pygame.K_DOWN) and self.ways:
            self.chosen = (self.chosen + (1 if event.key == pygame.K_DOWN else -1)) % len(self.ways)
        elif event.key in (pygame.K_RETURN, pygame.K_KP_ENTER) and self.ways:
            way = self.ways[self.chosen]
            self._recovery = LogRecovery(self.context.session, back_up=way.back_up, with_readable=way.with_readable)
        return None

    def on_click(self, at: tuple[int, int]) -> Route | None:
        """A click chooses a way."""
        for number, (top, bottom) in enumerate(self._way_ends):
            if top <= at[1] < bottom:
                self.chosen = number
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
            return ToToday()
        self.found = session.log.damage
        self.ways, self.chosen = ways_out(self.found), 0
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
        canvas, baseline = lay_dialog(self.context, surface, say("damage.title"))
        baseline += 20
        for sentence in self.sentences:
            baseline = draw_running(canvas, sentence, baseline) + 8
        self._draw_ways(canvas, baseline + 16)
        working = self._recovery is not None
        draw_foot(self.context, surface, self._keys(), say("keys.take") if self.ways and not working else "")
        return True

    def _draw_ways(self, canvas: Canvas, baseline: float) -> None:
        """The ways there are, that which is chosen with a mark."""
        theme = canvas.theme
        self._way_ends = []
        for number, way in enumerate(self.ways if self._recovery is None else ()):
            here = number == self.chosen
            if here:
                draw_pencil(canvas, [(LEFT, baseline - 9), (LEFT + 28, baseline - 11)], 5.5, theme.accent, 8)
            style = Style(Face.TEXT, 25, theme.ink if here else theme.faded)
            end = draw_text_lines(canvas, way.words, (ROW_LEFT, baseline), style, width_of(canvas) - ROW_LEFT + LEFT)
            self._way_ends.append((canvas.px(baseline - 30), canvas.px(end - 24)))
            if here:
                self.context.window.follow(canvas.rect(LEFT, baseline - 30, width_of(canvas), end - baseline + 6))
            baseline = end + 12

    def _keys(self) -> tuple[KeyHint, ...]:
        if self._recovery is not None:
            return ()
        choose = [("keys.updown", "keys.choose")] if len(self.ways) > 1 else []
        return key_hints(*choose, ("keys.escape", "keys.leave_log" if self.found.usable else "keys.without_log"))


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
