"""The compact form: what is packed comes out again, whatever the tune."""

from dataclasses import replace
from fractions import Fraction

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from game.errors import TuneError
from game.music.chords import ChordSymbol
from game.music.keys import Key
from game.music.meter import UNITS, Meter
from game.music.pitch import STEPS, Pitch
from game.music.score import Bar, BarMarks, Jump, Note, NoteValue, Reading, Rest, Score, Tuplet, Until
from game.tunes.library.compact import VERSION, pack, unpack
from game.tunes.musicxml.note_values import BASES
from tests.refusing import refusal

lengths = st.fractions(min_value=0, max_value=64, max_denominator=960)
tuplets = st.builds(
    Tuplet, actual=st.integers(1, 32), normal=st.integers(1, 32), starts=st.booleans(), stops=st.booleans()
)
values = st.builds(NoteValue, base=st.sampled_from(BASES), dots=st.integers(0, 3), tuplet=st.none() | tuplets)
pitches = st.builds(Pitch, step=st.sampled_from(STEPS), alter=st.integers(-2, 2), octave=st.integers(-1, 10))
notes = st.builds(
    Note,
    onset=lengths,
    length=lengths,
    value=values,
    pitch=pitches,
    tied_to_next=st.booleans(),
    tied_from_previous=st.booleans(),
    grace=st.booleans(),
)
rests = st.builds(Rest, onset=lengths, length=lengths, value=values, whole_bar=st.booleans())
marks = st.builds(
    BarMarks,
    repeat_start=st.booleans(),
    repeat_end=st.integers(0, 64),
    endings=st.lists(st.integers(1, 9), max_size=3).map(tuple),
    ending_starts=st.booleans(),
    ending_stops=st.booleans(),
    segno=st.booleans(),
    coda=st.booleans(),
    to_coda=st.booleans(),
    fine=st.booleans(),
    jump=st.none() | st.sampled_from(Jump),
    until=st.none() | st.sampled_from(Until),
)
texts = st.text(max_size=20)
bars = st.builds(
    Bar,
    number=texts,
    meter=st.builds(Meter, beats=st.integers(1, 64), unit=st.sampled_from(UNITS)),
    key=st.builds(Key, fifths=st.integers(-7, 7), minor=st.booleans()),
    length=lengths,
    events=st.lists(notes | rests, max_size=5).map(tuple),
    chords=st.lists(
        st.builds(ChordSymbol, onset=lengths, root=texts, kind=texts, text=texts, bass=texts), max_size=2
    ).map(tuple),
    marks=marks,
    pickup=st.booleans(),
)
scores = st.builds(
    Score,
    title=texts,
    reading=st.sampled_from(Reading),
    bars=st.lists(bars, max_size=4).map(tuple),
    file_format=st.sampled_from(("musicxml", "abc", "midi")),
    composer=texts,
    part=texts,
    octave_reason=texts,
    swung=st.none() | st.booleans(),
    warnings=st.lists(texts, max_size=2).map(tuple),
)


@settings(max_examples=150, deadline=None)
@given(scores)
def test_unpacking_is_the_opposite_of_packing(score):
    """Every field of every tune survives the round trip."""
    assert unpack(pack(score)) == score


def test_fractions_are_kept_exactly():
    """A third is a third."""
    rest = Rest(onset=Fraction(1, 3), length=Fraction(2, 3), value=NoteValue(base=Fraction(1)))
    bar = Bar(number="1", meter=Meter(), key=Key(), length=Fraction(4), events=(rest,))
    packed = pack(Score(title="", reading=Reading.GUITAR, bars=(bar,)))
    assert b'"1/3"' in packed
    assert unpack(packed).bars[0].events[0].length == Fraction(2, 3)


@pytest.mark.parametrize(
    ("old", "new"),
    [
        (b'"4"', b'"4/0"'),
        (b'"4"', b'"1e99999999"'),
        (b'"4"', b"4"),
        (b'"guitar"', b'"lute"'),
        (b'"bars"', b'"rows"'),
        (b"}", b""),
        (b'"1",4,4,0', b'"1",4,5,0'),
        (b'"1",4,4,0', b'"1",4,4,99'),
    ],
)
def test_a_damaged_form_is_refused_in_one_sentence(old, new):
    """No damaged tune reaches the page."""
    bar = Bar(number="1", meter=Meter(), key=Key(), length=Fraction(4), events=())
    packed = pack(Score(title="", reading=Reading.GUITAR, bars=(bar,)))
    assert old in packed
    with refusal(TuneError, r"kept form of this tune is damaged .*import the original again"):
        unpack(packed.replace(old, new))


def test_a_form_of_a_later_version_is_refused():
    """An old program does not guess at a new form."""
    packed = pack(Score(title="", reading=Reading.GUITAR, bars=()))
    later = packed.replace(f'"version":{VERSION}'.encode(), b'"version":99')
    with refusal(TuneError, "kept by a newer Homefret"):
        unpack(later)


def test_a_changed_score_packs_differently():
    """The form holds what the score holds."""
    score = Score(title="A", reading=Reading.GUITAR, bars=())
    assert pack(score) != pack(replace(score, reading=Reading.CONCERT))
