"""A newcomer comes from the first start to good night with one means alone, and sits down again the evening after."""

import re
from datetime import date, timedelta

import pygame
import pytest

from game.coach.plan.plan_steps import StepKind
from game.coach.stages import Stage
from game.screens.choosing.today_sheet import RowState
from game.text.catalogue import say
from tests.sampling import how_many, sample
from tests.screens.evening_players import (
    CornerReader,
    EveningPlayer,
    GuitarPlayer,
    HeardPlayer,
    KeysPlayer,
    MousePlayer,
    OwnWordPlayer,
)
from tests.screens.table import Table

FIRST_DAY = date(2026, 11, 24)
MEANS = {
    "mouse alone": MousePlayer,
    "keys alone": KeysPlayer,
    "guitar alone": GuitarPlayer,
    "plain guitar, heard": HeardPlayer,
    "plain guitar, by own word": OwnWordPlayer,
}
PAGES = ("PlacesPage", "FreePage", "MetronomePage", "SelfMarkedPage", "LettersPage")


class Witness:
    """Looks at every screen of an evening: that it leads on, and that what the one before has told is what came."""

    def __init__(self, corner: CornerReader) -> None:
        self.corner = corner
        self.screens: list[str] = []
        self.played: set[str] = set()
        self.played_before: set[str] = set()
        self._told: tuple[str, str] | None = None

    def __call__(self, table: Table) -> None:
        self.corner.words = ""
        table.screen.resized()
        table.picture()
        name, screen = table.screen_name, table.screen
        self.screens.append(name)
        assert self._leads_on(table), f"nothing leads on from {name}"
        if self._told is not None:
            self._came_as_told(name, screen, *self._told)
        self._told = (screen._words.now, self.corner.words) if name == "ResultScreen" else None
        if name == "TodayScreen":
            self._nothing_met_is_new(table)
        if name in PAGES and not screen.request.fresh:
            self.played.add(table.context.session.last_opened.name)

    @staticmethod
    def _leads_on(table: Table) -> bool:
        """With the mouse as with the keyboard; and the free string does what these two do."""
        clicked = {press.key for _, press in table.context.window._boxes}
        told = {press.key for hint in table.context.window.told_keys for press in hint.presses}
        return bool(clicked & {pygame.K_RETURN, pygame.K_ESCAPE}) and pygame.K_ESCAPE in told | clicked

    @staticmethod
    def _came_as_told(name: str, screen, now: str, corner: str) -> None:
        """What a result said is what its corner did."""
        if corner == say("corner.step_over"):
            assert name == "TodayScreen", now
            return
        if corner == say("corner.sign_page"):
            assert name == "SigningScreen", now
            return
        assert name in PAGES, f"{now} led to {name}"
        request = screen.request
        tempi = [int(figure) for figure in re.findall(r"\b\d{2,3}\b", corner)]
        assert not tempi or request.tempo_bpm in tempi, (corner, request.tempo_bpm)
        if corner == say("corner.places"):
            assert request.stage is Stage.PLACES, now
        if corner == say("corner.rhythm"):
            assert request.stage is Stage.RHYTHM, now

    def _nothing_met_is_new(self, table: Table) -> None:
        steps, rows = table.context.session.plan.progress.steps, table.screen.sheet.rows
        ahead = [step for step, row in zip(steps, rows, strict=True) if row.state in (RowState.AHEAD, RowState.BEGUN)]
        assert not [s.tune for s in ahead if s.kind is StepKind.NEW_TUNE and s.tune in self.played_before]

    def sleep(self) -> None:
        """The night between two evenings."""
        self.played_before |= self.played
        self._told = None


def evening(folder, means: type[EveningPlayer], look: Witness, number: int, **player) -> Table:
    """The evening of that number, from its first picture until the game is left."""
    table = Table(
        folder,
        size=(960, 600),
        guitar=means is GuitarPlayer,
        day=FIRST_DAY + timedelta(number),
        from_start=True,
    )
    means(table, look, seed=number + 3, **player).sit_through()
    table.context.session.close()
    look.sleep()
    return table


@pytest.mark.parametrize("means", sample(MEANS, by_default=2))
def test_from_the_first_start_to_good_night_and_again_the_evening_after(tmp_path, monkeypatch, means):
    """Where everything is asked for with all means, on four evenings, of people who take their time and come as far as
    the click: they begin with three notes of four right.
    """
    look, shown = Witness(CornerReader(monkeypatch)), []
    for number in range(how_many(4, by_default=2 if means in sample(MEANS, by_default=1) else 1)):
        look.screens.clear()
        right, thinks_s = (0.75, 0.9, 0.98, 0.98)[number], how_many(60, by_default=240)
        evening(tmp_path / "player", MEANS[means], look, number, right=right, thinks_s=thinks_s)
        shown.append(tuple(look.screens))
        assert shown[-1][-1] == "GoodNightScreen"
        assert {"TodayScreen", "ResultScreen"} < set(shown[-1])
    assert shown[0][0] == "FirstStartScreen"
    assert "ListeningScreen" in shown[0], "the first tune is heard whole, though its reader took their time"
    assert not [evening for evening in shown[1:] if "FirstStartScreen" in evening], "the first start comes once"
    assert any("ode" in name for name in look.played), look.played
