"""MusicXML to our Score: what is read apart comes together, with the numbers that are printed."""

from tests.tunes.hand_written import ATTRIBUTES, QUARTERS, measure, note, parts, score
from tests.tunes.told import warnings_told


def test_names_lose_control_characters_and_keep_their_letters(read):
    """Text out of files is one clean line; markup stays text."""
    head = "<work><work-title>&lt;b&gt;Tea\u202e &#9;&amp;\n\n Cake\u0085</work-title></work>"
    assert read(score(QUARTERS, head=head)).title == "<b>Tea & Cake"


def test_silence_at_the_end_of_a_bar_counts(read):
    """A `forward` after the last note is a rest."""
    tune = read(score(note("C4", 4) + "<forward><duration>12</duration></forward>", QUARTERS))
    assert tune.bars[0].length == 4
    assert sum(event.length for event in tune.bars[0].events) == 4


def test_bar_numbers_are_those_printed(read):
    """Text, as the page has it."""
    body = measure(ATTRIBUTES + QUARTERS, "0") + measure(QUARTERS, "12a")
    assert [bar.number for bar in read(parts(("Melody", body))).bars] == ["0", "12a"]


def test_warnings_name_bars_as_they_are_printed(read):
    """Bar 7 of the page, though it is the second of the file."""
    chord = note("C4", 16) + note("G4", 16, before="<chord/>")
    tune = read(parts(("Melody", measure(ATTRIBUTES + QUARTERS, "6") + measure(chord, "7"))))
    assert warnings_told(tune) == ("Of each chord the top note was read (1 bar: 7).",)


def test_a_pickup_bar_in_which_the_part_rests_is_as_long_as_the_file_has_it(read):
    """A song whose piano begins alone: the singer's rest is a bar rest of one quarter."""
    rest = '<note><rest measure="yes"/><duration>4</duration></note>'
    pickup = measure(ATTRIBUTES + rest, "0").replace("<measure ", '<measure implicit="yes" ')
    first, second = read(parts(("Voice", pickup + measure(QUARTERS)))).bars
    assert (first.number, first.length, first.pickup, first.notes) == ("0", 1, True, ())
    assert (second.length, second.pickup) == (4, False)
    whole = read(parts(("Voice", measure(ATTRIBUTES + rest) + measure(QUARTERS, "2")))).bars[0]
    assert (whole.length, whole.pickup) == (4, False)
