"""A fault says where it is, what stands there and what should, and what is used for now."""

from msgspec.inspect import type_info

from game.message import message
from game.player.file_faults import Fault, MoreFaults
from game.text.catalogue import tell


def test_a_fault_is_told_to_whoever_mends_the_file_and_to_whoever_goes_on():
    fault = Fault(("devices", "a guitar", "calibrated"), 1, type_info(bool), used=False)
    assert tell(fault.told) == "devices / a guitar / calibrated is true or false, not 1"
    assert tell(fault.mended) == "devices / a guitar / calibrated is false instead of 1"


def test_what_nothing_can_be_made_of_is_left_out():
    fault = Fault(("pedals", "2"), "soft", message("player.expected_different_channels"))
    assert tell(fault.told) == 'pedals / 2 is a list of six different channels, not "soft"'
    assert tell(fault.mended) == 'pedals / 2 is left out ("soft")'


def test_names_of_the_file_are_shown_shortly():
    fault = Fault(("devices", "x" * 500 + "\u202e", "periods"), "\x00" * 9, type_info(bool))
    assert len(tell(fault.told)) < 150


def test_many_more_of_a_kind_are_counted():
    assert tell(MoreFaults(("choices",), 1).told) == "1 more entry of choices is as faulty"
    assert tell(MoreFaults(("choices",), 7).mended) == "7 more entries of choices are as faulty"
    assert (MoreFaults(("choices",), 7).count, Fault((), 1, type_info(bool)).count) == (7, 1)
