"""The table of players is read as far as it makes sense; every fault of it is told, and it is never written over."""

import json

import msgspec
import pytest
from hypothesis import HealthCheck, given, settings
from hypothesis import strategies as st

from game.paths import user_data
from game.player.players_file import PlayerError, PlayersTable, Row, read_players, write_players
from game.text.catalogue import tell
from tests.refusing import refusal
from tests.sampling import how_many

ONE, OTHER, THIRD = "1" * 32, "a" * 32, "f" * 32


def kept(table):
    path = user_data() / "players.json"
    path.write_text(table if isinstance(table, str) else json.dumps(table), encoding="utf-8")
    return path


def row(folder, name, **more):
    return {"folder": folder, "name": name, **more}


def names(read):
    return [one.name for one in read.table.players]


def test_without_a_file_nobody_is_in_it():
    assert read_players().without_faults() == PlayersTable(players=())


def test_what_is_written_is_read_again():
    table = PlayersTable(players=(Row(folder=ONE, name="Möwe"), Row(folder=OTHER, name="Fink")), last=OTHER)
    write_players(table)
    assert read_players().without_faults() == table
    assert "Möwe" in (user_data() / "players.json").read_text(encoding="utf-8")


def test_all_faults_are_told_at_once_and_the_other_players_are_there():
    path = kept(
        {
            "players": [
                row(ONE, "Möwe"),
                row("../elsewhere", "Dohle"),
                row(OTHER, " MÖWE "),
                row(ONE, "Fink"),
                row(THIRD, "\u202e"),
                "nobody",
                row(THIRD, "Star"),
            ],
            "last": 7,
        }
    )
    read = read_players()
    assert names(read) == ["Möwe", "Star"]
    with refusal(PlayerError) as caught:
        read.without_faults()
    assert tell(caught.value.message) == (
        f"the table of players in {path} makes no sense: "
        'players / 2 / folder is a text of the form [0-9a-f]{32}, not "../elsewhere"; '
        'players / 6 is a table in braces, not "nobody"; '
        "last is a text of at most 32 characters, not 7; "
        'players / name is a name that can be read and nobody else has, not " MÖWE "; '
        f'players / folder is a folder that nobody else has, not "{ONE}"; '
        'players / name is a name that can be read and nobody else has, not ""; '
        "mend that file"
    )


@pytest.mark.parametrize(
    ("table", "reason"),
    [
        ("{", "no JSON at line 1, column 2"),
        ("[1, 2", "no JSON"),
        ("[]", "no table"),
        ("{}", "players is a list, each entry a table in braces, not null"),
        ({"players": 3}, "players is a list"),
        ({"players": [{"name": "Fink"}]}, "players / 1 / folder is a text of the form .*, not null"),
        ({"players": [row(ONE, 3)]}, "players / 1 / name is a text of at most 1000 characters, not 3"),
        ({"players": [row(ONE + "\n", "Fink")]}, "folder"),
        ({"players": [row(ONE, "x" * 1_000_000)]}, "at most 1000 characters"),
        ({"players": [row(f"{n:032x}", f"P{n}") for n in range(20_000)]}, "at most 1000 entries, not 20000"),
        ({"players": [row("x", f"P{n}") for n in range(20_000)]}, "19997 more entries of players are as faulty"),
        ('{"players": ' + "[" * 100_000, "too often"),
    ],
)
def test_a_table_that_makes_no_sense_is_refused_with_the_reason(table, reason):
    kept(table)
    with refusal(PlayerError, reason):
        read_players().without_faults()


def test_a_table_that_the_system_does_not_give_is_refused_with_its_reason():
    (user_data() / "players.json").mkdir()
    with refusal(PlayerError, "no file|cannot be read"):
        read_players().without_faults()


def test_a_long_name_is_cut_and_its_invisible_signs_are_left_out():
    kept({"players": [row(ONE, "a\u202e" * 50)]})
    assert names(read_players()) == ["a" * 50]
    kept({"players": [row(ONE, "a" * 100)]})
    assert names(read_players()) == ["a" * 59 + "…"]


def test_what_a_newer_version_wrote_is_kept():
    path = kept({"players": [row(ONE, "Möwe", colour="grey")], "last": "", "clubs": [1]})
    table = read_players().without_faults()
    write_players(msgspec.structs.replace(table, players=(*table.players, Row(folder=OTHER, name="Fink")), last=OTHER))
    assert json.loads(path.read_text(encoding="utf-8")) == {
        "players": [row(ONE, "Möwe", colour="grey"), row(OTHER, "Fink")],
        "last": OTHER,
        "clubs": [1],
    }


VALUES = st.none() | st.integers() | st.text(max_size=4) | st.sampled_from([ONE, OTHER, "Fink", "fink "])
ROWS = st.fixed_dictionaries({}, optional={"folder": VALUES, "name": VALUES, "new": VALUES}) | VALUES


@given(table=st.fixed_dictionaries({}, optional={"players": st.lists(ROWS, max_size=5) | VALUES, "last": VALUES}))
@settings(suppress_health_check=[HealthCheck.function_scoped_fixture], max_examples=how_many(100, by_default=25))
def test_whatever_it_holds_nobody_is_there_twice_and_what_is_missing_is_told(table):
    kept(table)
    read = read_players()
    players = read.table.players
    assert msgspec.convert(msgspec.to_builtins(read.table), PlayersTable) == read.table
    assert len({one.name.casefold() for one in players}) == len({one.folder for one in players}) == len(players)
    given_rows = table.get("players")
    assert read.trouble or len(players) == len(given_rows)
