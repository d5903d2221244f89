"""How hard a page is: each part by hand, and what must not change it. The measure is ours, its order trade."""

import random

import pytest
from hypothesis import given
from hypothesis import strategies as st

from game.music.difficulty import EASIEST, chromatic_notes, difficulty, notes_a_beat, player_parts
from game.music.meter import Meter
from game.music.score import Reading
from tests.made import bar, score


def of(*rows, key=0, **hand):
    return difficulty(score(*rows, key=key).bars, Reading.GUITAR, **hand)


STEPS = "C4 q, D4 q, E4 q, F4 q"


def test_a_page_without_notes_is_the_easiest_there_is():
    """Nothing to read."""
    assert of("r w") == EASIEST
    assert EASIEST.page_total == 0


HARDER = [
    ("thirds than steps", [STEPS], ["C4 q, E4 q, G4 q, E4 q"], "intervals"),
    ("fifths than thirds", ["C4 q, E4 q, G4 q, E4 q"], ["C4 q, G4 q, D4 q, A4 q"], "intervals"),
    ("a seventh than an octave", ["C4 h, C5 h"], ["C4 h, B4 h"], "intervals"),
    ("a tenth than an octave", ["C4 h, C5 h"], ["C4 h, E5 h"], "intervals"),
    ("an accidental than none", [STEPS], ["C4 q, D4 q, Eb4 q, F4 q"], "accidentals"),
    ("a printed accidental than one held over", ["Eb4 q, F4 q, Eb4 h"], ["Eb4 q, F4 q, Db4 h"], "accidentals"),
    ("eighths than quarters", [STEPS], ["C4 e, D4 e, E4 e, F4 e, E4 e, D4 e, C4 e, D4 e"], "density"),
    ("quarters than halves", ["C4 h, D4 h"], [STEPS], "density"),
    ("syncopation than the beat", ["C4 q, D4 q, E4 h"], ["C4 e, D4 q, E4 q, F4 q, G4 e"], "rhythm"),
    ("after a rest than on the beat", ["C4 q, D4 q, E4 h"], ["C4 q, r e, D4 e, E4 h"], "rhythm"),
    ("many values than one", [STEPS], ["C4 q., D4 e, E4 h"], "rhythm"),
]  # fmt: skip


@pytest.mark.parametrize(("easier", "harder", "part"), [case[1:] for case in HARDER], ids=[case[0] for case in HARDER])
def test_it_is_harder_to_read(easier, harder, part):
    """Each sentence in its own part of the number."""
    assert getattr(of(*harder), part) > getattr(of(*easier), part)


def test_a_key_signature_counts_for_the_notes_it_alters():
    """F♯ under a signature of one sharp; nothing where the tune has no F."""
    assert of("F#4 q, G4 q, A4 q, G4 q", key=1).accidentals > of("E4 q, G4 q, A4 q, G4 q", key=1).accidentals == 0


def test_density_counts_by_the_beat_of_the_metre():
    """Three eighths a beat in 6/8, two in 4/4."""
    compound = bar("C4 e, D4 e, E4 e, C4 e, D4 e, E4 e", meter=Meter(6, 8))
    assert notes_a_beat([compound], Reading.GUITAR) == 3
    assert notes_a_beat(score("C4 e, D4 e, E4 e, C4 e, D4 e, E4 e, C4 e, D4 e").bars, Reading.GUITAR) == 2


def test_silent_bars_do_not_make_a_page_easier():
    """Only bars in which something is played count."""
    assert of(STEPS, "r w", "r w").density == of(STEPS).density


def test_stretches_and_slow_notes_are_those_handed_in():
    """Sounding numbers: written C4 sounds 48. One of four notes."""
    plain = of(STEPS)
    reached = of(STEPS, stretches={48: 1.0})
    slow = of(STEPS, weights={48: 1.0, 99: 5.0})
    assert reached.page_total == slow.page_total == plain.page_total, "what is the same for every player stays so"
    assert (plain.stretches, plain.slow_notes, reached.slow_notes, slow.stretches) == (0, 0, 0, 0)
    assert min(reached.stretches, slow.slow_notes) > 0
    assert of(STEPS, stretches={48: 2.0}).stretches == 2 * reached.stretches
    assert player_parts({48: 1, 50: 1, 52: 1, 53: 1}, stretches={48: 1.0}, weights={48: 1.0}) == (
        reached.stretches, slow.slow_notes,
    )  # fmt: skip


def test_chromatic_notes_are_those_with_an_accidental():
    """Printed or held over in the bar, not those of the signature."""
    assert chromatic_notes(score("F#4 q, G4 q, G#4 q, G#4 q", key=1).bars, Reading.GUITAR) == 2


@given(st.integers(0, 10_000))
def test_the_octave_and_the_number_of_repeats_of_a_page_change_nothing(seed):
    """Each part is a mean over the notes."""
    rng = random.Random(seed)
    names = [f"{rng.choice('CDEFGAB')}{rng.choice('345')}" for _ in range(8)]
    row = ", ".join(f"{name} e" for name in names)
    higher = ", ".join(f"{name[0]}{int(name[1]) + 1} e" for name in names)
    assert of(row) == of(higher)
    assert of(row, row).density == of(row).density
    assert min(of(row).intervals, of(row).accidentals, of(row).density, of(row).rhythm) >= 0


def test_music_teachers_would_order_this_way_is_ordered_this_way():
    """From half notes in steps to a chromatic eighth-note line with syncopation (trade)."""
    pages = [
        of("C4 h, D4 h", "E4 h, D4 h"),
        of(STEPS, "G4 q, F4 q, E4 q, D4 q"),
        of("C4 q, E4 q, D4 q, F4 q", "E4 q, G4 q, F4 q., D4 e"),
        of("C4 e, E4 e, G4 e, E4 e, F4 e, A4 e, G4 e, E4 e"),
        of("C4 e, Eb4 e, E4 e, F#4 e, G4 e, Bb4 e, A4 e, F4 e"),
        of("C4 e, Eb4 q, E4 e, F#4 e, Bb4 q, C#4 e", "r e, Ab4 q, B4 e, r e, F#4 e, Eb4 q"),
    ]
    totals = [page.page_total for page in pages]
    assert totals == sorted(totals)
    assert totals[0] < 1.5
    assert totals[-1] > 4
