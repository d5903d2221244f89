"""The metre of a MusicXML part that says none, as excerpts leave it out: by the length of its bars."""

from collections import Counter
from collections.abc import Sequence
from fractions import Fraction
from itertools import takewhile
from xml.etree.ElementTree import Element

from game.message import Message, message
from game.music.meter import MAX_BEATS, Meter
from game.tunes.musicxml.bar_times import BarTimes, advance_of, bar_times

# Of three quarter notes.
_MIDDLE = Fraction(3, 2)


def say_metre(part: Element) -> tuple[Message, ...]:
    """Put a metre into the first bar of a checked `part` when none is said there, and the sentence that says so.

    What most bars before the first metre hold, the first bar left out, as it may be a pickup; 4/4 where they have
    nothing in common.
    """
    measures = part.findall("measure")
    unsaid = list(takewhile(lambda measure: measure.find("attributes/time") is None, measures))
    if not unsaid:
        return ()
    meter = _meter_of(list(bar_times(part))[: len(unsaid)])
    attributes = part.makeelement("attributes", {})
    time = part.makeelement("time", {})
    for tag, number in (("beats", meter.beats), ("beat-type", meter.unit)):
        element = part.makeelement(tag, {})
        element.text = str(number)
        time.append(element)
    attributes.append(time)
    measures[0].insert(0, attributes)
    return (message("tune.metre_unsaid", meter=meter.text),)


def _meter_of(bars: Sequence[BarTimes]) -> Meter:
    lengths = Counter(bar.end for bar in bars[1:] or bars if bar.end)
    length, count = lengths.most_common(1)[0] if lengths else (Fraction(0), 0)
    if 2 * count <= sum(lengths.values()):
        return Meter()
    return _meter_as_long(length, [bar for bar in bars if bar.end == length])


def _meter_as_long(length: Fraction, bars: Sequence[BarTimes]) -> Meter:
    """Quarters, or eighths where these do not come out or the notes fall into dotted quarters."""
    unit = 8 if length % 1 or (length % 3 == 0 and _in_dotted_quarters(bars)) else 4
    beats = length * unit / 4
    return Meter(int(beats), unit) if beats.denominator == 1 and beats <= MAX_BEATS else Meter()


def _in_dotted_quarters(bars: Sequence[BarTimes]) -> bool:
    """Whether more notes begin in the middle of three quarters than sound across it; a half with a dot does neither."""
    begin = across = 0
    for now, divisions, element in (event for bar in bars for event in bar.elements):
        start = now % 3
        end = start + advance_of(element) / divisions
        begin += start == _MIDDLE < end
        across += start < _MIDDLE < end and (start > 0 or end < 2 * _MIDDLE)
    return begin > across
