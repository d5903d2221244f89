"""The tune of a part is found on the shelf, with the bars that were set."""

import pytest

from game.assignments.assignment import AssignedTune
from game.errors import TuneError
from game.neck.neck_map import standard_map
from game.player.assigned_music import part_music, tune_request, tune_titled
from game.tunes.library.library import shipped_entries

MAP = standard_map()
ODE = next(entry for entry in shipped_entries() if entry.title == "Ode to Joy")


@pytest.mark.parametrize("title", ["Ode to Joy", "ODE TO JOY", "  ode  to joy "])
def test_a_title_is_found_however_it_is_typed(title):
    assert tune_titled(title, shipped_entries()) == ODE
    assert tune_titled("No Such Tune", shipped_entries()) is None


def test_the_bars_that_were_set_are_one_page_and_a_whole_tune_has_several():
    bars = tune_request(ODE, AssignedTune(title="Ode to Joy", bars=(1, 4)), MAP)
    assert [page.bar_numbers for page in bars.passages] == [("1", "4")]
    one = part_music(0, bars)
    assert one.pages == (one.whole,)
    whole = part_music(0, tune_request(ODE, AssignedTune(title="Ode to Joy"), MAP))
    assert len(whole.pages) > 1
    assert whole.whole not in whole.pages
    assert whole.keys == {*whole.pages, whole.whole}


def test_bars_that_a_tune_lacks_are_told():
    with pytest.raises(TuneError, match="bars_ask"):
        tune_request(ODE, AssignedTune(title="Ode to Joy", bars=(900, 901)), MAP)
