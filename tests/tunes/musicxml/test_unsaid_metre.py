"""Parts that do not say their metre."""

from xml.etree import ElementTree as ET

import pytest

from game.tunes.musicxml.unsaid_metre import say_metre
from tests.tunes.hand_written import ATTRIBUTES, QUARTERS, measure, note, score
from tests.tunes.told import warnings_told

TIME = "<time><beats>4</beats><beat-type>4</beat-type></time>"
UNSAID = ATTRIBUTES.replace(TIME, "")
WALTZ = note("C4", 8) + note("D4", 4)
JIG = note("C4", 4) + note("D4", 2) + note("E4", 4) + note("F4", 2)
DOTTED_HALF = note("C4", 12, "<dot/>", value="half")


def metre_of(*measures: str, attributes: str = UNSAID) -> str:
    """The metre a part of these bars is read in."""
    first, *others = measures
    bars = measure(attributes + first) + "".join(measure(content) for content in others)
    part = ET.fromstring(f"<part>{bars}</part>")
    assert len(say_metre(part)) == 1
    return f"{part.findtext('measure/attributes/time/beats')}/{part.findtext('measure/attributes/time/beat-type')}"


@pytest.mark.parametrize(
    ("bars", "metre"),
    [
        ([WALTZ, note("C4", 4) * 3, DOTTED_HALF], "3/4"),
        ([note("C4", 4), WALTZ, WALTZ], "3/4"),
        ([note("C4", 6, "<dot/>", value="quarter") + note("D4", 2) + note("E4", 4), WALTZ, WALTZ], "3/4"),
        ([JIG, JIG, DOTTED_HALF], "6/8"),
        ([JIG * 2, JIG * 2], "12/8"),
        ([JIG + note("C4", 6, "<dot/>", value="quarter")] * 3, "9/8"),
        ([note("C4", 4) * 2] * 3, "2/4"),
        ([note("C4", 2) * 5] * 3, "5/8"),
        ([QUARTERS] * 3, "4/4"),
        ([WALTZ], "3/4"),
        ([WALTZ, QUARTERS, JIG + note("C4", 2), note("C4", 2)], "4/4"),
        ([""], "4/4"),
    ],
)
def test_it_is_what_most_bars_hold(bars, metre):
    """Not the first, which may be a pickup; 4/4 where no more than half of them agree."""
    assert metre_of(*bars) == metre


def test_bars_behind_the_first_time_signature_say_nothing():
    assert metre_of(WALTZ, WALTZ, f"<attributes>{TIME}</attributes>" + QUARTERS, QUARTERS, QUARTERS, QUARTERS) == "3/4"


def test_what_is_said_stands():
    part = ET.fromstring(f"<part>{measure(ATTRIBUTES + WALTZ)}{measure(WALTZ)}</part>")
    assert say_metre(part) == ()
    assert len(list(part.iter("time"))) == 1


def test_the_account_says_so(read):
    tune = read(score(WALTZ, WALTZ, attributes=UNSAID))
    assert [bar.meter.text for bar in tune.bars] == ["3/4", "3/4"]
    assert not tune.bars[0].pickup
    assert "The file has no time signature; by the length of its bars it is read in 3/4." in warnings_told(tune)
