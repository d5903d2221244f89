"""A plain guitar, heard: it sounds in a room beside the game's own loudspeaker, and everything goes through a real JACK
server, from samples to the verdicts on the screen. Nobody touches mouse or keyboard from the start to the end.

The guitar is rendered before it plays, and follows the click that it hears, to the sample. So a busy computer changes
no time; and what it loses of the sound, JACK waits for.
"""

import itertools
import json
import subprocess
import sys
from collections.abc import Iterator, Mapping
from contextlib import contextmanager
from fractions import Fraction
from pathlib import Path

import pytest

from game.instrument.sources.note_sources import PlayedOn
from game.neck.neck_map import standard_map
from game.paths import shipped
from game.player.device_settings import MicrophoneSettings
from tests.commands.running import notes_of
from tests.sampling import only_where_all_is_run
from tests.system.game_on_screen import Game, begun_game, keep_settings
from tests.system.jack import end, jack_for_sound
from tests.system.needs import require_file, require_module
from tests.system.rendered_guitar import PEAK, Plucked, rendered
from tests.system.waiting import NeverCameError
from tests.system.words_on_screen import ASSIGNMENT_TITLE, PAGE_TITLE

pytestmark = pytest.mark.system

(TUNE,) = shipped("content", "tunes").glob("*toast-for-two-cats.musicxml")
TITLE = "Toast for Two Cats"
BPM = 72
ASSIGNED = "With the click"
ASSIGNMENT = f"""
title = "{ASSIGNED}"
[[tune]]
title = "{TITLE}"
bars = [1, 4]
stages = ["time"]
tempo = {BPM}
"""
BARS = ("1", "2", "3", "4")
ROOM = "room"
# By how many semitones two of the notes are missed.
WRONG = {4: 3, 9: -4}
WRONG_NOTES = dict.fromkeys(WRONG, "wrong pitch")
# In places somebody hesitates before this note.
HESITATES, FOR_S = 8, 1.5
# The loudest click at the usual volume is 0.34 of full scale: it leaks 20 dB below the loudest of the guitar.
LEAK_DB = -16.6
MAP = standard_map()
FREE = MAP.tuning.sounding(MAP.free_string)
# What is told of the pace of a take depends on the computer, too: how it was read does not.
VERDICTS = """
SELECT n, verdict FROM verdict WHERE judgement = (SELECT max(judgement) FROM judgement)
AND verdict NOT IN ('clean', 'hinted') ORDER BY n
"""
JUDGED = "SELECT judgement FROM judgement"
OFFSETS = "SELECT n, offset_ms FROM verdict ORDER BY n"
# Played straight, where the lead sheet is counted with a swing.
OFF_BEATS = {4, 11}
TEMPO = "SELECT tempo_bpm FROM decision WHERE tempo_bpm IS NOT NULL"
PLAYED_ON = "SELECT kind FROM take JOIN instrument USING (instrument)"
# As often a take is played again in which a busy computer let sound wait: people and clocks go on.
TRIES = 4
LATE_S = 0.03


class Room:
    """The process in which the guitar plays."""

    def __init__(self, process: subprocess.Popen, folder: Path) -> None:
        self.process, self._folder, self._pieces = process, folder, 0

    def play(self, notes: list[Plucked], *, after_click_s: float | None = None) -> dict[str, float]:
        """Play to the end; when it began, and how loud the click was."""
        self._pieces += 1
        file = rendered(notes, self._folder / f"piece-{self._pieces}.npy")
        return self.ask(play=str(file), after_click_s=after_click_s)

    def ask(self, **words: object) -> dict[str, float]:
        self.process.stdin.write(json.dumps(words) + "\n")
        self.process.stdin.flush()
        answer = self.process.stdout.readline()
        assert answer, f"the room ended with {self.process.wait()}"
        return json.loads(answer)


@contextmanager
def a_room(environment: Mapping[str, str], folder: Path) -> Iterator[Room]:
    """A room while the block runs."""
    require_module("jack", package="JACK-Client")
    # -P: its modules are those of the interpreter, not those that lie beside the script.
    command = [sys.executable, "-P", str(Path(__file__).with_name("room.py"))]
    process = subprocess.Popen(command, env=environment, text=True, stdin=subprocess.PIPE, stdout=subprocess.PIPE)
    try:
        assert process.stdout.readline() == "ready\n"
        yield Room(process, folder)
    finally:
        end(process)
        process.stdin.close()
        process.stdout.close()


def sounding_through(environment: Mapping[str, str], home: Path) -> dict[str, str]:
    """The environment for a game whose sound goes through JACK as well, by the plug-in of ALSA."""
    plug_in = require_file("lib/*/alsa-lib/libasound_module_pcm_jack.so", package="libasound2-plugins")
    ports = "playback_ports { 0 system:playback_1 1 system:playback_2 }"
    (home / ".asoundrc").write_text(f"pcm.!default {{ type plug slave.pcm {{ type jack {ports} }} }}\n")
    return {**environment, "SDL_AUDIODRIVER": "alsa", "ALSA_PLUGIN_DIR": str(plug_in.parent)}


def notes_of_passage() -> list[dict]:
    """The first bars as they are played first."""
    return list(itertools.takewhile(lambda note: note["bar"] in BARS, notes_of(TUNE)))


def in_places(*, every_s: float) -> list[Plucked]:
    """Each note until it is right, with no clock."""
    line, at_s = [], 0.0
    for n, note in enumerate(notes_of_passage(), start=1):
        at_s += FOR_S if n == HESITATES else 0.0
        for sounding in (*((note["sounding"] + WRONG[n],) if n in WRONG else ()), note["sounding"]):
            line.append(Plucked(at_s=at_s, sounding=sounding))
            at_s += every_s
    return line


def command(room: Room, *, plucks: int) -> None:
    """Pluck the free open string."""
    room.play([Plucked(at_s=0.3 * number, sounding=FREE, length_s=0.2) for number in range(plucks)])


def notes_of_passage_in_time(quarter_s: float) -> list[Plucked]:
    """Each note where it is due, two of them wrong."""
    return [
        Plucked(at_s=float(Fraction(note["onset"])) * quarter_s, sounding=note["sounding"] + WRONG.get(n, 0))
        for n, note in enumerate(notes_of_passage(), start=1)
    ]


@pytest.fixture(scope="module")
def sound(tmp_path_factory: pytest.TempPathFactory) -> Iterator[dict[str, str]]:
    """The environment for programs whose sound and MIDI go through a server of our own."""
    with jack_for_sound(tmp_path_factory.mktemp("jack")) as environment:
        yield environment


@contextmanager
def guitarist_at(screen, home: Path, environment: Mapping[str, str], opened: Path) -> Iterator[tuple[Room, Game]]:
    """A room, and a game in it that was set up for its microphone before, with a file open."""
    keep_settings(home, microphone=ROOM, microphones={ROOM: MicrophoneSettings(set_up=True)})
    with (
        a_room(environment, home) as room,
        begun_game(screen, home, sounding_through(environment, home), "-m", "game", opened) as game,
    ):
        room.ask(leak_db=LEAK_DB)
        room.ask(heard=True)
        yield room, game


@only_where_all_is_run("it takes a quarter of a minute")
def test_a_plain_guitar_is_read_in_places(sound, screen, tmp_path):
    """Two wrong notes, each put right, and a hesitation: the result shows those two."""
    with guitarist_at(screen, tmp_path, sound, TUNE) as (room, game):
        game.wait_for_words(PAGE_TITLE, TITLE)
        room.play(in_places(every_s=0.6))
        game.wait_for_rows(JUDGED, 1)
        assert dict(game.log(VERDICTS)) == WRONG_NOTES
        assert game.log(PLAYED_ON) == [(PlayedOn.HEARD.value,)]


def read_with_the_click(room: Room, game: Game) -> dict[str, float]:
    """From what the teacher set to the result; how the guitar came through."""
    game.wait_for_words(ASSIGNMENT_TITLE, ASSIGNED)
    command(room, plucks=1)
    game.wait_for_words(PAGE_TITLE, TITLE)
    command(room, plucks=3)
    ((tempo,),) = game.wait_for_rows(TEMPO, 1)
    quarter_s = 60 / tempo
    room.play(notes_of_passage_in_time(quarter_s)[:1])
    took = room.play(notes_of_passage_in_time(quarter_s), after_click_s=4 * quarter_s)
    game.wait_for_rows(JUDGED, 1)
    if not took["ended_s"]:
        raise NeverCameError("no click was heard")
    if took["ended_s"] - took["began_s"] - took["lasts_s"] >= LATE_S:
        raise NeverCameError("the computer was too busy for sound: it did not come in time")
    return took


@only_where_all_is_run("it takes half a minute")
def test_a_plain_guitar_is_read_with_the_click_while_the_click_leaks(sound, screen, tmp_path):
    """By the guitar alone; whoever is not heard, or in part, for the computer is busy, begins again as somebody new."""
    for attempt in range(TRIES):
        home = tmp_path / str(attempt)
        home.mkdir()
        (home / "week.toml").write_text(ASSIGNMENT)
        with guitarist_at(screen, home, sound, home / "week.toml") as (room, game):
            try:
                took = read_with_the_click(room, game)
            except NeverCameError as fault:
                failed = str(fault)
                continue
            verdicts = dict(game.log(VERDICTS))
            if verdicts == WRONG_NOTES:
                break
            failed = f"{verdicts} was told"
    else:
        pytest.fail(f"in none of {TRIES} takes the guitar came through, in the last: {failed}")
    assert took["click_peak"] * 10 ** (LEAK_DB / 20) == pytest.approx(PEAK / 10, rel=0.05), "20 dB below"
    on_beats = [offset for n, offset in game.log(OFFSETS) if n not in OFF_BEATS]
    assert max(on_beats) - min(on_beats) < 1000 * LATE_S, "each as late as the sound takes to come in"
