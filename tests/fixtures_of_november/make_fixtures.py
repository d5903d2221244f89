"""How these files were made, from the program as it was on 28 November 2026, before its inner parts were rebuilt.

It runs against the code of that day only (commit ceeb16e), and is kept to say where each file comes from:

    python -m tests.fixtures_of_november.make_fixtures

Everybody in it is made up. The first player's log is a demo of three days; the second player, Möwe, did all that a log
can hold: naming, help, marks by their own word, notes that were revised, takes in each stage, on strings and keys, and
a take that was cut short. Fink is on the table of players and never played. What commands answered to all this on
that day lies in `golden`; `golden/inside.json` is what the program's own readers made of it, for tests that may look
inside.
"""

import json
import os
import shutil
import sqlite3
import tempfile
from collections.abc import Sequence
from contextlib import closing
from dataclasses import replace
from datetime import UTC, date, datetime, timedelta
from pathlib import Path
from random import Random
from typing import Any
from uuid import UUID

import mido
import msgspec
from game.assignments.reading import read_assignment
from game.audio.clicking import Clicking
from game.coaching import Coaching
from game.commands.demo import play
from game.from_log import main as gone_through
from game.instrument.dirt import Limits
from game.instrument.midifile import write_take
from game.instrument.played import PlayedNote
from game.keeping import Keeping
from game.known_by_ear import keep_known, tune_mark, tunes_known
from game.lines.line import fresh_line
from game.lines_seen import line_met, lines_seen
from game.mastering import Mastering, _packed
from game.neck.map import NeckMap, standard_map
from game.practice.finished import FinishedTake
from game.practice.naming import Naming
from game.practice.self_marked import SelfMarkedTake
from game.practice_log.coaching import decisions_of
from game.practice_log.identity import kept_identity
from game.practice_log.records import HelpGiven, RawTake, Terms
from game.practice_log.resuming import judged_again
from game.settings import DeviceSettings, InstrumentKind, Look, MusicFace, Settings, load, save
from game.tunes.reading import read_tune
from game.tunes.seen import now_seen, seen_names

from game import players
from game.coach.coach import advance
from game.coach.events import PassageOpened, Wish
from game.coach.stages import Pulse, Stage
from game.judging.untimed import HintStep
from game.lines.levels import level_of
from game.lines.scale import key_named
from game.music.names import NoteNames, Spelling
from game.music.passage import Passage, passages_of, whole_tune
from game.music.score import Reading, Score
from game.music.written import written_out
from game.neck.tuning import Place, tuning_named
from game.tunes.library import open_entry, shipped_entries
from tests.fixtures_of_november.cases import CASES, COMMANDS, MISTAKES
from tests.fixtures_of_november.november import GOLDEN, HERE, MATERIAL, Desk, asked, laid_out

FIRST, MOEWE, FINK, LAPTOP = (
    UUID(int=Random(seed).getrandbits(128), version=4) for seed in ("first", "Möwe", "Fink", "laptop")
)
LOG = "practice.sqlite"
SWINGS = """X:1
T:Rain on the Boathouse
C:made up for these files
M:4/4
L:1/8
K:Bb
|:B2 cd e2 dc|(3BAG F2 z2 {e}d2|_e2 =e2 f4|1 B2 A2 G4:|2 F4 B4|]
"""
JIG = """X:1
T:The Heron's Pocket
C:made up for these files
M:6/8
L:1/8
K:D
A|d2f e2c|A2d f3|^g2a b2a|f2d d2A|
"""
MAP = standard_map()
DROPPED = standard_map(
    position=2, tuning=tuning_named("drop-d"), frets=19, reading=Reading.CONCERT, choices={62: Place(3, 7)}
)
EVENING = datetime(2026, 11, 24, 17, 30, tzinfo=UTC)


class Wall:
    """The clock on the wall, set by hand."""

    def __init__(self) -> None:
        self.now = EVENING

    def utc(self) -> datetime:
        return self.now

    def today(self) -> date:
        return self.now.date()


class Practice:
    """Möwe with a log and a coach, take by take. Times within a take count from its time 0."""

    def __init__(self, folder: Path) -> None:
        self.wall = Wall()
        self.keeping = Keeping(folder, self.wall.utc)
        self.coaching = Coaching(self.keeping, target_bpm=88, today=self.wall.today)

    def begin(self, passage: Passage, terms: Terms, neck_map: NeckMap = MAP) -> Any:
        self.wall.now += timedelta(minutes=2)
        return self.keeping.take(passage, neck_map, terms, zero_s=0.0)

    def end(self, take: Any, finished: Any, seconds: float) -> None:
        self.wall.now += timedelta(seconds=seconds)
        take.ended(finished, counted_from_s=0.0)
        self.coaching.heard(finished, take)

    def play(
        self,
        passage: Passage,
        terms: Terms,
        played: Sequence[PlayedNote],
        *,
        helped: Sequence[HelpGiven] = (),
        revised: Sequence[tuple[PlayedNote, PlayedNote | None]] = (),
        neck_map: NeckMap = MAP,
    ) -> None:
        """A take: notes as they came, help, and what notes turned out to be."""
        take = self.begin(passage, terms, neck_map)
        for note in played:
            take.played(note)
        for given in helped:
            take.helped(given.n, given.step, at_s=given.at_s)
        for before, after in revised:
            take.revised(before, after)
        turned_out = {id(before): after for before, after in revised}
        heard = [turned_out.get(id(note), note) for note in played]
        raw = RawTake(played=tuple(note for note in heard if note), helped=tuple(helped))
        judgement = judged_again(take.begun, raw)
        finished = FinishedTake(
            passage=passage,
            expected=take.begun.asked.notes,
            judgement=judgement,
            stage=terms.stage,
            tempo_bpm=terms.tempo_bpm,
            played=raw.played,
            settling=terms.settling,
        )
        self.end(take, finished, played[-1].started_s + 1)


def main() -> None:
    """Make everything anew beside this file."""
    for name in (*MATERIAL, "golden"):
        shutil.rmtree(HERE / name, ignore_errors=True)
    home = HERE / "home"
    os.environ.update(HOME=str(home), XDG_DATA_HOME=str(home / "data"), XDG_CONFIG_HOME=str(home / "config"))
    make_files()
    make_players()
    make_handed()
    shutil.rmtree(home / ".cache", ignore_errors=True)
    for case in CASES:
        with tempfile.TemporaryDirectory() as folder:
            told = case | asked(case, Path(folder))
        put(GOLDEN / case["words"][0] / f"{case['name']}.json", told)
    make_texts()


def make_files() -> None:
    """Tunes, takes, and files that nobody can use."""
    for folder in ("tunes", "takes", "broken", "assignments", "handed", "back-ups"):
        (HERE / folder).mkdir()
    (HERE / "tunes" / "boathouse.abc").write_text(SWINGS, encoding="utf-8")
    (HERE / "tunes" / "book.abc").write_text(f"{SWINGS}\n{JIG.replace('X:1', 'X:2')}", encoding="utf-8")
    midi_tune(HERE / "tunes" / "ferry.mid")
    ode = notes_of(open_shelf("Ode to Joy"), MAP, gap_s=0.5)
    wrong = [replace(note, sounding=note.sounding + 1, place=up(note.place)) for note in ode]
    write_take(HERE / "takes" / "places.mid", [*ode[:3], wrong[3], *ode[4:9], moved(ode[9]), *ode[10:40]])
    timed = in_time(open_shelf("Ode to Joy"), MAP, bpm=80, swing=1.5)
    timed[4] = replace(timed[4], started_s=timed[4].started_s + 0.13)
    timed[7] = replace(timed[7], sounding=timed[7].sounding + 2, place=up(up(timed[7].place)))
    del timed[11]
    write_take(HERE / "takes" / "time.mid", timed)
    write_take(HERE / "takes" / "keys.mid", [replace(n, sounding=n.sounding + 12, place=None) for n in ode[:25]])
    mido.MidiFile().save(HERE / "broken" / "silent.mid")
    for name, content in {
        "noise.mid": b"MThd and then nothing of use",
        "empty.abc": b"",
        "words.abc": b"There is no tune in here.\n",
        "noise.musicxml": b"<score-partwise><part>",
        "junk.sqlite": b"junk" * 500,
        "no-export.zip": b"PK no zip",
        "notes.txt": b"What I wanted to say.\n",
        "broken.toml": b"title = ",
        "settings-broken.json": b'{"look": "papier"}',
        "settings-range.json": b'{"volume": 3.0}',
        "settings-strange.json": b'{"look": "night", "moonlight": true, "base_channel": 7}',
        "players-broken.json": b'{"players": [{"folder": "../elsewhere", "name": "Dohle"}]}',
    }.items():
        (HERE / "broken" / name).write_bytes(content)
    shipped = (HERE.parents[1] / "content" / "assignments" / "first-week.toml").read_text(encoding="utf-8")
    (HERE / "assignments" / "first-week.toml").write_text(shipped, encoding="utf-8")
    by_words = [
        "assign", "--title", 'Zweite Woche: "leise"', "--note", "Slow, and eyes on the page", "--due", "2027-02-01",
        "--position", "2", "--tuning", "drop-d", "--frets", "19", "--read", "concert", "--stage", "places,time",
        "--tempo", "80", "--tune", "Ode to Joy:1-4", "--tune", "Amazing Grace", "--tempo", "66",
        "--tune", "boathouse.abc:2-3", "--lines", "3:2", "--stage", "sight", "--lines", "1",
        "--out", str(HERE / "assignments" / "second-week.toml"),
    ]  # fmt: skip
    done = Desk(here=HERE, out=HERE).run(*by_words)
    assert done.status == 0, done


def make_players() -> None:
    """Three players on one computer."""
    data = HERE / "home" / "data" / "homefret"
    with tempfile.TemporaryDirectory() as demo:
        identity(Path(demo) / "player.json", FIRST, "")
        identity(Path(demo) / "device.json", LAPTOP, "the old laptop")
        play(seed=11, out=Path(demo), fast=True, days=3)
        data.mkdir(parents=True, exist_ok=True)
        for name in (LOG, "player.json", "device.json"):
            shutil.copy(Path(demo) / name, data)
    said = Desk(here=HERE, out=HERE).run("add", str(HERE / "tunes" / "book.abc"))
    assert said.status == 0, said
    moewe = players.add_player("Möwe", new_uuid=lambda: UUID(int=2))
    players.add_player("Fink", new_uuid=lambda: UUID(int=3))
    players.keep_chosen(moewe)
    for player, uuid in (("Möwe", MOEWE), ("Fink", FINK)):
        identity(players.chosen_player(player).folder / "player.json", uuid, player)
    make_settings()
    make_marks(data)
    make_marks(moewe.folder)
    practise(moewe.folder)
    for folder in (data, moewe.folder):
        for name in ("coaching", "mastering"):
            gone_through(folder, name)
        in_one_file(folder / LOG)
    make_inside(data, moewe.folder)


def make_settings() -> None:
    """Nothing as it is without settings."""
    first = Settings(
        look=Look.NIGHT,
        music_face=MusicFace.HANDWRITTEN,
        note_names=NoteNames.GERMAN,
        left_handed=True,
        staff_space_px=31,
        frets=21,
        choices={60: (4, 10), 69: (2, 10)},
        waits=False,
        wants_home=True,
        base_channel=11,
        still=True,
        slip=True,
        volume=0.35,
        clicking=Clicking.TWO_AND_FOUR,
        target_bpm=96,
        line_level=4,
        plan_minutes=35,
        device="Larch Hexa",
        devices={
            "Larch Hexa": DeviceSettings(
                channels=(6, 5, 4, 3, 2, 1), bend_semitones=12.0, constant_ms=4.5, periods=2.75, calibrated=True
            ),
            "Alder 49": DeviceSettings(constant_ms=11.0),
        },
        pedals=(20, 64, 67),
        limits=Limits(softest=18, shortest_s=0.05, faint=40, in_tune=0.25),
    )
    save(first, players.first().settings_path)
    second = Settings(
        note_names=NoteNames.SOLFEGE,
        position=2,
        tuning="drop-d",
        frets=19,
        reading=Reading.CONCERT,
        choices={62: (3, 7)},
        instrument=InstrumentKind.NO_PICKUP,
        volume=0.0,
        target_bpm=88,
        plan_minutes=5,
    )
    save(second, players.chosen_player("Möwe").settings_path)


def make_marks(folder: Path) -> None:
    """What was seen, met, and is known by ear."""
    for name in ("03-ode-to-joy", "01-au-clair-de-la-lune", "49-in-the-hall-of-the-mountain-king"):
        now_seen(name, folder)
    for seed in range(1, 4):
        line_met(sight_line(seed), folder)
    known = frozenset(tune_mark(first_of(title)) for title in ("Frère Jacques", "Silent Night", "Ode to Joy"))
    keep_known(known, folder)


def practise(folder: Path) -> None:
    """Möwe's four days."""
    table = Practice(folder)
    hall = first_of("In the Hall of the Mountain King")
    boathouse = passages_of(written_out(read_tune(HERE / "tunes" / "boathouse.abc")))[0]
    heron = passages_of(written_out(read_tune(HERE / "tunes" / "book.abc", part=2)))[0]
    ode = first_of("Ode to Joy")
    table.coaching.opened(hall, Stage.LETTERS)
    name_line(table, hall)
    table.coaching.opened(hall)
    untimed(table, hall)
    mark_oneself(table, hall)
    table.keeping.was_heard(ode)
    table.coaching.opened(ode)
    played = notes_of(ode, MAP, gap_s=0.7)
    table.play(ode, Terms(stage=Stage.PLACES, waits=False, wants_home=True), [*played[:6], moved(played[6])])
    table.wall.now = datetime(2026, 11, 25, 17, 0, tzinfo=UTC)
    table.coaching.opened(boathouse)
    in_rhythm(table, boathouse)
    table.coaching.overruled(boathouse, Wish.METRONOME_NOW, 72)
    with_revised_notes(table, boathouse)
    table.coaching.overruled(boathouse, Wish.SLOWER)
    table.wall.now = datetime(2026, 11, 25, 23, 28, tzinfo=UTC)
    table.coaching.opened(heron)
    terms = Terms(stage=Stage.TIME, pulse=Pulse.METRONOME, tempo_bpm=54.0, beat_length=heron.bars[1].meter.beat_length)
    table.play(heron, terms, in_time(heron, MAP, bpm=81))
    table.play(heron, replace(terms, settling=True, window_ms=45.0), in_time(heron, MAP, bpm=81, late_s=0.05))
    table.wall.now = datetime(2026, 11, 27, 6, 45, tzinfo=UTC)
    line = passages_of(written_out(sight_line(9, DROPPED)))[0]
    sight = Terms(stage=Stage.SIGHT, pulse=Pulse.METRONOME, tempo_bpm=60.0)
    table.play(line, sight, in_time(line, DROPPED, bpm=60)[:9], neck_map=DROPPED)
    keys = [replace(note, sounding=note.sounding + 12, place=None, source="Alder 49") for note in in_time(ode, MAP)]
    table.play(ode, Terms(stage=Stage.TIME), keys)
    cut_short = table.begin(hall, Terms(stage=Stage.PLACES))
    for note in notes_of(hall, MAP, gap_s=0.9)[:5]:
        cut_short.played(note)
    cut_short.helped(6, HintStep.LETTER, at_s=6.5)
    assert table.keeping.close() is None


def name_line(table: Practice, passage: Passage) -> None:
    """Names by keys, one of them wrong, one after help, one said aloud; then broken off."""
    take = table.begin(passage, Terms(stage=Stage.LETTERS))
    naming = Naming(passage, MAP, now_s=0.0)
    for n, note in enumerate(passage.notes[:8], start=1):
        right = Spelling(note.pitch.step, note.pitch.alter)
        at_s = 1.4 * n
        given = (Spelling("C" if right.step != "C" else "D", 0), right) if n == 3 else (right,)
        if n in (5, 7):
            naming.reveal()
        if n == 5:
            take.helped(n, HintStep.LETTER, at_s=at_s - 0.4)
        if n == 7:
            take.said(n, said_right=False, at_s=at_s)
            naming.confirm(said_right=False, now_s=at_s)
            continue
        for later, name in enumerate(given):
            take.named(n, name, at_s=at_s + 0.3 * later)
            naming.name(name, at_s + 0.3 * later)
    table.end(take, naming.finish(), 14)


def untimed(table: Practice, passage: Passage) -> None:
    """Places with help, wrong notes and another place; then all over again, better."""
    played = notes_of(passage, MAP, gap_s=0.8)
    wrong = replace(played[2], sounding=played[2].sounding + 1, place=up(played[2].place))
    later = [replace(note, started_s=note.started_s + 0.4) for note in played[2:]]
    helped = (
        HelpGiven(n=5, step=HintStep.LETTER, at_s=later[2].started_s - 0.3),
        HelpGiven(n=5, step=HintStep.PLACE, at_s=later[2].started_s - 0.1),
    )
    table.play(
        passage, Terms(stage=Stage.PLACES), [*played[:2], wrong, *later[:4], moved(later[4]), *later[5:]], helped=helped
    )
    table.play(passage, Terms(stage=Stage.PLACES), notes_of(passage, MAP, gap_s=0.6))


def mark_oneself(table: Practice, passage: Passage) -> None:
    """On a guitar that nothing listens to."""
    take = table.begin(passage, Terms(stage=Stage.PLACES, self_marked=True))
    marking = SelfMarkedTake(passage, MAP, now_s=0.0)
    for n in range(1, len(passage.notes) + 1):
        marking.reveal(1.1 * n)
        take.said(n, said_right=n != 4, at_s=1.1 * n + 0.3)
        marking.mark(right=n != 4, now_s=1.1 * n + 0.3)
    table.end(take, marking.finish(), 20)


def in_rhythm(table: Practice, passage: Passage) -> None:
    """The rhythm on one note: at their own pace, and swung with the metronome, begun before the beat."""
    one = [replace(note, sounding=57, place=Place(3, 2)) for note in in_time(passage, MAP, bpm=66)]
    table.play(passage, Terms(stage=Stage.RHYTHM, pitch_counts=False), one)
    swung = [replace(n, sounding=57, place=Place(3, 2)) for n in in_time(passage, MAP, bpm=72, swing=1.6, late_s=-0.03)]
    terms = Terms(stage=Stage.RHYTHM, pulse=Pulse.METRONOME, tempo_bpm=72.0, swing=1.6, pitch_counts=False)
    table.play(passage, terms, swung)


def with_revised_notes(table: Practice, passage: Passage) -> None:
    """A slide that arrived, a first guess that was put right, and a ghost that nobody played."""
    played = in_time(passage, MAP, bpm=72, swing=1.6)
    below = replace(played[2], sounding=played[2].sounding - 2, place=up(played[2].place, -2))
    slid = replace(played[2], arrived_s=played[2].started_s + 0.055)
    guess = replace(played[5], sounding=played[5].sounding + 12, place=None)
    ghost = replace(played[7], started_s=played[7].started_s + 0.2, velocity=12)
    came = [*played[:2], below, *played[3:5], guess, *played[6:8], ghost, *played[8:]]
    terms = Terms(stage=Stage.TIME, pulse=Pulse.METRONOME, tempo_bpm=72.0, swing=1.6)
    table.play(passage, terms, came, revised=((below, slid), (guess, played[5]), (ghost, None)))


def make_handed() -> None:
    """Exports, a log handed over as it is, and a back-up."""
    desk = Desk(here=HERE, out=HERE)
    for words in (
        ("log", "--export", "{here}/handed/first.zip"),
        ("log", "--export", "{here}/handed/moewe.zip", "--player", "möwe"),
        ("log", "--back-up", "{here}/back-ups/moewe.sqlite", "--player", "Möwe"),
        ("report", "--out", "{here}/handed/first.html"),
        ("report", "--out", "{here}/handed/moewe.html", "--player", "Möwe"),
    ):
        said = desk.run(*words)
        assert said.status == 0, said
    for page in (HERE / "handed").glob("*.[hc]*"):
        page.unlink()
    for log in (HERE / "home").rglob(LOG):
        in_one_file(log)


def make_inside(*folders: Path) -> None:
    """What the program's own readers make of the files, in the words of their structures of that day."""
    told: dict[str, Any] = {"players": {}}
    for folder, player in zip(folders, players.players(), strict=False):
        keeping = Keeping(folder, lambda: EVENING)
        with keeping.log.reading() as connection:
            decisions = decisions_of(connection, keeping.player.uuid)
        day = decisions[-1].event.day + 1
        coaching = Coaching(keeping, target_bpm=96, today=lambda day=day: date.fromordinal(day))
        mastering = Mastering(keeping, lambda day=day: date.fromordinal(day))
        told["players"][player.name] = {
            "settings": load(player.settings_path),
            "homes": [
                (home.sounding, home.place.string, home.place.fret)
                for home in load(player.settings_path).neck_map().homes
            ],
            "seen": sorted(seen_names(folder)),
            "lines_seen": sorted(lines_seen(folder)),
            "known_by_ear": sorted(tunes_known(folder)),
            "unfinished": [(take.take, len(raw.played)) for take, raw in keeping.log.unfinished_takes()],
            "reasons": [(one.decision.stage, one.decision.tempo_bpm, one.decision.reason) for one in decisions],
            "next": [
                advance(coaching.state, PassageOpened(passage=facts, day=day))[1]
                for facts in {one.event.passage.name: one.event.passage for one in decisions}.values()
            ],
            "mastery": _packed(mastering.mastery),
            "weights": sorted(mastering.weights(MAP).items()),
            "sightings": {title: keeping.sightings(first_of(title)) for title in ("Ode to Joy", "Silent Night")},
        }
        keeping.close()
    told["assignments"] = {
        path.name: repr(read_assignment(path)) for path in sorted((HERE / "assignments").glob("*.toml"))
    }
    GOLDEN.mkdir(exist_ok=True)
    (GOLDEN / "inside.json").write_bytes(msgspec.json.encode(told, enc_hook=repr) + b"\n")


def make_texts() -> None:
    """What each command says of itself, and how mistakes are told."""
    with tempfile.TemporaryDirectory() as folder:
        desk = laid_out(Path(folder))
        helps = {command: desk.run(*command.split(), "--help").out for command in ("", *COMMANDS)}
    put(GOLDEN / "help.json", helps)
    refused = []
    for mistake in MISTAKES:
        with tempfile.TemporaryDirectory() as folder:
            said = laid_out(Path(folder), mistake).run(*mistake["words"])
        assert (said.status, said.out, said.err.count("\n")) == (2, "", 1), (mistake, said)
        refused.append(mistake | {"line": said.err.strip()})
    put(GOLDEN / "refused.json", refused)


def put(path: Path, told: Any) -> None:
    path.parent.mkdir(parents=True, exist_ok=True)
    path.write_text(json.dumps(told, ensure_ascii=False, separators=(",", ":")) + "\n", encoding="utf-8")


def identity(path: Path, uuid: UUID, name: str) -> None:
    path.unlink(missing_ok=True)
    kept_identity(path, name=name, new_uuid=lambda: uuid)


def in_one_file(log: Path) -> None:
    """Nothing of a log in a journal beside it, and no room for nothing in it."""
    with closing(sqlite3.connect(log)) as connection:
        connection.execute("VACUUM")
        connection.execute("PRAGMA wal_checkpoint(TRUNCATE)")


def open_shelf(title: str) -> Passage:
    """All of a shipped tune."""
    return whole_tune(shelf_score(title))


def shelf_score(title: str) -> Score:
    (entry,) = (entry for entry in shipped_entries() if entry.title == title)
    return written_out(open_entry(entry))


def first_of(title: str) -> Passage:
    return passages_of(shelf_score(title))[0]


def sight_line(seed: int, neck_map: NeckMap = MAP) -> Score:
    return fresh_line(level_of(2), neck_map, key=key_named("F"), bars=4, rng=Random(seed))


def notes_of(passage: Passage, neck_map: NeckMap, *, gap_s: float) -> list[PlayedNote]:
    """Each note at its home, one after another."""
    return [replace(note, started_s=gap_s * (at + 1)) for at, note in enumerate(in_time(passage, neck_map))]


def in_time(
    passage: Passage, neck_map: NeckMap, *, bpm: float = 75, swing: float = 1.0, late_s: float = 0.0
) -> list[PlayedNote]:
    """Each note at its home, at so many quarters a minute; written off-beats swung, hands not quite steady."""
    chance, notes = Random(len(passage.notes)), []
    for note in passage.notes:
        home = neck_map.home_of(note.sounding)
        beat, within = divmod(float(note.onset), 1.0)
        onset = beat + (swing / (1 + swing) if within == 0.5 else within)
        notes.append(
            PlayedNote(
                started_s=round(onset * 60 / bpm + late_s + chance.gauss(0, 0.012), 6),
                sounding=note.sounding,
                place=home.place if home else None,
                velocity=70 + chance.randrange(30),
                source="Larch Hexa",
            )
        )
    return notes


def up(place: Place | None, frets: int = 1) -> Place | None:
    return place and Place(place.string, place.fret + frets)


def moved(note: PlayedNote) -> PlayedNote:
    """The same pitch elsewhere on the neck."""
    other = next(p for p in MAP.tuning.places_of(note.sounding, MAP.frets) if p != note.place)
    return replace(note, place=other)


def midi_tune(path: Path) -> None:
    """A tune of eight bars in G as a notation program exports it."""
    file, track = mido.MidiFile(ticks_per_beat=480), mido.MidiTrack()
    file.tracks.append(track)
    track.append(mido.MetaMessage("track_name", name="The Ferry at Noon"))
    track.append(mido.MetaMessage("time_signature", numerator=3, denominator=4))
    track.append(mido.MetaMessage("key_signature", key="G"))
    for pitch, beats in zip(
        (67, 69, 71, 74, 72, 71, 69, 66, 67, 62, 64, 66, 67), (1, 1, 1, 2, 1, 1, 1, 1, 2, 1, 1, 2, 3), strict=True
    ):
        track.append(mido.Message("note_on", note=pitch, velocity=80))
        track.append(mido.Message("note_off", note=pitch, time=480 * beats))
    file.save(path)


if __name__ == "__main__":
    main()
