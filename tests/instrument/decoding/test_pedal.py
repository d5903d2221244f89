"""Pedals are commands, learned by pressing them."""

from game.instrument.decoding.pedal import Pedals, learned_controller, pedal_pressed
from game.instrument.decoding.usual import USUAL_PEDALS
from tests.instrument.messages_of import control, on, stamped


def presses(messages, known=USUAL_PEDALS):
    pedals, count = Pedals(), 0
    for message in stamped(messages):
        pedals, is_pressed = pedal_pressed(pedals, message, known)
        count += is_pressed
    return count


def test_the_sustain_pedal_is_a_command_when_it_goes_down():
    """Controller 64, down from 64 on: MIDI 1.0."""
    assert presses([control(0.0, 64, 127), control(0.2, 64, 0)]) == 1
    assert presses([control(0.0, 64, 63)]) == 0


def test_a_pedal_that_tells_every_step_is_pressed_once():
    assert presses([control(0.01 * step, 64, step) for step in range(30, 128)]) == 1


def test_another_controller_must_be_learned():
    foot = [control(0.0, 4, 127)]
    assert presses(foot) == 0
    assert presses(foot, (*USUAL_PEDALS, learned_controller(stamped(foot)[0]))) == 1


def test_what_is_no_pedal_is_never_learned():
    """Data entry, parameter numbers and channel mode: MIDI 1.0."""
    for controller in (6, 38, 98, 101, 120, 123):
        assert learned_controller(stamped([control(0.0, controller, 127)])[0]) is None
    assert learned_controller(stamped([on(0.0, 64)])[0]) is None
