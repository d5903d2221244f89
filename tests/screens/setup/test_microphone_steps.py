"""What the steps of setting a microphone up say of what they hear."""

from game.player.device_settings import MicrophoneSettings
from game.screens.setup.microphone_steps import LevelStep, QuietStep, StringsStep
from tests.screens.fake_microphone import FakeMicrophone


def test_a_loud_room_is_told(table):
    microphone, step = FakeMicrophone(table), QuietStep(table.context, "an interface")
    microphone.sounds(rms_db=-38)
    for number in range(40):
        step.tick(10 + 0.1 * number)
    assert step.done
    assert step.outcome == "noise at -38 dB"
    assert step.advice.startswith("It is loud here")


def test_while_the_input_is_being_opened_no_time_is_counted(table):
    microphone, step = FakeMicrophone(table), QuietStep(table.context, "an interface")
    for number in range(100):
        step.tick(10 + 0.1 * number)
    assert step.lasted_s == 0
    microphone.sounds(rms_db=-60)
    step.tick(20.0)
    assert not step.done


def test_a_level_is_held_against_the_noise_that_was_measured(table):
    table.settle(microphones={"an interface": MicrophoneSettings(floor_db=-40)})
    microphone, step = FakeMicrophone(table), LevelStep(table.context, "an interface")
    microphone.sounds(rms_db=-50, peak_db=-34)
    step.tick(10.0)
    assert step.words.startswith("Play anything")


def test_the_strings_are_those_of_the_players_tuning(table):
    table.settle(tuning="drop-d")
    microphone, step = FakeMicrophone(table), StringsStep(table.context)
    microphone.rings(38.0)
    for number in range(12):
        step.tick(10 + 0.05 * number)
    assert step.check.cents[5] == 0
