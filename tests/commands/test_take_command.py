"""`homefret take`: recorded takes judged from files, MIDI and sound."""

from collections import Counter
from dataclasses import replace
from fractions import Fraction
from random import Random

import mido
import pytest
import soundfile

from game.instrument.decoding.played import PlayedNote
from game.instrument.sources.take_file import write_take
from game.neck.neck_map import standard_map
from game.neck.tuning import STANDARD, Place
from game.paths import shipped
from tests.bench.rendered_takes import GUITARS, render, rendered_with
from tests.commands.running import answer, homefret, notes_of, refused
from tests.instrument.listening.plucked import RATE, line
from tests.system.needs import require

(TUNE,) = shipped("content", "tunes").glob("*ode-to-joy.musicxml")
MAP = standard_map()


def homes():
    return [MAP.home_of(note["sounding"]).place for note in notes_of(TUNE)]


def played(places):
    return [
        PlayedNote(started_s=0.5 * index, sounding=STANDARD.sounding(place), place=place)
        for index, place in enumerate(places)
    ]


def test_two_wrong_pitches_and_another_place_are_just_those_three(tmp_path):
    places = homes()
    elsewhere = next(p for p in STANDARD.places_of(STANDARD.sounding(places[9]), 22) if p != places[9])
    row = [*places[:3], Place(places[3].string, places[3].fret + 1), *places[3:7]]
    row += [Place(places[7].string, places[7].fret - 1), *places[7:9], elsewhere, *places[10:]]
    write_take(tmp_path / "take.mid", played(row))
    read = answer("take", TUNE, tmp_path / "take.mid", "--stage", "places")
    assert {v["n"]: v["verdict"] for v in read["verdicts"] if v["verdict"] != "clean"} == {
        4: "wrong pitch", 8: "wrong pitch", 10: "other place",
    }  # fmt: skip
    assert [read["verdicts"][n - 1]["tries"] for n in (4, 8, 10)] == [2, 2, 1]
    assert (read["verdicts"][9]["string"], read["verdicts"][9]["fret"]) == (elsewhere.string, elsewhere.fret)
    assert read["extra"] == []


def test_a_take_behind_a_capo_is_judged_as_it_was_fingered_from_it(tmp_path):
    raised = [replace(note, sounding=note.sounding + 3) for note in played(homes())]
    write_take(tmp_path / "take.mid", raised)
    read = answer("take", TUNE, tmp_path / "take.mid", "--capo", "3")
    assert {verdict["verdict"] for verdict in read["verdicts"]} == {"clean"}
    assert read["verdicts"][0]["fret"] == homes()[0].fret
    assert {verdict["verdict"] for verdict in answer("take", TUNE, tmp_path / "take.mid")["verdicts"]} != {"clean"}


def test_a_flawless_take_is_clean_and_keeps_its_times(tmp_path):
    write_take(tmp_path / "take.mid", played(homes()))
    read = answer("take", TUNE, tmp_path / "take.mid")
    assert Counter(v["verdict"] for v in read["verdicts"]) == {"clean": len(homes())}
    assert read["summary"]["clean_share"] == 1
    assert read["summary"]["kept_going"]
    assert read["verdicts"][0]["time_to_find_ms"] is None
    assert read["verdicts"][1]["time_to_find_ms"] == pytest.approx(500, abs=1)


def test_a_take_that_stops_half_way_leaves_the_rest_unread(tmp_path):
    write_take(tmp_path / "take.mid", played(homes()[:10]))
    read = answer("take", TUNE, tmp_path / "take.mid")
    assert Counter(v["verdict"] for v in read["verdicts"]) == {"clean": 10, "unread": len(homes()) - 10}
    assert read["summary"]["clean_share"] == 1
    assert not read["summary"]["kept_going"]


def test_a_keyboard_take_may_be_an_octave_up_which_is_said(tmp_path):
    notes = [
        PlayedNote(started_s=0.4 * i, sounding=STANDARD.sounding(p) + 12, place=None) for i, p in enumerate(homes())
    ]
    write_take(tmp_path / "take.mid", notes)
    read = answer("take", TUNE, tmp_path / "take.mid", "--keyboard")
    assert Counter(v["verdict"] for v in read["verdicts"]) == {"clean": len(homes())}
    assert "1 octave above" in read["warnings"][0]
    assert read["verdicts"][0]["string"] is None


def test_people_get_a_table(tmp_path):
    write_take(tmp_path / "take.mid", played(homes()))
    done = homefret("take", TUNE, tmp_path / "take.mid")
    assert "Clean: 100%" in done.stdout


def test_mistakes_are_one_line_and_exit_status_2(tmp_path):
    assert "gone.mid" in refused("take", TUNE, tmp_path / "gone.mid")
    (tmp_path / "noise.mid").write_bytes(b"MThd and then nothing of use")
    assert "noise.mid" in refused("take", TUNE, tmp_path / "noise.mid")
    mido.MidiFile().save(tmp_path / "silent.mid")
    assert "holds no notes" in refused("take", TUNE, tmp_path / "silent.mid")
    assert "gone.musicxml" in refused("take", tmp_path / "gone.musicxml", tmp_path / "silent.mid")


def timed(places, quarters, *, tempo, late_s=0.0):
    """The places at their onsets, all so many seconds late. Time 0 of the file is onset 0 of the score."""
    return [
        PlayedNote(started_s=float(q) * 60 / tempo + late_s, sounding=STANDARD.sounding(p), place=p)
        for p, q in zip(places, quarters, strict=True)
    ]


def onsets():
    return [Fraction(note["onset"]) for note in notes_of(TUNE)]


def test_a_timed_take_has_its_bias_and_late_notes_are_late(tmp_path):
    tempo, quarters = 80, onsets()
    notes = timed(homes(), quarters, tempo=tempo, late_s=0.03)
    notes[5] = replace(notes[5], started_s=notes[5].started_s + 0.2)
    write_take(tmp_path / "take.mid", notes)
    read = answer("take", TUNE, tmp_path / "take.mid", "--stage", "time", "--tempo", tempo)
    assert {v["n"]: v["verdict"] for v in read["verdicts"] if v["verdict"] != "clean"} == {6: "late"}
    assert read["summary"]["bias_ms"] == pytest.approx(30, abs=1.5)
    assert read["verdicts"][5]["offset_ms"] == pytest.approx(230, abs=1.5)
    assert read["summary"]["clean_share"] == 1


def test_in_the_stage_rhythm_any_pitch_will_do(tmp_path):
    places = [Place(4, 5)] * len(homes())
    write_take(tmp_path / "take.mid", timed(places, onsets(), tempo=70))
    read = answer("take", TUNE, tmp_path / "take.mid", "--stage", "rhythm", "--tempo", 70)
    assert read["summary"]["clean_share"] == 1


def test_a_dropped_note_is_missed_and_its_neighbours_stay_clean(tmp_path):
    notes = timed(homes(), onsets(), tempo=90)
    del notes[10]
    write_take(tmp_path / "take.mid", notes)
    read = answer("take", TUNE, tmp_path / "take.mid", "--stage", "time", "--tempo", 90)
    assert {v["n"]: v["verdict"] for v in read["verdicts"] if v["verdict"] != "clean"} == {11: "missed"}


@pytest.mark.parametrize(
    ("words", "message"),
    [
        (("--stage", "time"), "needs its tempo"),
        (("--stage", "time", "--tempo", "0"), "tempo 0 is out of range: give 20 to 400"),
        (("--stage", "time", "--tempo", "900"), "tempo 900 is out of range"),
        (("--stage", "time", "--tempo", "80", "--swing", "9"), "swing 9 is out of range"),
        (("--tempo", "80"), "the stage places has no clock"),
    ],
)
def test_a_tempo_out_of_range_is_one_line_and_exit_status_2(tmp_path, words, message):
    write_take(tmp_path / "take.mid", played(homes()))
    assert message in refused("take", TUNE, tmp_path / "take.mid", *words)


def sounded(path, pitches, onsets_s):
    """A recording of a plain guitar (`tests/instrument/listening/plucked.py`), time 0 at the beginning of the file."""
    soundfile.write(path, line(list(zip(onsets_s, pitches, strict=True)), tail_s=0.8), RATE)
    return path


READ = 20
"""Notes, of a tune of three times as many: the rest is left unread, for listening takes its time."""


def sounding_homes():
    return [note["sounding"] for note in notes_of(TUNE)[:READ]]


def beside_clean(read):
    """What was told of the notes that were read, where it is something else than clean."""
    assert [verdict["verdict"] for verdict in read["verdicts"][READ:]] == ["unread"] * (len(homes()) - READ)
    return {v["n"]: v["verdict"] for v in read["verdicts"][:READ] if v["verdict"] != "clean"}


def test_a_recording_is_judged_by_pitch_and_the_two_wrong_notes_are_found(tmp_path):
    pitches = sounding_homes()
    pitches[4], pitches[11] = pitches[4] + 1, pitches[11] - 12
    sounded(tmp_path / "take.wav", pitches, [0.4 * index for index in range(len(pitches))])
    read = answer("take", TUNE, tmp_path / "take.wav")
    assert beside_clean(read) == {5: "wrong pitch", 12: "wrong pitch"}
    told = [(read["verdicts"][n - 1]["played"], read["verdicts"][n - 1]["octave_off"]) for n in (5, 12)]
    assert told == [(pitches[4], False), (pitches[11], True)]
    assert {(v["string"], v["fret"]) for v in read["verdicts"]} == {(None, None)}
    assert (read["sound"]["format"], read["sound"]["rate"], read["sound"]["used"]) == ("WAV", RATE, [1])
    assert read["warnings"] == []


def test_a_recording_is_judged_by_the_click_and_rests_stay_rests(tmp_path):
    """A note left out is missed, one a fifth of a second late is late, and the ending of the name is told."""
    tempo = 120
    onsets_s = [float(quarters) * 60 / tempo for quarters in onsets()[:READ]]
    onsets_s[5] += 0.2
    pitches = sounding_homes()
    del pitches[10], onsets_s[10]
    sounded(tmp_path / "take.wav", pitches, onsets_s).rename(tmp_path / "take.flac")
    read = answer("take", TUNE, tmp_path / "take.flac", "--stage", "time", "--tempo", tempo)
    assert beside_clean(read) == {6: "late", 11: "missed"}
    assert abs(read["summary"]["bias_ms"]) < 5
    assert ["holds WAV" in warning for warning in read["warnings"]] == [True]


def test_a_rendered_guitar_is_judged_as_it_was_played(tmp_path):
    """Of a sampled guitar, a wrong note is found and all others are right (fluidsynth, Debian fluid-soundfont-gm)."""
    guitar = GUITARS[1]
    require("fluidsynth", package="fluidsynth, fluid-soundfont-gm")
    if not rendered_with(guitar.font):
        pytest.skip("the sound font fluid-soundfont-gm is not installed")
    tempo = 120
    notes = timed(homes()[:READ], onsets()[:READ], tempo=tempo, late_s=0.02)
    notes[7] = replace(notes[7], sounding=notes[7].sounding - 1)
    ends_s = [note.started_s for note in notes[1:]] + [notes[-1].started_s + 0.5]
    render(notes, ends_s, guitar, tmp_path / "take.wav", Random(1))
    read = answer("take", TUNE, tmp_path / "take.wav", "--stage", "time", "--tempo", tempo)
    assert beside_clean(read) == {8: "wrong pitch"}
    assert read["sound"]["channels"] == 2


def test_words_for_one_kind_of_file_are_refused_with_the_other(tmp_path):
    write_take(tmp_path / "take.mid", played(homes()))
    assert "--input-channel is for recordings" in refused("take", TUNE, tmp_path / "take.mid", "--input-channel", "1")
    sounded(tmp_path / "take.wav", [60], [0.0])
    assert "--keyboard is for MIDI files" in refused("take", TUNE, tmp_path / "take.wav", "--keyboard")


def test_a_recording_of_nothing_is_judged_with_a_word(tmp_path):
    soundfile.write(tmp_path / "take.wav", [0.0] * RATE, RATE)
    done = homefret("take", TUNE, tmp_path / "take.wav")
    assert done.returncode == 0
    assert "No note was heard in the recording." in done.stdout
