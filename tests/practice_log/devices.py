"""One player on several devices, simulated: each thing is recorded into the log of the device at hand, in the order of
time, and what came of it is held against one computer on which all of it was done.

Devices gather from each other now and then, are started anew, or are copied from another.
"""

from contextlib import closing
from dataclasses import dataclass, replace
from datetime import UTC, timedelta, timezone, tzinfo
from random import Random
from typing import Any
from uuid import UUID

from game.coach.coach import advance, page_played
from game.coach.events import FormerPage, Overruled, PageCutAnew, PassageOpened, Wish, facts_of
from game.coach.judged_take import judged_notes
from game.coach.notes.mastery import mastery_after
from game.coach.notes.note_reads import take_reads
from game.coach.played_whole import pages_played
from game.coach.stages import Pulse, Stage
from game.music.passage import Passage, passages_of, whole_tune
from game.player.log_fold import fold_log
from game.player.pages_of_whole import pages_of_whole
from game.player.player_coach import FOLD as COACH
from game.player.player_notes import FOLD as NOTES
from game.player.player_notes import judged_take
from game.practice_log.database.identity import Identity
from game.practice_log.database.store import open_store
from game.practice_log.queries.figures import figures_of
from game.practice_log.queries.passage_facts import cut_anew_content, tune_pages_content
from game.practice_log.queries.take_sightings import sighting_now, sightings_up_to_date
from game.practice_log.rows.bar_contents import stretch_of
from game.practice_log.rows.decision_rows import coach_result, put_decision
from game.practice_log.rows.entry_rows import About, Recorded, put_fact
from game.practice_log.rows.judgement_rows import put_ending
from game.practice_log.rows.log_records import Outcome, Terms
from game.practice_log.rows.passage_key import passage_key
from game.practice_log.rows.shared_rows import put_device, put_player
from game.practice_log.rows.take_rows import put_take
from tests.made import score
from tests.practice_log.logged_takes import MORNING, PLAYER, begun, ended, judged, notes_of
from tests.practice_log.transfer.practised import lines_of, take_in

ROWS = ("F4 q, G4 q, A4 h", "A4 w", "Bb4 h, A4 h", "G4 w", "C5 h, A4 h", "F4 q, E4 q, F4 h", "D4 w", "G4 w")
TUNE = score(*ROWS, key=-1)
CORRECTED = score("F4 q, G4 q, B4 h", *ROWS[1:], key=-1)
OTHER = score("D5 q, C5 q, B4 q, A4 q", "F4 w", "E4 h, F4 h", "G4 w")
PASSAGES = (*passages_of(TUNE), whole_tune(TUNE), *passages_of(OTHER), passages_of(CORRECTED)[0])
MARKS = {id(tune): str(index) * 32 for index, tune in enumerate((TUNE, OTHER, CORRECTED))}
ZONES = (UTC, timezone(timedelta(hours=1)), timezone(timedelta(hours=-5)))
TARGET_BPM = 66
WORDS, _SAID = ("cut", "pages"), 0.12
"""What is said of passages now and then, besides what the player does."""


@dataclass(frozen=True, slots=True)
class Thing:
    """Something the player does, `minutes` after the first morning, on one device; `chance` decides the rest."""

    minutes: float
    device: int
    what: str
    passage: Passage
    chance: float


def things(seed: int, devices: int, many: int = 24) -> list[Thing]:
    """A few days of practice, in the order of time."""
    rng, said, minutes, found = Random(f"things {seed}"), Random(f"said {seed}"), 0.0, []
    words = ["take"] * 12 + ["open"] * 3 + ["overrule"] * 2 + ["hear", "ear", "rename"]
    for _ in range(many):
        minutes += rng.choice((3, 5, 40, 400, 1500))
        what = rng.choice(words)
        found.append(Thing(minutes, rng.randrange(devices), what, rng.choice(PASSAGES), rng.random()))
        if said.random() < _SAID:
            found.append(Thing(minutes + 2, said.randrange(devices), said.choice(WORDS), PASSAGES[0], said.random()))
    return found


def facts(passage: Passage) -> Any:
    """What the coach must know of a passage."""
    lengths = tuple(note.length for note in passage.notes)
    beat = passage.bars[0].meter.beat_length
    return facts_of(passage_key(passage), lengths=lengths, beat_length=beat, target_bpm=TARGET_BPM)


_TOLD = pages_of_whole(whole_tune(TUNE), facts)
assert _TOLD is not None
TOLD = _TOLD


class Device:
    """A device with a log of its own. What its coach and its notes know is made of the log when it is started, and kept
    up from then on, as in the game.
    """

    def __init__(self, number: int, folder: Any = None) -> None:
        self.identity, self.folder = Identity(uuid=UUID(int=number + 1), name=f"device {number}"), folder
        # How much its clock is ahead, and the zone it is set to; None for one of its own.
        self.ahead = timedelta(0)
        self.zone: tzinfo | None = None
        self.log = open_store(folder / "practice.sqlite" if folder else None, now_utc=MORNING)
        # Nobody pulls the plug here.
        self.log.execute("PRAGMA synchronous = OFF")
        self.start()

    def start(self) -> None:
        """The program is started, or begins again after entries came in."""
        self.coach, self.notes = coach_of(self.log, self.folder), notes_of_player(self.log, self.folder)

    def gather(self, lines: bytes) -> None:
        """Take in what another device recorded."""
        take_in(self.log, lines)
        self.start()

    def do(self, thing: Thing) -> None:
        """Do something."""
        zone = self.zone or ZONES[thing.device % len(ZONES)]
        at = (MORNING + timedelta(minutes=thing.minutes) + self.ahead).astimezone(zone)
        match thing.what:
            case "take":
                self._play(thing, at)
            case "open":
                self._hear(PassageOpened(passage=facts(thing.passage), day=at.date().toordinal()), at)
            case "overrule":
                wish = (Wish.SLOWER, Wish.FASTER, Wish.METRONOME_NOW)[int(thing.chance * 3)]
                self._hear(Overruled(passage=facts(thing.passage), day=at.date().toordinal(), wish=wish), at)
            case "hear":
                self._tell(About.HEARD, told(thing.passage), at)
            case "ear":
                mark = MARKS[id(thing.passage.score)]
                self._tell(About.KNOWN_BY_EAR, {"tune": mark, "known": thing.chance < 0.5}, at)
            case "rename":
                was, is_now = passages_of(TUNE)[0], passages_of(CORRECTED)[0]
                self._tell(About.RENAMED_PASSAGE, {"was": told(was), "is": told(is_now)}, at)
                self.start()
            case "cut":
                self._cut(thing, at)
            case "pages":
                self._tell(About.TUNE_PAGES, tune_pages_content(TOLD), at)

    def _cut(self, thing: Thing, at: Any) -> None:
        first, second = (passage_key(one) for one in passages_of(TUNE))
        parts = (FormerPage(name=first, first=1, last=6), FormerPage(name=second, first=7, last=9, shift=-6))
        other = passage_key(PASSAGES[-2])
        is_now = (passage_key(PASSAGES[-1]), other, passage_key(whole_tune(TUNE)))[int(thing.chance * 3)]
        self._tell(About.CUT_ANEW, cut_anew_content(PageCutAnew(is_now=is_now, former=parts)), at)
        self.start()

    def _play(self, thing: Thing, at: Any) -> None:
        timed = thing.chance < 0.4
        terms = Terms(stage=Stage.TIME, pulse=Pulse.METRONOME, tempo_bpm=66.0) if timed else Terms(stage=Stage.PLACES)
        mark = MARKS[id(thing.passage.score)]
        take = replace(begun(terms, tune=thing.passage), started_at=at, tune=mark)
        take = replace(take, sighting=self._sighting(thing.passage, mark))
        rng = Random(thing.chance)
        notes = notes_of(take, wrong={note.n for note in take.asked.notes if rng.random() < 0.15})
        if thing.chance > 0.85:
            notes = notes[: len(notes) // 2]
        number, judgement = put_take(self.log, take, self.identity), judged(take, notes)
        over = at + timedelta(minutes=1)
        ending = replace(ended(judgement, outcome=Outcome.FINISHED), ended_at=over)
        put_ending(self.log, number, ending, self.identity)
        told_reads = take_reads(judged_take(take, judgement, at.date().toordinal()))
        self.notes = mastery_after(self.notes, told_reads) if told_reads.reads else self.notes
        day, minute = over.date().toordinal(), 60 * over.hour + over.minute
        result = coach_result(take, facts(thing.passage), day=day, minute=minute, judgement=judgement)
        self._hear(result, over, number)
        if thing.passage == whole_tune(TUNE) and self._knows_pages:
            notes_heard = judged_notes(judgement.verdicts, take.asked.notes)
            for page in pages_played(result, notes_heard, TOLD.pages):
                self.coach = page_played(self.coach, page)

    @property
    def _knows_pages(self) -> bool:
        told = self.log.execute("SELECT EXISTS (SELECT 1 FROM fact WHERE about = ?)", (About.TUNE_PAGES.value,))
        return bool(told.fetchone()[0])

    def _sighting(self, passage: Passage, mark: str) -> Any:
        known = self.log.execute(
            "SELECT json_extract(content, '$.known') FROM fact JOIN entry ON kind = 'fact' AND row = fact "
            "WHERE about = 'ear' AND json_extract(content, '$.tune') = ? ORDER BY moment_us DESC, entry DESC LIMIT 1",
            (mark,),
        ).fetchone()
        return replace(sighting_now(self.log, PLAYER.uuid, passage), known_by_ear=bool(known and known[0]))

    def _hear(self, event: Any, at: Any, take: int | None = None) -> None:
        self.coach, decision = advance(self.coach, event)
        put_decision(self.log, self._recorded(at), event, decision, take)

    def _tell(self, about: About, content: Any, at: Any) -> None:
        put_fact(self.log, self._recorded(at), about, content)

    def _recorded(self, at: Any) -> Recorded:
        return Recorded(put_device(self.log, self.identity), put_player(self.log, PLAYER), at)


def told(passage: Passage) -> dict[str, Any]:
    """A passage as facts tell of it."""
    stretch = stretch_of(passage)
    return {"key": passage_key(passage), "start": stretch.start, "bars": stretch.bars}


def coach_of(log: Any, folder: Any = None) -> Any:
    """The coach's state, folded; by way of snapshots where there is a folder for them."""
    return fold_log(COACH, log, folder or _NOWHERE, PLAYER.uuid, None).state


def notes_of_player(log: Any, folder: Any = None) -> Any:
    """What is known of notes, folded."""
    return fold_log(NOTES, log, folder or _NOWHERE, PLAYER.uuid, None).state


def everything_of(log: Any) -> dict[str, Any]:
    """All that is folded from a log: coach, notes, sightings, sums."""
    with sightings_up_to_date(log, PLAYER.uuid):
        sightings = log.execute(
            "SELECT moment_us, reached, nth, heard, known FROM summaries.sighting ORDER BY position"
        ).fetchall()
    with figures_of(log, PLAYER.uuid) as figures:
        days = figures.days()
        last = days[-1].day if days else MORNING.date()
        sums = days, figures.passages(), figures.notes(last, 7), figures.went_wrong(last, 7), figures.newest_marked(9)
    return {"coach": coach_of(log), "notes": notes_of_player(log), "sightings": sightings, "sums": sums}


def on_one_computer(done: list[Thing]) -> Device:
    """The same done on one computer."""
    device = Device(0)
    for thing in done:
        device.do(thing)
    return device


def on_several(seed: int, done: list[Thing], devices: int, folder: Any = None) -> list[Device]:
    """The same done on several, which gather from each other, are started anew and copied with chance."""
    rng = Random(f"devices {seed}")
    all_of_them = [Device(number, folder and _made(folder / str(number))) for number in range(devices)]
    for thing in done:
        device = all_of_them[thing.device]
        if thing.what in WORDS:
            device.do(thing)
            continue
        chance = rng.random()
        if chance < 0.25:
            device.gather(lines_of(rng.choice(all_of_them).log))
        elif chance < 0.35:
            device.start()
        elif chance < 0.4:
            # All that another device had was copied here, which is noticed: it goes on under an id of its own.
            device.gather(lines_of(rng.choice(all_of_them).log))
            device.identity = Identity(uuid=UUID(int=rng.getrandbits(100)), name="a copy")
        device.do(thing)
    return all_of_them


def gathered_in_any_order(seed: int, devices: list[Device]) -> Any:
    """One log of all of theirs."""
    log = open_store(None, now_utc=MORNING)
    pieces = [lines_of(device.log) for device in devices]
    Random(f"order {seed}").shuffle(pieces)
    for piece in pieces:
        take_in(log, piece)
    return log


def differences(seed: int, devices: int, folder: Any = None) -> list[str]:
    """What of all that is folded differs between the devices, gathered, and one computer."""
    done = things(seed, devices)
    one, several = on_one_computer(done), on_several(seed, done, devices, folder)
    with closing(gathered_in_any_order(seed, several)) as together:
        wanted, found = everything_of(one.log), everything_of(together)
    faults = [name for name in wanted if wanted[name] != found[name]]
    if (one.coach, one.notes) != (wanted["coach"], wanted["notes"]):
        faults.append("live")
    for device in several:
        for other in several:
            device.gather(lines_of(other.log))
        faults += [f"device: {name}" for name, value in everything_of(device.log).items() if value != wanted[name]]
        if device.coach != wanted["coach"] or device.notes != wanted["notes"]:
            faults.append("snapshots")
    for device in (one, *several):
        device.log.close()
    return faults


def _made(folder: Any) -> Any:
    folder.mkdir()
    return folder


class _Nowhere:
    """A folder that keeps nothing."""

    def __truediv__(self, _name: str) -> "_Nowhere":
        return self

    def glob(self, _pattern: str) -> list[Any]:
        return []

    def with_name(self, _name: str) -> "_Nowhere":
        return self

    name = "nowhere"

    def open(self, _mode: str) -> Any:
        raise OSError

    def write_bytes(self, _content: bytes) -> None:
        raise OSError

    def unlink(self, **_how: Any) -> None:
        raise OSError


_NOWHERE: Any = _Nowhere()
