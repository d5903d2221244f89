"""A map as a table of TOML: what is written is read again as the same map, and what is wrong is told all at once."""

import tomllib

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from game.assignments.map_table import STRETCHES, map_of, map_rows, quoted, stretch_word
from game.music.score import Reading
from game.neck.hand import WIDEST_SPAN, FrettingHand
from game.neck.neck_map import FEWEST_FRETS, SecondRegion, standard_map
from game.neck.tuning import MAX_FRETS, TUNINGS, Place, tuning_named
from game.text.catalogue import tell
from tests.sampling import how_many

EXAMPLE = """
[map]
position = 5
tuning = "standard"
frets = 22
read = "guitar"
span = 4
stretch = "back"
open_strings = true
second = 12
seam = "A5"
[[map.home]]
written = "E4"
string = 5
fret = 7
[[map.home]]
written = "G♯4"
string = 4
fret = 6
"""


def read(text: str):
    """The map of a text, and its faults in words."""
    faults = []
    neck_map = map_of(tomllib.loads(text)["map"], faults)
    return neck_map, [tell(fault) for fault in faults]


@st.composite
def maps(draw):
    """Maps of all kinds, many of which nobody would choose."""
    tuning = draw(st.one_of(st.sampled_from(list(TUNINGS.values())), tunings()))
    span = draw(st.integers(1, WIDEST_SPAN))
    frets = draw(st.integers(max(FEWEST_FRETS, span), MAX_FRETS))
    back, on = draw(st.sampled_from(list(STRETCHES.values())))
    positions = st.integers(1, frets - span + 1)
    lowest, highest = min(tuning.open_strings), max(tuning.open_strings) + frets + 1
    places = draw(st.lists(st.builds(Place, st.integers(1, tuning.strings), st.integers(0, frets)), max_size=12))
    return standard_map(
        position=draw(positions),
        tuning=tuning,
        frets=frets,
        reading=draw(st.sampled_from(Reading)),
        choices={tuning.sounding(place): place for place in places},
        hand=FrettingHand(span=span, back=back, on=on, open_strings=draw(st.booleans())),
        second=draw(st.none() | st.builds(SecondRegion, position=positions, seam=st.integers(lowest, highest))),
    )


def tunings():
    """Tunings that have no name."""
    strings = st.lists(st.integers(24, 79), min_size=4, max_size=8)
    return strings.map(lambda numbers: tuning_named(" ".join(map(str, numbers))))


@settings(max_examples=how_many(1000, by_default=60), deadline=None)
@given(maps())
def test_any_map_that_is_written_is_read_again_as_the_same(neck_map):
    faults = []
    assert map_of(tomllib.loads("\n".join(map_rows(neck_map)))["map"], faults) == neck_map
    assert faults == []


def test_the_example_is_read_as_it_stands():
    neck_map, faults = read(EXAMPLE)
    assert faults == []
    # By the table of the neck: string 5 fret 7 sounds E3 = 52, string 4 fret 6 sounds G#3 = 56 (MIDI 1.0, trade).
    assert neck_map == standard_map(
        position=5,
        hand=FrettingHand(back=1, on=0, open_strings=True),
        second=SecondRegion(position=12, seam=69),
        choices={52: Place(5, 7), 56: Place(4, 6)},
    )


def test_what_is_left_out_is_as_usual():
    assert read("[map]") == (standard_map(), [])


def test_of_the_hand_only_what_is_not_usual_is_written():
    assert map_rows(standard_map()) == [
        "[map]", "position = 5", 'tuning = "standard"', "frets = 22", 'read = "guitar"',
    ]  # fmt: skip


def test_a_hand_that_no_word_tells_of_is_not_written_as_another():
    with pytest.raises(ValueError, match="reaches 2 frets back"):
        stretch_word(FrettingHand(back=2, on=1))


@given(st.text(max_size=30))
def test_any_text_that_is_quoted_is_read_again_as_the_same(text):
    text = text.encode("utf-8", "replace").decode("utf-8")
    assert tomllib.loads(f"x = {quoted(text)}")["x"] == text


@pytest.mark.parametrize(
    ("words", "fault"),
    [
        ("position = 20", "map: position 20 is not on this neck: choose 1 to 19"),
        ("position = 0", "map: position is a whole number from 1 to 30, not 0"),
        ("position = 22\nspan = 1\nfrets = 20", "map: position 22 is not on this neck: choose 1 to 20"),
        ("frets = 3", "map: frets is a whole number from 4 to 30, not 3"),
        ('tuning = "banjo"', "map: no tuning is called 'banjo'"),
        ('read = "viola"', "map: read is guitar or concert or bass or concert-bass, not 'viola'"),
        ("span = 0", "map: span is a whole number from 1 to 6, not 0"),
        ('stretch = "far"', "map: stretch is one of both, back, on, none: 'far'"),
        ('open_strings = "yes"', "map: open_strings is true or false: 'yes'"),
        ("second = 9", "map: a second region needs both"),
        ('seam = "A5"', "map: a second region needs both"),
        ('second = 9\nseam = "H5"', "map: seam is a note with its octave, such as F#4 or Bb3: 'H5'"),
        ('second = 9\nseam = "C9"', "map: seam C9 is not on this neck, which is written from E3 to D7"),
        ('second = 25\nseam = "A5"', "map: position 25 is not on this neck: choose 1 to 19"),
        ("postion = 7", "map: 'postion' is not known here: write 'position'"),
        ("Position = 7", "map: 'Position' is not known here: write 'position'"),
        ("colour = 7", "map: 'colour' is not known here: use position, tuning"),
        ("home = 3", "map.home begins with [[map.home]] on a line of its own"),
        ('[[map.home]]\nwritten = "E4"\nstring = 5', "home 1: it has no fret"),
        ("[[map.home]]\nstring = 5\nfret = 7", "home 1: it has no written"),
        ('[[map.home]]\nwritten = "E4"\nstring = 7\nfret = 7', "home 1: string is a whole number from 1 to 6, not 7"),
        ('[[map.home]]\nwritten = "E4"\nstring = 5\nfret = 23', "home 1: fret is a whole number from 0 to 22, not 23"),
        ('[[map.home]]\nwritten = "E4"\nstring = 5\nfret = 8', "home 1: string 5, fret 8 is F4 on the page, not E4"),
    ],
)
def test_what_is_wrong_is_told_with_its_place(words, fault):
    neck_map, faults = read(f"[map]\n{words}")
    assert neck_map is None
    assert len(faults) == 1
    assert faults[0].startswith(fault)


def test_a_written_note_has_one_home_however_it_is_spelled():
    homes = (("G#4", 4, 6), ("E4", 5, 7), ("Ab4", 5, 11))
    text = "".join(
        f'[[map.home]]\nwritten = "{note}"\nstring = {string}\nfret = {fret}\n' for note, string, fret in homes
    )
    neck_map, faults = read(f"[map]\n{text}")
    assert neck_map is None
    assert faults == ["home 3: Ab4 has a home already, home 1: a note has one"]


def test_all_faults_are_told_at_once():
    faulty = (
        'position = 40\ntuning = "banjo"\nread = "viola"\nfrets = 99\nspan = 9\nstretch = 1\nopen_strings = 0\n'
        'second = "far"\nseam = 5\n[[map.home]]\nwritten = "X"\n[[map.home]]\nstrng = 3'
    )
    neck_map, faults = read(f"[map]\n{faulty}")
    assert neck_map is None
    told = "; ".join(faults)
    for word in ("position", "banjo", "viola", "frets", "span", "stretch", "open_strings", "second", "seam"):
        assert word in told
    assert "home 1: written is a note" in told
    assert "home 2: 'strng' is not known here: write 'string'" in told


def test_of_a_neck_that_makes_no_sense_nothing_else_is_held_against_it():
    home = '[[map.home]]\nwritten = "E4"\nstring = 8\nfret = 30'
    _, faults = read(f'[map]\nposition = 29\ntuning = "banjo"\nfrets = 99\nsecond = 9\nseam = "C9"\n{home}')
    assert len(faults) == 2


def test_more_homes_than_a_neck_has_places_are_not_looked_at():
    _, faults = read("[map]\n" + "[[map.home]]\n" * 201)
    assert faults == ["there are 201 of [[map.home]]: at most 200 can be set at once"]


def test_tables_within_tables_are_told_as_any_other_value():
    _, faults = read("[map]\nposition" + ".a" * 20 + " = 1")
    assert len(faults) == 1
    assert faults[0].startswith("map: position is a whole number from 1 to 30, not {")
