"""Standard error turned away while C libraries are asked what they have."""

import os
from pathlib import Path

import pytest

from game.instrument.ports.quiet_stderr import quiet_standard_error

_DESCRIPTORS = Path("/proc/self/fd")


def complain(text):
    """As a C library does: straight to the descriptor."""
    os.write(2, text.encode())


def test_what_c_libraries_write_in_the_block_does_not_arrive_and_what_comes_after_does(capfd):
    complain("before ")
    with quiet_standard_error():
        complain("inside ")
    complain("after")
    assert capfd.readouterr().err == "before after"


def test_blocks_may_stand_inside_each_other(capfd):
    with quiet_standard_error():
        with quiet_standard_error():
            complain("inner ")
        complain("outer ")
    complain("after")
    assert capfd.readouterr().err == "after"


def test_an_error_in_the_block_gives_standard_error_back(capfd):
    with pytest.raises(OSError, match="refused"), quiet_standard_error():
        raise OSError("refused")
    complain("after")
    assert capfd.readouterr().err == "after"


@pytest.mark.skipif(not _DESCRIPTORS.exists(), reason="descriptors can be counted on Linux only")
def test_it_leaves_no_descriptor_open():
    def open_descriptors():
        return len(list(_DESCRIPTORS.iterdir()))

    before = open_descriptors()
    for _ in range(20):
        with quiet_standard_error():
            pass
    assert open_descriptors() == before


def test_without_a_descriptor_2_it_does_nothing(monkeypatch):
    def refuse(_):
        raise OSError("no such descriptor")

    monkeypatch.setattr(os, "dup", refuse)
    with quiet_standard_error():
        done = True
    assert done
