"""What is asked of every command over the material, and the mistakes that users make."""

from typing import Any

COMMANDS = ("demo", "score", "map", "take", "line", "add", "devices", "report", "assign", "log", "players")

ODE, ABC, MIDI = "{tunes}/03-ode-to-joy.musicxml", "{here}/tunes/boathouse.abc", "{here}/tunes/ferry.mid"
BOOK, FIRST, MOEWE = "{here}/tunes/book.abc", "{here}/handed/first.zip", "{here}/handed/moewe.zip"
TAKE, TIMED, KEYS = "{here}/takes/places.mid", "{here}/takes/time.mid", "{here}/takes/keys.mid"
PAGE, LOGS = "{out}/page.html", "{data}/players/00000000000000000000000000000002/practice.sqlite"
_SHORT = ("01-au-clair-de-la-lune", "04-amazing-grace", "12-row-row-row-your-boat", "24-the-cancan", "22-sakura")


def _case(name: str, *words: str, **more: Any) -> dict[str, Any]:
    return {"name": name, "words": [*words, "--json"], **more}


def _number(number: int, day: str, *more: str) -> dict[str, Any]:
    of = "".join(f"-{word.strip('-')}" for word in more if "{" not in word).replace("player-Möwe", "moewe")
    return _case(f"{day}-{number}{of}", "take", "--day", day, "--number", str(number), *more)


CASES: tuple[dict[str, Any], ...] = (
    _case("own", "report", "--out", PAGE),
    _case("moewe", "report", "--out", PAGE, "--player", "Möwe"),
    _case("moewe-by-environment", "report", "--out", PAGE, environment={"HOMEFRET_PLAYER": " MÖWE "}),
    _case("class", "report", "--from", "{here}/handed", "--out", "{out}/index.html"),
    _case(
        "restored-into-an-empty-home", "report", "--out", PAGE, empty=True,
        before=[["log", "--restore", "{here}/back-ups/moewe.sqlite"]],
    ),
    _case(
        "class-of-a-log", "report", "--from", "{data}", "--out", "{out}/index.html",
    ),
    {"name": "own-for-people", "words": ["report", "--out", PAGE]},
    _case("own", "log"),
    _case("moewe", "log", "--player", "möwe"),
    _case("nobody-played", "log", "--player", "Fink"),
    _case("back-up", "log", "--back-up", "{here}/b.sqlite"),
    _case("export", "log", "--export", "{here}/e.zip"),
    _case("export-of-moewe", "log", "--export", "{here}/e.zip", "--player", "Möwe"),
    _case("restore", "log", "--restore", "{here}/back-ups/moewe.sqlite", "--player", "Möwe"),
    _case("restore-over-another", "log", "--restore", "{here}/back-ups/moewe.sqlite"),
    _case("all", "players"),
    _case("nobody-yet", "players", empty=True),
    *(_case(f"day-{day}", "take", "--day", f"2026-03-{day:02}") for day in (3, 4, 5)),
    *(
        _case(f"moewe-day-{day}", "take", "--day", f"2026-11-{day}", "--player", "Möwe")
        for day in (24, 25, 27)
    ),
    *(_case(f"export-day-{day}", "take", "--day", f"2026-11-{day}", "--from", MOEWE) for day in (24, 27)),
    _number(1, "2026-03-03"),
    _number(5, "2026-03-03", "--out", "{out}/take.mid"),
    _number(3, "2026-03-04", "--from", FIRST, "--out", "{out}/take.mid"),
    *(_number(number, "2026-11-24", "--player", "Möwe") for number in (2, 3, 4, 5)),
    # The last two began half an hour before midnight UTC. Then the report knew no zone but that of the computer it was
    # made on, for which it was the day after; since each entry has its own, a day is the one that the coach was told.
    *(_number(number, "2026-11-25", "--player", "Möwe") for number in (1, 2, 3, 4, 5)),
    _number(3, "2026-11-25", "--from", MOEWE, "--out", "{out}/take.mid"),
    _number(2, "2026-11-25", "--from", LOGS, "--out", "{out}/take.mid"),
    *(_number(number, "2026-11-27", "--player", "Möwe") for number in (1, 2, 3)),
    {"name": "for-people", "words": ["take", "--day", "2026-11-24", "--number", "2", "--player", "Möwe"]},
    {"name": "day-for-people", "words": ["take", "--day", "2026-11-24", "--player", "Möwe"]},
    _case("places", "take", ODE, TAKE),
    _case("places-elsewhere", "take", ODE, TAKE, "--position", "2", "--tuning", "drop-d"),
    _case("rhythm", "take", ODE, TIMED, "--stage", "rhythm", "--tempo", "80"),
    _case("time", "take", ODE, TIMED, "--stage", "time", "--tempo", "80"),
    _case("time-swung", "take", ODE, TIMED, "--stage", "time", "--tempo", "80", "--swing", "1.5"),
    _case("keys", "take", ODE, KEYS, "--keyboard"),
    _case("keys-in-time", "take", MIDI, KEYS, "--keyboard", "--stage", "time", "--tempo", "120", "--unfiltered"),
    *(_case(name, "score", f"{{tunes}}/{name}.musicxml") for name in _SHORT),
    _case("ode-to-joy-elsewhere", "score", ODE, "--position", "7", "--read", "concert", "--frets", "19"),
    _case("abc", "score", ABC),
    _case("midi", "score", MIDI),
    _case("book", "score", BOOK, "--part", "2", "--tuning", "dadgad"),
    # `homefret line --seed 5` as it was written then: another way of writing has another line of that seed.
    _case("of-a-line", "score", "{here}/lines/seed-5.musicxml"),
    {"name": "for-people", "words": ["score", MIDI]},
    _case("position-5", "map"),
    _case("position-1", "map", "--position", "1", "--frets", "12"),
    _case("position-9-concert", "map", "--position", "9", "--read", "concert"),
    _case("drop-d", "map", "--tuning", "drop-d"),
    _case("numbers", "map", "--tuning", "38 45 50 55 57 62", "--position", "3"),
    _case("for-tunes", "map", "--for", ODE, ABC),
    {"name": "for-people", "words": ["map", "--position", "7"]},
    *(_case(f"level-{level}", "line", "--level", str(level), "--seed", str(40 + level)) for level in range(1, 9)),
    _case("minor-in-three", "line", "--key", "Am", "--meter", "3/4", "--bars", "4", "--seed", "8", "--rhythm", "3"),
    _case("compound", "line", "--level", "2", "--key", "Bb", "--meter", "6/8", "--seed", "2", "--position", "2"),
    _case("abc", "add", ABC),
    _case("folder", "add", "{here}/tunes"),
    _case("again", "add", BOOK, "--part", "1"),
    _case("as-set-up", "devices"),
    _case("strange-settings", "devices", put={"home/config/homefret/settings.json": "settings-strange.json"}),
    _case("seed-3", "demo", "--fast", "--seed", "3", "--out", "{out}"),
    _case(
        "all", "assign", "--title", "The second week", "--note", 'Slow, "quiet"', "--due", "2027-01-15", "--position",
        "7", "--read", "concert", "--stage", "places,time", "--tempo", "80", "--tune", "Ode to Joy:1-4", "--tune",
        "Amazing Grace", "--tempo", "66", "--tune", "my waltz.abc:3", "--lines", "3:2", "--stage", "sight",
        "--out", "{out}/second.toml",
    ),
    _case("own-tune", "assign", "--title", "Own", "--tune", "The Heron's Pocket:1-2"),
    {"name": "as-text", "words": ["assign", "--title", "Own", "--lines", "2:3", "--stage", "sight", "--position", "3"]},
    # An older assignment is only replaced where it can be read.
    *(
        _case(f"over-{name}", "assign", "--title", "x", "--lines", "1", "--out", f"{{here}}/assignments/{name}.toml")
        for name in ("first-week", "second-week")
    ),
)  # fmt: skip


def _mistake(*words: str, **more: Any) -> dict[str, Any]:
    return {"words": list(words), **more}


MISTAKES: tuple[dict[str, Any], ...] = (
    _mistake("practise"),
    _mistake("demo", "--days", "0"),
    _mistake("demo", "--days", "many"),
    _mistake("demo", "--seed", "x"),
    _mistake("score"),
    _mistake("score", "{here}/gone.musicxml"),
    _mistake("score", "{here}/broken/empty.abc"),
    _mistake("score", "{here}/broken/words.abc"),
    _mistake("score", "{here}/broken/noise.musicxml"),
    _mistake("score", "{here}/broken/notes.txt"),
    _mistake("score", "{here}/broken/silent.mid"),
    _mistake("score", BOOK),
    _mistake("score", BOOK, "--part", "9"),
    _mistake("score", ODE, "--read", "piano"),
    _mistake("score", ODE, "--position", "30"),
    _mistake("map", "--tuning", "open-sesame"),
    _mistake("map", "--tuning", "40 45 50"),
    _mistake("map", "--frets", "3"),
    _mistake("map", "--out", "{out}/chart.txt"),
    _mistake("map", "--for", "{here}/gone.abc"),
    _mistake("take"),
    _mistake("take", ODE, "{here}/gone.mid"),
    _mistake("take", ODE, "{here}/broken/noise.mid"),
    _mistake("take", ODE, "{here}/broken/silent.mid"),
    _mistake("take", ODE, TAKE, "--stage", "time"),
    _mistake("take", ODE, TAKE, "--tempo", "80"),
    _mistake("take", ODE, TAKE, "--stage", "letters"),
    _mistake("take", ODE, TAKE, "--stage", "time", "--tempo", "80", "--swing", "9"),
    _mistake("take", ODE, TAKE, "--day", "2026-03-03"),
    _mistake("take", "--number", "3"),
    _mistake("take", "--day", "yesterday"),
    _mistake("take", "--day", "2026-03-03", "--number", "99"),
    _mistake("take", "--day", "2025-01-01"),
    _mistake("take", "--day", "2026-03-03", "--hear"),
    _mistake("take", "--day", "2026-03-03", "--number", "1", "--out", "{out}/take.txt"),
    _mistake("take", "--day", "2026-11-24", "--number", "1", "--player", "Möwe"),
    _mistake("take", "--day", "2026-11-24", "--number", "4", "--player", "Möwe", "--out", "{out}/take.mid"),
    _mistake("take", "--day", "2026-03-03", "--number", "1", "--from", "{here}/broken/no-export.zip"),
    _mistake("line", "--level", "9"),
    _mistake("line", "--key", "H"),
    _mistake("line", "--rhythm", "7"),
    _mistake("line", "--meter", "5/4"),
    _mistake("line", "--bars", "1"),
    _mistake("line", "--out", "{here}/no/folder/line.musicxml"),
    _mistake("add"),
    _mistake("add", "{out}"),
    _mistake("add", "{here}/broken/words.abc"),
    _mistake("devices", "--record", "{out}/take.mid"),
    _mistake("devices", "--watch", "--seconds", "0"),
    _mistake("devices", "--base-channel", "14"),
    _mistake("devices", environment={"HOMEFRET_MIDI_API": "smoke"}),
    _mistake("devices", put={"home/config/homefret/settings.json": "settings-broken.json"}),
    _mistake("devices", put={"home/config/homefret/settings.json": "settings-range.json"}),
    _mistake("report", "--out", "{out}/page.txt"),
    _mistake("report", "--player", "Fink"),
    _mistake("report", "--player", "Dohle"),
    _mistake("report", "--from", "{out}"),
    _mistake("report", "--from", "{here}/gone"),
    _mistake("assign"),
    _mistake("assign", "--title", "x", "--tune", "No Such Tune"),
    _mistake("assign", "--title", "x", "--tune", "Ode to Joy:90-94", "--lines", "12", "--due", "soon"),
    _mistake("assign", "--title", "x", "--lines", "1", "--stage", "sleep"),
    _mistake("assign", "--title", "x", "--lines", "1", "--out", "{out}/week.txt"),
    _mistake("assign", "--title", "x", "--lines", "1", "--out", "{here}/broken/broken.toml"),
    _mistake("log", "--restore", "{here}/broken/junk.sqlite"),
    _mistake("log", "--restore", "{here}/gone.sqlite"),
    _mistake("log", "--restore", "{data}/practice.sqlite"),
    _mistake("log", "--back-up", "{here}/back-ups/moewe.sqlite"),
    _mistake("log", "--back-up", "{out}/a.sqlite", "--export", "{out}/a.zip"),
    _mistake("log", "--export", "{out}/me.txt"),
    _mistake("log", "--export", "{here}/broken/no-export.zip"),
    _mistake("log", "--export", "{out}/fink.zip", "--player", "Fink"),
    _mistake("players", "--add", "  "),
    _mistake("players", "--add", "MÖWE"),
    _mistake("players", put={"home/data/homefret/players.json": "players-broken.json"}),
)
