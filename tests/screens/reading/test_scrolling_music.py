"""One endless line that moves under the reading mark."""

import pytest

from tests.sampling import sample
from tests.screens.table import Table
from tests.screens.timed_pages import metronome_page


@pytest.mark.parametrize("tempo", sample([50, 100, 200, 300], by_default=1))
@pytest.mark.parametrize("size", sample([(960, 600), (1920, 1080)], by_default=1))
def test_at_least_a_bar_and_1_3_seconds_of_music_lie_ahead_at_any_tempo(tmp_path, tempo, size):
    """Furneaux & Land 1999: the eyes are about a second before the hands."""
    table = Table(tmp_path, size=size)
    page = metronome_page(table, tempo=tempo)
    music = page.view.music
    ahead_px = music._area.width - music._reading_x
    quarters = max(1.3 / page.take.quarter_s, 4.0)
    length = 8.0
    for start in (0.0, 1.0, 2.0, max(0.0, length - quarters)):
        assert music._staff.x_at(start + quarters) - music._staff.x_at(start) <= ahead_px + 1
