"""The compact form: what is packed comes out again, whatever the tune."""

from dataclasses import dataclass, fields, replace
from fractions import Fraction

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from game.errors import TuneError
from game.message import message, verbatim
from game.music.chords import ChordSymbol
from game.music.keys import Key
from game.music.meter import UNITS, Meter
from game.music.note_values import BASES
from game.music.pitch import STEPS, Pitch
from game.music.score import (
    Bar,
    BarLine,
    BarMarks,
    Jump,
    Note,
    NoteValue,
    OrderDoubt,
    Reading,
    Rest,
    Score,
    Tuplet,
    Until,
)
from game.text.catalogue import tell
from game.tunes.left_out import bars_listed
from game.tunes.library import compact
from game.tunes.library.compact import VERSION, pack, unpack
from tests.made import score
from tests.refusing import refusal
from tests.sampling import how_many

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
    read_otherwise=st.lists(st.sampled_from(OrderDoubt), max_size=2, unique=True).map(tuple),
    jump_words=st.text(max_size=20),
    bar_line=st.none() | st.sampled_from(BarLine),
    section=st.text(max_size=20),
)
texts = st.text(max_size=20)
sentences = st.sampled_from(
    (
        message("octave.high_line"),
        message("tune.cue_notes", bars=bars_listed(("3", "5a"))),
        message("octave.part_shifted", semitones=-5),
        verbatim("The eighths are swung, about 1.6 to 1: they are written straight."),
    )
)
bars = st.builds(
    Bar,
    number=texts,
    meter=st.builds(Meter, beats=st.integers(1, 64), unit=st.sampled_from(UNITS)),
    key=st.builds(Key, fifths=st.integers(-7, 7), minor=st.booleans()),
    length=lengths,
    events=st.lists(notes | rests, max_size=3).map(tuple),
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
    bars=st.lists(bars, max_size=2).map(tuple),
    file_format=st.sampled_from(("musicxml", "abc", "midi")),
    composer=texts,
    part=texts,
    octave_reason=st.none() | sentences,
    swung=st.none() | st.booleans(),
    feel=texts,
    warnings=st.lists(sentences, max_size=2).map(tuple),
)


@settings(max_examples=how_many(80, by_default=20), deadline=None)
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
    later = packed.replace(b'"version":1', b'"version":99')
    with refusal(TuneError, "kept by a newer Homefret"):
        unpack(later)


def test_a_changed_score_packs_differently():
    """The form holds what the score holds."""
    score = Score(title="A", reading=Reading.GUITAR, bars=())
    assert pack(score) != pack(replace(score, reading=Reading.CONCERT))


def test_a_form_of_the_first_version_opens_with_its_finished_sentences_as_they_are():
    """Libraries hold tunes that were kept when sentences were English text."""
    old = (
        b'{"version":1,"title":"","composer":"","part":"","file_format":"midi","reading":"guitar",'
        b'"octave_reason":"The file says so.","swung":null,"warnings":["Cue notes were left out (bar 3)."],"bars":[]}'
    )
    score = unpack(old)
    assert score.octave_reason == verbatim("The file says so.")
    assert score.warnings == (verbatim("Cue notes were left out (bar 3)."),)
    assert pack(score) == old
    assert unpack(old.replace(b"The file says so.", b"")).octave_reason is None


def test_a_sentence_is_kept_as_its_key_with_values():
    """What a player reads is put in words when it is read, in the language of that day."""
    packed = pack(
        Score(title="", reading=Reading.GUITAR, bars=(), octave_reason=message("octave.part_shifted", semitones=3))
    )
    assert b'"octave_reason":{"key":"octave.part_shifted","values":{"semitones":3}}' in packed
    assert f'"version":{VERSION}'.encode() in packed


@pytest.mark.parametrize(
    "sentence", [b'{"key":1,"values":{}}', b'{"key":"tune.slashes"}', b'{"key":"a","values":{"b":null}}', b"3"]
)
def test_a_sentence_that_is_no_message_is_refused(sentence):
    """No damaged tune reaches the page."""
    packed = pack(Score(title="", reading=Reading.GUITAR, bars=(), warnings=(message("tune.no_segno"),)))
    with refusal(TuneError, r"kept form of this tune is damaged .*import the original again"):
        unpack(packed.replace(b'{"key":"tune.no_segno","values":{}}', sentence))


@pytest.mark.parametrize(
    "sentence", [b'{"key":"tune.of_years_to_come","values":{}}', b'{"key":"tune.slashes","values":{}}']
)
def test_a_sentence_this_program_has_no_words_for_says_so(sentence):
    """The tune opens all the same."""
    packed = pack(Score(title="", reading=Reading.GUITAR, bars=(), warnings=(message("tune.no_segno"),)))
    score = unpack(packed.replace(b'{"key":"tune.no_segno","values":{}}', sentence))
    assert [tell(warning) for warning in score.warnings] == [
        "This was written by another version of the program, in words this one does not have."
    ]


def test_a_field_that_noteheads_get_later_is_kept_without_another_line(monkeypatch):
    """As if the Score had learned of fermatas: told where it is not as usual, left out where it is."""

    @dataclass(frozen=True, slots=True, kw_only=True)
    class NoteOfTomorrow(Note):
        fermata: bool = False

    plain = score("F4 h, G4 h", "A4 w")
    first, *others = plain.bars[0].events
    marked = NoteOfTomorrow(**{field.name: getattr(first, field.name) for field in fields(first)}, fermata=True)
    tomorrow = [replace(plain.bars[0], events=(marked, *others)), *plain.bars[1:]]
    packed_today = pack(plain)
    monkeypatch.setattr(compact, "Note", NoteOfTomorrow)
    monkeypatch.setattr(compact, "_NOTE", {"fermata": bool})
    monkeypatch.setattr(compact, "_LATER", {"fermata": False})
    packed = pack(replace(plain, bars=tuple(tomorrow)))
    assert b'"later":{"0.0":{"fermata":true}}' in packed
    assert b"later" not in packed_today
    assert [event.fermata for bar in unpack(packed).bars for event in bar.events] == [True, False, False]
    monkeypatch.undo()
    assert unpack(packed) == plain


def test_a_bar_kept_before_the_page_had_sections_opens_without_them():
    """Only fields were added, and each is told only where it is set."""
    tune = score("C4 w")
    kept = replace(tune, bars=(replace(tune.bars[0], marks=BarMarks(repeat_end=2)),))
    assert b'{"repeat_end":2}' in pack(kept)
    marked = BarMarks(repeat_end=2, section="A", bar_line=BarLine.DOUBLE)
    today = replace(tune, bars=(replace(tune.bars[0], marks=marked),))
    assert unpack(pack(today).replace(b',"bar_line":"light-light","section":"A"', b"")) == kept


def test_a_doubt_that_a_newer_program_knows_is_passed_over():
    """The tune opens, read as usual there."""
    marks = BarMarks(repeat_end=2, read_otherwise=(OrderDoubt.GAP,))
    tune = score("C4 w")
    kept = replace(tune, bars=(replace(tune.bars[0], marks=marks),))
    newer = pack(kept).replace(b'["gap"]', b'["gap","of later"]')
    assert newer != pack(kept)
    assert unpack(newer) == kept


@pytest.mark.parametrize("damage", [b'"gap"', b"[[1]]", b"7"])
def test_doubts_that_make_no_sense_are_passed_over_or_refused_in_a_sentence(damage):
    tune = score("C4 w")
    marked = replace(tune, bars=(replace(tune.bars[0], marks=BarMarks(read_otherwise=(OrderDoubt.GAP,))),))
    damaged = pack(marked).replace(b'["gap"]', damage)
    if damage.startswith(b"["):
        assert unpack(damaged).bars[0].marks == BarMarks()
    else:
        with refusal(TuneError, "damaged"):
            unpack(damaged)
