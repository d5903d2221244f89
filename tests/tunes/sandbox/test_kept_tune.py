"""What is kept of a tune goes through a pipe and comes out as it was."""

import pytest
from hypothesis import given
from hypothesis import strategies as st

from game.tunes.library.compact import pack, unpack
from game.tunes.sandbox.kept_tune import packed_up, unpacked_tune
from tests.tunes.read_here import read_here

ABC = b"X:1\nT:Ford\nM:4/4\nL:1/4\nK:C\nCDEF|\n"


def test_entry_tune_and_file_come_out_as_they_went_in():
    tune = read_here(ABC)
    kept = unpacked_tune(packed_up(tune, "ford.abc", pack(tune), ABC))
    assert (kept.entry.title, kept.entry.file_name, kept.entry.name) == ("Ford", "ford.abc", "")
    assert unpack(kept.packed) == tune
    assert kept.original == ABC


@given(st.binary(max_size=40))
def test_what_was_never_packed_up_is_refused(told):
    with pytest.raises(ValueError, match=r"."):
        unpacked_tune(told)
