"""What players had in November 2026 still opens, and the program says the same of it.

`home` is a computer with three players as it stood then, the golden answers are those of that day. A field may be
added to an answer; none may be renamed, changed or left out. One thing was put right since: the day of Möwe's two takes
half an hour before midnight UTC, which the coach was told as the 25th and the report, by the zone of the computer it
was made on, called the 26th. Each entry has a zone of its own now, and both say the 25th. And the slow notes of a
report are those that plan, warm-up and screens call slow: recent readings count most, by which Möwe's A is none.

The judge has a newer version: its number may have risen, what it says of each note of these takes is as it was. The
writer of lines has one, too: by the same seed another line comes, told in the same fields; what was kept is as it was.
"""

import json
import re

import pytest

from tests.fixtures_of_november.november import ANYTHING, GOLDEN, asked, helped, laid_out, lost, mistake_said
from tests.sampling import sample

HELP = json.loads((GOLDEN / "help.json").read_text(encoding="utf-8"))
MISTAKES = json.loads((GOLDEN / "refused.json").read_text(encoding="utf-8"))
# Since then these files are refused with every fault of theirs: which field, what stands there, what should.
TOLD_SINCE = {
    "settings-broken.json": (
        "homefret: the settings in {here}/home/config/homefret/settings.json do not make sense: "
        'look is one of "paper", "night", not "papier"; mend or delete that file'
    ),
    "settings-range.json": (
        "homefret: the settings in {here}/home/config/homefret/settings.json do not make sense: "
        "volume is a number from 0 to 1, not 3.0; mend or delete that file"
    ),
    "players-broken.json": (
        "homefret: the table of players in {data}/players.json makes no sense: "
        'players / 1 / folder is a text of the form [0-9a-f]{32}, not "../elsewhere"; mend that file'
    ),
}
# Since then a word where a number is wanted is told in words of ours, with what to write.
NO_NUMBER_THEN = re.compile(r"invalid int value: ('[^']*')")
NO_NUMBER_NOW = r"\1 is no whole number: write it in figures, such as 6"
# Since then a tuning has four to eight strings, more of them have names, and notes name their strings.
_TUNINGS = (
    "standard, drop-d, half-step-down, whole-step-down, dadgad, open-g, open-d, open-e, open-a, open-c, double-drop-d, "
    "drop-c, all-fourths, baritone, seven-string, seven-string-drop-a, eight-string, bass, bass-drop-d, bass-five, "
    "bass-six"
)
_AS = "such as 'D2 A2 D3 G3 A3 D4'"
TUNINGS_TOLD_SINCE = {
    "open-sesame": (
        "homefret: no tuning is called 'open-sesame': 'open' is neither a note nor a number: "
        f"use one of {_TUNINGS}, or name the open strings from the lowest up, {_AS}"
    ),
    "40 45 50": (
        f"homefret: a tuning has 4 to 8 strings, and '40 45 50' has 3: name the open strings from the lowest up, {_AS}"
    ),
}
# And there are bass clefs to be read in: a word is told otherwise where its values are more.
WORDS_TOLD_SINCE = {
    "--read {guitar,concert}": "--read {guitar,concert,bass,concert-bass}",
    "--read guitar|concert": "--read guitar|concert|bass|concert-bass octave of the page",
    "--tuning T": "--tuning T",
    "--low-string-first": "--low-string-first",
}
# Since then a student's page is named by their id (SHA-256), so that it never changes its owner; those of a class have
# three sheets, on which there is room for the pages with the most pencil marks alone; and logs in folders below count.
CALLED_SINCE = {"index-student-01": "student-3d6e54d7916f", "index-student-02": "student-64e9e9adfd7f"}
# What the writer of lines settles by a seed. Since then lines are written in another way, of which the answer tells the
# number; how notes and chords are told has stayed.
WRITTEN = {
    "notes": dict.fromkeys(("n", "bar", "onset", "length", "written", "sounding", "string", "fret"), ANYTHING),
    "chords": dict.fromkeys(("onset", "text"), ANYTHING),
}


@pytest.fixture(scope="module")
def desk(tmp_path_factory):
    """One desk for all that changes nothing on it."""
    return laid_out(tmp_path_factory.mktemp("november"))


def answered(*commands, by_default=None):
    """The golden answers of some commands, one test each: of many a sample where not everything is asked for."""
    paths = [path for command in commands for path in sorted((GOLDEN / command).glob("*.json"))]
    paths = sample(paths, by_default=by_default) if by_default else paths
    return pytest.mark.parametrize("path", paths, ids=lambda path: f"{path.parent.name}-{path.stem}")


def nothing_lost(path, folder):
    case = json.loads(path.read_text(encoding="utf-8"))
    now = asked(case, folder)
    assert lost({key: case[key] for key in ("answer", "files")}, now) == []


@answered("report", by_default=2)
def test_every_log_export_and_back_up_of_november_gives_the_same_report(path, tmp_path):
    if not path.stem.startswith("class"):
        nothing_lost(path, tmp_path)
        return
    text = path.read_text(encoding="utf-8")
    for name, name_since in CALLED_SINCE.items():
        text = text.replace(name, name_since)
    case, now = json.loads(text), asked(json.loads(text), tmp_path)
    for then, student in zip(case["answer"]["students"], now["answer"]["students"], strict=False):
        assert lost(then["pages"][:1], student["pages"][:1]) == []
        then["pages"] = ANYTHING
    if path.stem == "class-of-a-log":
        assert now["answer"]["students"].pop()["name"] == "Möwe"
    assert lost({key: case[key] for key in ("answer", "files")}, now) == []


@answered("log", "players")
def test_the_logs_and_the_table_of_players_of_november_are_kept_copied_and_restored(path, tmp_path):
    nothing_lost(path, tmp_path)


@answered("take", by_default=8)
def test_every_take_of_november_is_told_and_judged_as_it_was(path, tmp_path):
    nothing_lost(path, tmp_path)


@answered("score", "map", "add", by_default=6)
def test_tunes_and_maps_and_a_line_that_was_kept_are_those_of_november(path, tmp_path):
    nothing_lost(path, tmp_path)


@answered("line")
def test_a_line_is_told_as_in_november_though_another_one_is_written(path, tmp_path):
    case = json.loads(path.read_text(encoding="utf-8"))
    now = asked(case, tmp_path)["answer"]
    then = {name: value for name, value in case["answer"].items() if name not in {*WRITTEN, "pickup"}}
    then["bars"] += now["pickup"] is not None
    assert lost(then, now) == []
    for name, value in WRITTEN.items():
        assert now[name]
        assert [fault for entry in now[name] for fault in lost(value, entry)] == []


@answered("assign")
def test_assignments_of_november_are_read_and_written_as_they_were(path, tmp_path):
    nothing_lost(path, tmp_path)


@answered("devices", "demo", by_default=1)
def test_the_settings_of_november_are_read_and_the_demo_plays_as_it_did(path, tmp_path):
    nothing_lost(path, tmp_path)


def test_the_pages_call_the_notes_as_the_settings_of_november_say(tmp_path):
    desk = laid_out(tmp_path)
    for player, names in (("", (">Cis5<", ">Es5<")), ("Möwe", (">fa4<", ">la4<", ">fa♯4<"))):
        assert desk.run("report", "--out", "{out}/page.html", "--player", player).err == ""
        page = (desk.out / "page.html").read_text(encoding="utf-8")
        assert [name for name in names if name not in page] == []


def test_a_player_added_today_stands_beside_those_of_november(tmp_path):
    desk = laid_out(tmp_path)
    added = json.loads(desk.run("players", "--add", "Dohle", "--json").out)["players"]
    assert [player["name"] for player in added] == ["", "Möwe", "Fink", "Dohle"]
    table = json.loads((desk.data / "players.json").read_text(encoding="utf-8"))
    assert table["last"] == "00000000000000000000000000000002"


def test_a_log_of_november_that_was_opened_is_a_log_that_can_be_copied(tmp_path):
    desk = laid_out(tmp_path)
    own = ("log", "--player", "Möwe", "--json")
    for words in (("report", "--out", "{out}/page.html", "--player", "Möwe"), (*own, "--back-up", "{out}/b.sqlite")):
        assert desk.run(*words).status == 0
    assert json.loads(desk.run(*own, "--restore", "{out}/b.sqlite").out)["takes"] == 13


@pytest.mark.parametrize("command", HELP, ids=lambda command: command or "homefret")
def test_each_command_still_knows_every_word_it_knew_in_november(command, desk):
    said = desk.run(*command.split(), "--help")
    assert said.status == 0
    now = helped(said.out)
    # The list of all commands is one entry: others may stand behind those of then.
    then = [_told_since(entry) for entry in helped(HELP[command])]
    assert [entry for entry in then if not any(one.startswith(entry) for one in now)] == []


def _told_since(entry):
    """The entry of a word, or the word alone where it is explained otherwise since."""
    return next((now for before, now in WORDS_TOLD_SINCE.items() if entry.startswith(before)), entry)


@pytest.mark.parametrize("mistake", sample(MISTAKES, by_default=25), ids=lambda mistake: " ".join(mistake["words"]))
def test_each_mistake_is_told_in_the_line_of_november(mistake, desk, tmp_path):
    elsewhere = "put" in mistake or "environment" in mistake
    said = (laid_out(tmp_path, mistake) if elsewhere else desk).run(*mistake["words"])
    assert (said.status, said.out) == (2, "")
    broken = "".join(mistake.get("put", {}).values())
    line = TOLD_SINCE.get(broken) or TUNINGS_TOLD_SINCE.get(mistake["words"][-1], mistake["line"])
    assert mistake_said(said.err) == mistake_said(NO_NUMBER_THEN.sub(NO_NUMBER_NOW, line))


def test_what_is_gone_changed_or_shorter_is_noticed_and_what_was_added_is_not():
    then = {"a": 1, "b": [{"c": 0.5}], "d": ANYTHING, "migrations": ["one"]}
    assert lost(then, then | {"d": 7, "more": 1, "migrations": ["one", "two"], "b": [{"c": 0.5, "new": 2}]}) == []
    assert lost(then, {"b": [], "d": 0, "migrations": ["two"]}) == [
        "/a is gone", "/b has 0 entries, not 1", "/migrations is without 'one'",
    ]  # fmt: skip
    assert lost({"a": 1, "b": "x"}, {"a": True, "b": "y"}) == ["/a is True, not 1", "/b is 'y', not 'x'"]
