"""The count as the page shows it, from the count-in to the end."""

from fractions import Fraction
from functools import lru_cache

from game.audio.metronome import Metronome
from game.desk.count_drawing import Count
from game.music.meter import Meter
from game.practice.take_request import TakeRequest
from game.practice.timed_take import TimedTake


def shown_count(metronome: Metronome, take: TimedTake, request: TakeRequest, now_s: float) -> Count | None:
    """The beat that sounds now, None between beats. Where each note has a click there are no bars to count."""
    shown = metronome.beat(now_s)
    if shown is None or (request.one_a_click and take.position(now_s) >= 0):
        return None
    return _count_at(shown[0].onset_quarters, request.passage.bars[0].meter)


@lru_cache(maxsize=64)  # the same for many frames
def _count_at(onset_quarters: Fraction, meter: Meter) -> Count:
    beats = max(1, int(meter.bar_length / meter.beat_length))
    return Count(int(onset_quarters // meter.beat_length) % beats + 1, beats)
