"""Whatever commands and reports say comes from the text catalogue: in the language of brackets no word of it is bare.

Titles, names of notes, people and files, what a system says, and what is typed are no words of ours.
"""

import html
import re

import pytest

from game.commands.parser import COMMANDS
from game.music.score import Reading
from game.neck.tuning import TUNINGS
from game.report import inline_svg
from tests.bare_words import bare_words
from tests.fixtures_of_november.cases import MISTAKES
from tests.fixtures_of_november.november import laid_out
from tests.sampling import sample

_NO_WORDS = (
    r"\b[0-9a-f]{8}-[0-9a-f-]{27}\b|\b[0-9a-f]{32}\b",  # ids and fingerprints
    r"\{?[\w/.\\{}-]*\.(zip|mid|html|toml|sqlite|json|musicxml|abc|txt|png|pdf|ics|csv)\b",  # files
    r"\{(data|here|out|tunes)\}\S*",  # folders, as the desk of November calls them
    r"--?[a-z][a-z-]*",  # options
    r"\{[a-z,]+\}|[a-z0-9]+\|[a-z]+",  # and what they take
    r"HOMEFRET_\w+",
    r"\b(homefret|MIDI|ALSA|JACK|int|float|BPM)\b",
)
_TITLES = (
    "Ode to Joy", "Rain on the Boathouse", "The Heron's Pocket", "Au clair de la lune", "Amazing Grace", "ferry",
    "Ah! vous dirai-je, Maman", "In the Hall of the Mountain King", "made up for these files", "my waltz", "Möwe",
    "Fink", "the old laptop",
)  # fmt: skip
_TYPED = {
    *COMMANDS, *TUNINGS, *(reading.value for reading in Reading),
    "letters", "places", "rhythm", "time", "sight", "coremidi", "winmm", "alsa", "jack",
}  # fmt: skip


def bare(text, *typed):
    """The words that stand outside brackets and are none of those that may."""
    known = (*_TITLES, *(word for word in typed if len(word) > 2))
    parts = {part for name in _TYPED for part in name.split("-")}
    return [word for word in bare_words(text, known, _NO_WORDS) if word not in parts]


@pytest.fixture(autouse=True)
def in_brackets(monkeypatch):
    monkeypatch.setenv("HOMEFRET_LANGUAGE", "pseudo")


@pytest.fixture(scope="module")
def desk(tmp_path_factory):
    """One desk for all that changes nothing on it."""
    return laid_out(tmp_path_factory.mktemp("desk"))


@pytest.mark.parametrize("command", ["", *COMMANDS])
def test_help_texts(command, desk):
    said = desk.run(*command.split(), "--help")
    assert (said.status, said.err) == (0, "")
    assert said.out.count("«") > 3
    assert bare(said.out) == []


@pytest.mark.parametrize("mistake", sample(MISTAKES, by_default=25), ids=lambda mistake: " ".join(mistake["words"]))
def test_lines_of_mistakes(mistake, desk, tmp_path):
    elsewhere = "put" in mistake or "environment" in mistake
    said = (laid_out(tmp_path, mistake) if elsewhere else desk).run(*mistake["words"])
    assert said.err.startswith("«homefret: »")
    fields = ("look", "volume", "players", "folder", "level", "stages", "settings", "paper", "night", "papier")
    assert bare(said.err, *mistake["words"], *fields, "smoke", "elsewhere", "out") == []


@pytest.mark.parametrize(
    "words",
    [
        "score {here}/tunes/boathouse.abc",
        "map --position 7",
        "map --stretch none --second 12 --seam A5 --out {out}/map.toml",
        "map --for {here}/tunes/boathouse.abc --read concert",
        "take {tunes}/03-ode-to-joy.musicxml {here}/takes/keys.mid --keyboard",
        "take {tunes}/03-ode-to-joy.musicxml {here}/takes/time.mid --stage time --tempo 80",
        "take --day 2026-11-24 --player Möwe",
        "take --day 2026-11-24 --number 2 --player Möwe",
        "take --day 2026-11-25 --number 2 --player Möwe --out {out}/take.mid",
        "line --level 3 --seed 4",
        "devices",
        "log",
        "log --export {out}/e.zip",
        "log --back-up {out}/b.sqlite",
        "players",
        "assign --title x --tune waltz.abc --lines 2:3 --out {out}/week.toml",
    ],
)
def test_answers_for_people(words, desk):
    said = desk.run(*words.split())
    assert (said.status, said.err) == (0, "")
    assert "«" in said.out
    assert bare(said.out, "waltz") == []


def test_what_was_added(tmp_path):
    said = laid_out(tmp_path, {"words": ["{here}/tunes"]}).run("add", "{here}/tunes")
    assert said.status == 0
    assert bare(said.out) == []


@pytest.mark.parametrize(
    "words",
    ["--player Möwe --out {out}/page.html", "--from {here}/handed --out {out}/class/index.html"],
    ids=["own", "class"],
)
def test_pages_of_reports(words, desk, monkeypatch):
    monkeypatch.setattr(inline_svg, "_LETTERING", "none")
    said = desk.run("report", *words.split())
    assert (said.status, bare(said.out, "first")) == (0, [])
    pages = sorted(desk.out.rglob("*.html"))
    assert pages
    for page in pages:
        seen = seen_on(page.read_text(encoding="utf-8"))
        assert seen.count("«") > 10
        assert bare(seen, "first") == []


def seen_on(page):
    """What a page shows or is read aloud of it, pictures among it."""
    body = re.sub(r"<(style|clipPath|defs)\b.*?</\1>|<!--.*?-->|<code>.*?</code>", "", page, flags=re.DOTALL)
    spoken = re.findall(r'aria-label="([^"]*)"', body)
    return html.unescape("\n".join((re.sub(r"<[^>]*>", "\n", body), *spoken)))


def test_a_bare_word_is_noticed():
    assert bare("«Take »3 of «3 March» of Ode to Joy, C#4, --day, «a «b» c»") == ["of", "of"]
    assert seen_on('<style>a</style><p>one</p><svg aria-label="two"><text>three</text></svg>').split() == [
        "one", "three", "two",
    ]  # fmt: skip
