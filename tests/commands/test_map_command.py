"""`homefret map`: the contract of its answer, the chart, and mistakes."""

import pytest

from game.paths import shipped
from tests.commands.running import answer, homefret, refused

TUNES = shipped("content", "tunes")


def test_position_v_at_guitar_octave_is_the_default():
    read = answer("map")
    assert (read["position"], read["read"], read["tuning"]) == (5, "guitar", "standard")
    assert len(read["homes"]) == 30
    assert read["homes"][0] == {
        "sounding": 44, "written": "Ab3", "string": 6, "fret": 4, "stretch": True, "outlying": False,
    }  # fmt: skip


def test_at_concert_pitch_the_page_is_written_where_it_sounds():
    assert answer("map", "--read", "concert")["homes"][0]["written"] == "Ab2"


def test_tunes_are_measured_against_the_map_and_the_best_position_is_found():
    read = answer("map", "--for", *TUNES.glob("*ode-to-joy.musicxml"), *TUNES.glob("*greensleeves.musicxml"))
    assert read["on_map_share"] == 1
    best, positions = read["best"], read["positions"]
    assert positions[0] == best
    assert [one["movement"] for one in positions] == sorted(one["movement"] for one in positions)
    assert {one["position"] for one in positions} == set(range(1, 13))
    assert any("stretches" in sentence for one in positions for sentence in one["gives_up"])
    by_shares = [(-one["on_map_share"], one["stretch_share"], one["position"]) for one in read["best_positions"]]
    assert by_shares == sorted(by_shares)
    assert {position for *_, position in by_shares} == set(range(1, 13))


def test_people_are_told_of_every_position_what_it_costs_and_gives_up():
    done = homefret("map", "--for", *TUNES.glob("*greensleeves.musicxml"))
    lines = [line for line in done.stdout.splitlines() if "a note costs" in line]
    assert len(lines) == 12
    assert any("stretches" in line for line in lines)


@pytest.mark.parametrize(("ending", "begins"), [("png", b"\x89PNG"), ("pdf", b"%PDF"), ("svg", b"<?xml")])
def test_the_chart_is_written_in_the_format_of_its_name(tmp_path, ending, begins):
    chart = tmp_path / f"map.{ending}"
    answer("map", "--out", chart)
    assert chart.read_bytes().startswith(begins)


def test_people_get_a_table():
    done = homefret("map", "--position", "1")
    assert done.returncode == 0
    assert done.stdout.startswith("Position I, standard tuning")


@pytest.mark.parametrize(
    ("words", "message"),
    [
        (("--position", "40"), "position 40 is not on this neck: choose 1 to 19"),
        (("--tuning", "banjo"), "no tuning is called 'banjo'"),
        (("--frets", "2"), "a neck has 4 to 30 frets"),
        (("--out", "chart.txt"), "give it a name ending in .png, .pdf or .svg"),
        (("--out", "/nowhere/at/all.png"), "cannot be written to /nowhere/at/all.png"),
        (("--for", "gone.musicxml"), "gone.musicxml"),
        (("--position", "five"), "'five' is no whole number: write it in figures"),
    ],
)
def test_a_mistake_is_one_line_and_exit_status_2(words, message):
    assert message in refused("map", *words)


def test_of_a_folder_all_that_can_be_read_is_measured_and_the_rest_is_named(tmp_path):
    """A folder as it lies on a disk: a damaged file in it, and one that is none."""
    for tune in TUNES.glob("*ode-to-joy.musicxml"):
        (tmp_path / tune.name).write_bytes(tune.read_bytes())
    (tmp_path / "bad.mid").write_bytes(b"MThd")
    (tmp_path / "strings.txt").write_bytes(b"strings")
    read = answer("map", "--for", tmp_path)
    assert read["on_map_share"] == 1
    assert [one["file"] for one in read["unread"]] == ["bad.mid"]
    done = homefret("map", "--for", tmp_path)
    assert done.stdout.splitlines()[-1].startswith("Not read: bad.mid: is a broken MIDI file")
    assert "unread" not in answer("map", "--for", *TUNES.glob("*ode-to-joy.musicxml"))


def test_where_nothing_can_be_read_it_is_one_line_and_exit_status_2(tmp_path):
    assert "holds no tune files" in refused("map", "--for", tmp_path)
    for name in ("a.abc", "b.abc"):
        (tmp_path / name).write_bytes(b"strings")
    assert "none of 2 files could be read: a.abc: is not a music file" in refused("map", "--for", tmp_path)


def test_the_best_map_for_tunes_is_answered_written_and_read_again(tmp_path):
    tunes = list(TUNES.glob("*greensleeves.musicxml"))
    path = tmp_path / "best.toml"
    read = answer("map", "--for", *tunes, "--best", "--out", path)
    assert read["map_file"] == str(path)
    assert (read["position"], read["homes"]) == (read["best"]["position"], read["best"]["homes"])
    again = answer("map", "--map", path)
    assert [again[name] for name in ("position", "homes", "frets")] == [
        read[name] for name in ("position", "homes", "frets")
    ]
    mine = tmp_path / "mine.toml"
    mine.write_text('[map]\nposition = 9\n[[map.home]]\nwritten = "E4"\nstring = 5\nfret = 7\n', encoding="utf-8")
    assert "holds another map already" in refused("map", "--map", mine, "--for", *tunes, "--best", "--out", mine)
    of_five = answer("map", "--for", *tunes, "--best", "--position", "5", "--second", "12")
    assert of_five["second"]["position"] == 12
    assert "cross" in of_five["second"]["reasons"][1]


def test_a_hand_a_second_region_and_a_capo_are_answered():
    words = ("--stretch", "none", "--second", "12", "--seam", "Ab5", "--capo", "2")
    read = answer("map", *words)
    assert read["hand"] == {"span": 4, "stretch": "none", "open_strings": False}
    assert (read["second"]["position"], read["second"]["seam"], read["capo"], read["frets"]) == (12, "Ab5", 2, 20)
    assert read["second"]["reasons"][0] == "From Ab5 up the hand is in position XII, below it in V."
    assert not any(home["stretch"] for home in read["homes"])
    said = homefret("map", *words).stdout.splitlines()
    assert (
        said[1]
        == "Frets under the fingers: 4. Stretches: none: small or sore hands. Open strings: homes in position I only."
    )
    assert said[2] == "From Ab5 up the hand is in position XII, below it in V."


def test_sentences_call_notes_as_the_settings_do(tmp_path):
    folder = tmp_path / "homefret"
    folder.mkdir()
    (folder / "settings.json").write_text('{"note_names": "do re mi"}', encoding="utf-8")
    said = homefret("map", "--second", "12", "--seam", "Ab5", XDG_CONFIG_HOME=str(tmp_path)).stdout.splitlines()
    assert said[1] == "From la♭5 up the hand is in position XII, below it in V."


def test_a_map_file_with_two_homes_for_a_note_is_refused_and_nothing_is_written(tmp_path):
    path = tmp_path / "own.toml"
    home = '[[map.home]]\nwritten = "E4"\nstring = {}\nfret = {}\n'
    path.write_text("[map]\nposition = 5\n" + home.format(5, 7) + home.format(4, 2), encoding="utf-8")
    line = refused("map", "--map", path, "--out", tmp_path / "chart.png")
    assert "own.toml: home 2: E4 has a home already, home 1: a note has one" in line
    assert [one.name for one in tmp_path.iterdir()] == ["own.toml"]


def test_tunes_of_which_nothing_is_on_the_map_are_told_in_a_sentence(tmp_path):
    def tune(notes):
        (tmp_path / "tune.abc").write_text(f"X:1\nT:A tune\nM:4/4\nL:1/4\nK:C\n{notes} |\n", encoding="utf-8")
        return "--for", tmp_path / "tune.abc"

    assert "none of these notes is on this neck, which is written from E3 to D7" in refused(
        "map", *tune("C,,,,D,,,,E,,,,D,,,,")
    )
    said = homefret("map", "--position", "12", *tune("CDCD")).stdout
    assert "These tunes: none of their notes has a home there." in said
