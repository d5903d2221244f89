"""The tuner: open strings, as long as one wishes."""

import pygame

from game.screens.routes import ToTuner
from tests.screens.drawn_text import DrawnText
from tests.screens.fake_microphone import FakeMicrophone


def test_a_string_is_told_by_its_pitch_with_its_cents(table, monkeypatch):
    microphone = FakeMicrophone(table)
    table.go(ToTuner())
    microphone.rings(49.7)
    table.wait(0.6, frame_s=0.05)
    drawn = DrawnText(monkeypatch)
    table.app.draw()
    assert "30 cents low" in drawn.whole
    microphone.rings(50.02)
    table.wait(0.6, frame_s=0.05)
    drawn = DrawnText(monkeypatch)
    table.app.draw()
    assert "in tune" in drawn.whole


def test_it_stays_until_one_leaves_also_when_all_are_in_tune(table):
    microphone = FakeMicrophone(table)
    table.go(ToTuner())
    for pitch in (40, 45, 50, 55, 59, 64):
        microphone.rings(float(pitch))
        table.wait(0.6, frame_s=0.05)
    table.wait(5.0, frame_s=0.1)
    assert table.screen.strings.words == "All six are in tune."
    table.key(pygame.K_BACKSPACE)
    assert not table.screen.strings.check.all_heard
    table.key(pygame.K_RETURN)
    assert table.screen_name == "TodayScreen"
