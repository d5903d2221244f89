"""Which map the words of `homefret map` come to, and what is told of words that come to none."""

import argparse

import pytest

from game.assignments.map_file import map_text
from game.commands.map_asked import add_asked_words, asked_map
from game.errors import MapError
from game.music.score import Reading
from game.neck.hand import UNSTRETCHED, FrettingHand
from game.neck.neck_map import SecondRegion, standard_map
from game.neck.tuning import Place
from game.text.catalogue import tell


def asked(*words, tunes=(), best=False, out=None, blank=False, left_handed=False):
    parser = argparse.ArgumentParser()
    add_asked_words(parser)
    others = {"tunes": tunes, "best": best, "out": out, "blank": blank, "left_handed": left_handed}
    return asked_map(argparse.Namespace(**vars(parser.parse_args([str(word) for word in words])), **others))


def faults(*words, **others) -> list[str]:
    with pytest.raises(MapError) as told:
        asked(*words, **others)
    return tell(told.value.message).split("; ")


@pytest.mark.parametrize(
    ("words", "expected"),
    [
        ("", standard_map()),
        ("--stretch none", standard_map(hand=UNSTRETCHED)),
        ("--stretch on --span 3 --open-strings", standard_map(hand=FrettingHand(span=3, back=0, open_strings=True))),
        ("--second 12 --seam A5", standard_map(second=SecondRegion(position=12, seam=69))),
        ("--second 12 --seam a♭5 --read concert", standard_map(
            reading=Reading.CONCERT, second=SecondRegion(position=12, seam=80)
        )),
        ("--capo 3", standard_map(frets=19)),
        ("--capo 3 --frets 24", standard_map(frets=21)),
        ("--position 20 --span 1", standard_map(position=20, hand=FrettingHand(span=1))),
    ],
)  # fmt: skip
def test_each_word_counts(words, expected):
    assert asked(*words.split()).neck_map == expected


def test_a_seam_that_was_not_named_is_left_to_the_tunes():
    left = asked("--second", 12)
    assert (left.neck_map, left.second) == (standard_map(), 12)
    assert asked("--second", 12, "--seam", "A5").second is None


def test_of_a_map_file_stays_what_no_word_says_otherwise(tmp_path):
    kept = standard_map(
        position=7,
        frets=19,
        reading=Reading.BASS,
        choices={49: Place(5, 4)},
        hand=UNSTRETCHED,
        second=SecondRegion(position=12, seam=60),
    )
    path = tmp_path / "own.toml"
    path.write_text(map_text(kept), encoding="utf-8")
    assert asked("--map", path).neck_map == kept
    # Its frets count from the capo already.
    assert (asked("--map", path, "--capo", 3).neck_map, asked("--map", path, "--capo", 3).capo) == (kept, 3)
    assert asked("--map", path, "--stretch", "back").neck_map == kept.remade(hand=FrettingHand(back=1, on=0))
    assert asked("--map", path, "--seam", "A4").neck_map == kept.remade(second=SecondRegion(position=12, seam=57))


@pytest.mark.parametrize(
    ("words", "fault"),
    [
        ("--tuning banjo", "no tuning is called 'banjo'"),
        ("--frets 3", "a neck has 4 to 30 frets, not 3"),
        ("--position 0", "position 0 is not on this neck: choose 1 to 19"),
        ("--position 18 --capo 2", "position 18 is not on this neck: choose 1 to 17"),
        ("--span 0", "a hand spans 1 to 6 frets, not 0"),
        ("--span 7", "a hand spans 1 to 6 frets, not 7"),
        ("--stretch far", "--stretch is one of both, back, on, none, not 'far'"),
        ("--second 40 --seam A5", "position 40 is not on this neck: choose 1 to 19"),
        ("--second 40", "position 40 is not on this neck: choose 1 to 19"),
        ("--second 5", "both regions are at position 5: choose another one by --second"),
        ("--seam A5", "--seam joins a second region: name its position by --second"),
        ("--second 9 --seam H5", "--seam is a written note with its octave, such as F#4 or Bb3, not 'H5'"),
        ("--second 9 --seam A9", "seam A9 is not on this neck, which is written from E3 to D7"),
        ("--capo 12", "a capo cannot be at fret 12: give 0 for none, to 11"),
        ("--capo -1", "a capo cannot be at fret -1: give 0 for none, to 11"),
        ("--capo 9 --frets 12 --position 1", "a capo at fret 9 leaves too little of a neck of 12 frets: leave 4"),
    ],
)
def test_what_is_wrong_is_told_in_a_sentence(words, fault):
    (told,) = faults(*words.split())
    assert told.startswith(fault)


def test_all_that_is_wrong_is_told_at_once(tmp_path):
    (tmp_path / "own.toml").write_text('[map]\nposition = 99\nread = "viola"\n', encoding="utf-8")
    words = "--tuning banjo --frets 3 --position 40 --span 9 --stretch far --seam H9 --capo 20"
    told = faults(
        *words.split(), "--map", tmp_path / "own.toml", best=True, blank=True, out=tmp_path / "gone" / "chart.doc"
    )
    assert len(told) == 13
    assert told[0].startswith("own.toml: map: read is guitar")
    assert told[1].startswith("map: position is a whole number from 1 to 30, not 99")
    assert told[-1].endswith("give it a name ending in .png, .pdf or .svg")


@pytest.mark.parametrize(
    ("others", "fault"),
    [
        ({"best": True}, "--best is the best map for tunes: name them by --for"),
        ({"blank": True}, "--blank is of the chart: name one by --out, with an ending of .png, .pdf, .svg"),
        ({"left_handed": True}, "--left-handed is of the chart"),
    ],
)
def test_a_word_that_would_say_nothing_is_told(others, fault):
    (told,) = faults(**others)
    assert told.startswith(fault)
