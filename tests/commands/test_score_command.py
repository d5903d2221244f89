"""`homefret score`: the contract of its answer, from the command line."""

import json

import jsonschema
import pytest

from game.paths import shipped
from tests.commands.running import ROOT
from tests.commands.running import homefret as program
from tests.tunes.made_midi import midi_bytes, steps

SCHEMA = json.loads(shipped("content", "schemas", "score.schema.json").read_text(encoding="utf-8"))
TUNES = shipped("content", "tunes")


def homefret(*words):
    return program("score", *words)


def answer(*words):
    done = homefret(*words, "--json")
    assert (done.returncode, done.stderr) == (0, "")
    read = json.loads(done.stdout)
    jsonschema.validate(read, SCHEMA, cls=jsonschema.Draft202012Validator)
    return read


def test_the_schema_is_a_schema():
    """By the standard it names."""
    jsonschema.Draft202012Validator.check_schema(SCHEMA)


def test_a_tune_is_answered_note_by_note_with_its_homes():
    """Amazing Grace: pickup, ties joined, homes in position V."""
    read = answer(TUNES / "04-amazing-grace.musicxml")
    assert (read["title"], read["format"], read["read"]) == ("Amazing Grace", "musicxml", "guitar")
    assert (read["key_fifths"], read["meter"], read["bars"], read["pickup"]) == (-1, "3/4", 17, "1")
    first = {"n": 1, "bar": "0", "onset": "0", "length": "1", "written": "C4", "sounding": 48}
    assert read["notes"][0] == first | {"string": 6, "fret": 8}
    joined = [note for note in read["notes"] if note["bar"] == "7"]
    assert [(note["written"], note["length"]) for note in joined] == [("C5", "5")]
    assert [chord["text"] for chord in read["chords"]][:3] == ["F", "F7", "Bb"]
    assert read["chords"][0]["onset"] == "1"
    assert read["off_map"] == []


def test_repeats_are_written_out_and_bars_keep_their_printed_numbers():
    """Au clair de la lune: four bars twice, four once, then from the beginning to Fine."""
    read = answer(TUNES / "01-au-clair-de-la-lune.musicxml")
    bars = []
    for note in read["notes"]:
        if not bars or bars[-1] != note["bar"]:
            bars.append(note["bar"])
    assert "".join(bars) == "1234" + "1234" + "5678" + "1234"
    assert read["bars"] == 8


def test_concert_reading_sounds_as_written_and_leaves_the_map():
    """An octave up most of it has no home in position V."""
    read = answer(TUNES / "08-study-three-to-the-step.musicxml", "--read", "concert")
    assert read["read"] == "concert"
    assert read["notes"][0]["sounding"] == 72
    assert 1 not in read["off_map"]
    assert read["off_map"]
    lost = read["notes"][read["off_map"][0] - 1]
    assert (lost["string"], lost["fret"]) == (None, None)


def test_another_position_gives_other_homes():
    """The same first note in position II."""
    near = answer(TUNES / "02-ah-vous-dirai-je-maman.musicxml", "--position", "2")["notes"][0]
    assert (near["written"], near["string"], near["fret"]) == ("F4", 4, 3)


ABC = 'X:1\nT:Ford\nM:3/4\nL:1/4\nK:Gm\nG|:"Gm"GAB|1 ^F3:|2 G2|]\n\nX:2\nT:Mill\nM:4/4\nL:1/4\nK:C\nC4|\n'


def test_an_abc_tune_is_answered_like_any_other(tmp_path):
    """Repeats written out, chords, pickup; of several tunes one is chosen."""
    path = tmp_path / "book.abc"
    path.write_text(ABC)
    read = answer(path, "--part", 1)
    assert (read["format"], read["title"], read["key_fifths"], read["meter"]) == ("abc", "Ford", -2, "3/4")
    assert [note["written"] for note in read["notes"]] == ["G4", "G4", "A4", "Bb4", "F#4", "G4", "A4", "Bb4", "G4"]
    assert (read["pickup"], [chord["text"] for chord in read["chords"]]) == ("1", ["Gm", "Gm"])
    done = homefret(path)
    assert (done.returncode, done.stdout) == (2, "")
    assert done.stderr == "homefret: book.abc: holds 2 tunes (1 Ford, 2 Mill); choose one with --part N\n"


def test_a_midi_file_is_answered_with_its_guesses_in_the_warnings(tmp_path):
    """Spelled in the key that was found, in 4/4."""
    path = tmp_path / "played.mid"
    path.write_bytes(midi_bytes(steps(1, 0.5, 0.5, 1, 1, 4, first=48)))
    read = answer(path)
    assert (read["format"], read["meter"], read["bars"]) == ("midi", "4/4", 2)
    assert [note["sounding"] for note in read["notes"]] == [48, 50, 52, 53, 55, 57]
    assert [note["onset"] for note in read["notes"]] == ["0", "1", "3/2", "2", "3", "4"]
    assert any("4/4 was assumed" in said for said in read["warnings"])
    assert any("was guessed from its notes" in said for said in read["warnings"])


def test_people_get_a_table():
    """One line a note, and how the octave was settled."""
    done = homefret(TUNES / "02-ah-vous-dirai-je-maman.musicxml")
    lines = done.stdout.splitlines()
    assert lines[0] == "Ah! vous dirai-je, Maman (Traditional, French, 18th century): 12 bars, 42 notes to play"
    assert "guitar octave" in lines[1]
    assert len(lines) == 3 + 42


def several(tmp_path):
    bar = (
        '<measure number="1"><note><pitch><step>C</step><octave>4</octave></pitch>'
        "<duration>4</duration><type>whole</type></note></measure>"
    )
    path = tmp_path / "duo.xml"
    path.write_text(
        '<score-partwise><part-list><score-part id="A"><part-name>High</part-name></score-part>'
        '<score-part id="B"><part-name>Low</part-name></score-part></part-list>'
        f'<part id="A">{bar}</part><part id="B">{bar}</part></score-partwise>'
    )
    return path


def test_part_chooses_among_several(tmp_path):
    """By number, from 1."""
    assert answer(several(tmp_path), "--part", 2)["part"] == "Low"


@pytest.mark.parametrize(
    ("words", "sentence"),
    [
        (["nowhere.xml"], "homefret: nowhere.xml: there is no such file; check the name and the folder"),
        ([ROOT / "pyproject.toml"], "homefret: pyproject.toml: is not a music file we know"),
        ([TUNES / "03-ode-to-joy.musicxml", "--part", "7"], "no part 7"),
        ([TUNES / "03-ode-to-joy.musicxml", "--position", "99"], "position 99 is not on this neck"),
        (["several"], "has 2 parts (1 High, 2 Low); choose one with --part N"),
    ],
)
def test_a_mistake_ends_with_status_2_and_one_line(words, sentence, tmp_path):
    """What is wrong, where, and what to do; nothing on standard output."""
    done = homefret(*(several(tmp_path) if word == "several" else word for word in words), "--json")
    assert (done.returncode, done.stdout) == (2, "")
    assert sentence in done.stderr
    assert len(done.stderr.splitlines()) == 1


def test_the_order_of_play_and_what_was_assumed_of_it_are_told(tmp_path):
    """In the answer and for people; of a tune that is played as it stands people are told nothing."""
    path = tmp_path / "weir.abc"
    path.write_text("X:1\nT:Weir\nM:4/4\nL:1/4\nK:C\nCDEF|[1 GABc|[2 cBAG|\n")
    read = answer(path)
    assert read["order"] == "1-2, 1, 3"
    assert [said for said in read["warnings"] if said.startswith("The bracket over bar 2 has no repeat sign")]
    said = homefret(path).stdout
    assert "Order of play: 1-2, 1, 3\n" in said
    assert "The bracket over bar 2 has no repeat sign" in said
    path.write_text("X:1\nT:Weir\nM:4/4\nL:1/4\nK:C\nCDEF|GABc|\n")
    assert answer(path)["order"] == "1-2"
    assert "Order of play" not in homefret(path).stdout


def test_a_lead_sheet_in_the_treble_clef_is_read_in_the_bass_clef_where_the_map_has_it():
    """An octave or two down, as the account says; a guitar's position V sounds A flat 2 to C sharp 5 (design)."""
    plain = answer(TUNES / "08-study-three-to-the-step.musicxml")
    read = answer(TUNES / "08-study-three-to-the-step.musicxml", "--read", "bass")
    assert (read["read"], len(read["off_map"]) < 5) == ("bass", True)
    moved = {note["sounding"] - before["sounding"] for note, before in zip(read["notes"], plain["notes"], strict=True)}
    assert len(moved) == 1
    assert moved.pop() % 12 == 0
    assert read["octave"].startswith("For your bass clef the page")
