"""The next map, after one that is fluent: what there is to choose from, and why. It can wait, and be declined."""

from collections.abc import Iterator
from dataclasses import dataclass
from typing import Final

import pygame

from game.coach.notes.map_identity import map_key
from game.coach.plan.next_map import NextMap, NextMapAnswer, fluent_told, lacking_told, next_maps
from game.errors import HomefretError, reason_of
from game.music.notes_called import notes_called
from game.neck.melody_counts import MelodyCounts, counted_together
from game.neck.neck_map import NeckMap
from game.player.map_names import name_by_itself
from game.screens.base_screen import BaseScreen
from game.screens.choosing.next_map_drawing import NextMapRow, draw_next_maps, row_at, row_rect
from game.screens.context import ScreenContext
from game.screens.ink_sheet import ink_sheet
from game.screens.key_hints import key_hints
from game.screens.routes import Back, Route, ToToday
from game.screens.shown_keys import draw_keys, lay_paper
from game.screens.tabbed_sheet import draw_next
from game.text.catalogue import say, tell
from game.tunes.library.library import shelf, with_pairs

_MOST_TUNES: Final = 40
"""So many of the tunes opened last speak for what the player reads: each has to be opened for it."""


@dataclass(frozen=True, slots=True)
class _Choice:
    """A row: a map to be learned, or the answer that there is none to be for now."""

    answer: NextMapAnswer
    next_map: NextMap | None = None


class NextMapScreen(BaseScreen):
    """Maps to choose from, then *later*, then *no*."""

    at_rest = True
    free_string_commands = True

    def __init__(self, context: ScreenContext) -> None:
        super().__init__(context)
        self.chosen = 0
        maps = context.session.plan.known.maps
        self._own, self._fluency = maps.own, maps.fluency
        known = tuple(one.neck_map for one, _ in maps.others)
        counts = tunes_counted(context, self._own.neck_map)
        proposals = next_maps(self._own.neck_map, counts, known)
        answers = [_Choice(NextMapAnswer.ACCEPTED, one) for one in proposals]
        self.choices = (*answers, _Choice(NextMapAnswer.POSTPONED), _Choice(NextMapAnswer.DECLINED))

    def on_key(self, event: pygame.event.Event) -> Route | None:
        match event.key:
            case pygame.K_ESCAPE:
                return Back()
            case pygame.K_RETURN | pygame.K_KP_ENTER:
                return self._answer()
            case pygame.K_UP | pygame.K_DOWN:
                by = 1 if event.key == pygame.K_DOWN else -1
                self.chosen = min(max(self.chosen + by, 0), len(self.choices) - 1)
        return None

    def on_wheel(self, up: int) -> Route | None:
        self.chosen = min(max(self.chosen - up, 0), len(self.choices) - 1)
        return None

    def on_click(self, at: tuple[int, int]) -> Route | None:
        """A click chooses a row; one on the chosen row does what the corner says."""
        row = row_at(self.context.sheet, at, len(self.choices))
        if row is None:
            return None
        if row == self.chosen:
            return self._answer()
        self.chosen = row
        return None

    def _answer(self) -> Route | None:
        """What the corner says. A map that cannot be kept is not answered: it is said why."""
        session, choice = self.context.session, self.choices[self.chosen]
        if choice.next_map is not None and not self._learn(choice.next_map.neck_map):
            return None
        if self._fluency.fluent:
            session.log.facts.answer_next_map(map_key(self._own.neck_map), choice.answer)
        return ToToday()

    def _learn(self, neck_map: NeckMap) -> bool:
        """Keep a map and go over to it; whether that was possible."""
        session = self.context.session
        try:
            there = session.maps.at(neck_map)
            same = there is not None and there.neck_map.homes == neck_map.homes
            named = there if there is not None and same else session.maps.keep("", neck_map)
            session.maps.use(named.id)
        except HomefretError as error:
            self.context.say_error(error)
            return False
        except OSError as error:
            self.context.say(say("settings.not_kept", reason=reason_of(error)))
        session.plan.replan()
        return True

    def draw(self, surface: pygame.Surface) -> bool:
        lay_paper(self.context, surface)
        choice = self.choices[self.chosen]
        shown = choice.next_map.neck_map if choice.next_map else self._own.neck_map
        draw_next_maps(
            self.context,
            surface,
            said=self._said,
            rows=[NextMapRow(self._title(one), chosen=one is choice) for one in self.choices],
            reasons=tuple(self._reasons(choice)),
            heading=name_by_itself(shown) if choice.next_map else self._own.name,
            ink=ink_sheet(self.context, neck_map=shown),
        )
        self.context.window.follow(row_rect(self.context.sheet, self.chosen))
        right = draw_next(self.context, surface, self._corner(choice)).left / self.context.sheet.unit - 20
        keys = key_hints(("keys.updown", "keys.choose"), ("keys.escape", "keys.back"))
        draw_keys(self.context, surface, keys, right=right)
        return True

    @property
    def _said(self) -> str:
        """Why there is a next map, or what the own one lacks until there is."""
        told = fluent_told if self._fluency.fluent else lacking_told
        return tell(told(self._fluency, self._own.name))

    @staticmethod
    def _title(choice: _Choice) -> str:
        if choice.next_map is None:
            return say(f"next_map.{choice.answer.value}")
        return name_by_itself(choice.next_map.neck_map)

    @staticmethod
    def _corner(choice: _Choice) -> str:
        return say("next_map.learn") if choice.next_map else say("corner.today")

    def _reasons(self, choice: _Choice) -> Iterator[str]:
        if choice.next_map is not None:
            names = self.context.settings.note_names
            yield from (tell(notes_called(one, names)) for one in choice.next_map.reasons)
            yield say("next_map.mixed_later", map=self._own.name)
        else:
            yield say(f"next_map.why_{choice.answer.value}")


def tunes_counted(context: ScreenContext, neck_map: NeckMap) -> MelodyCounts:
    """The melodies of the tunes opened last, as they sound for somebody with this map."""
    names, homes = context.session.log.facts.opened_in_order[-_MOST_TUNES:], neck_map.places
    opened = (with_pairs(entry) for entry in shelf() if entry.name in names)
    return counted_together(entry.melody(neck_map.reading, homes) for entry in opened)
