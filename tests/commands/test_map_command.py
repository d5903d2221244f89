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
        (("--position", "five"), "invalid int value"),
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
