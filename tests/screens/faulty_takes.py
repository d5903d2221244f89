"""Takes of players who make many mistakes, in music that leaves the pencil little room; each by its seed."""

from dataclasses import replace
from fractions import Fraction
from random import Random

from game.coach.stages import Pulse, Stage
from game.instrument.decoding.played import NoteStarted, PlayedNote
from game.music.chords import ChordSymbol
from game.music.score import Bar, BarMarks, Score
from game.neck.tuning import Place
from game.practice.take_request import TakeRequest, request_for
from game.screens.routes import ToPage
from tests.made import score
from tests.screens.table import Table

# Ledger lines below and above, chromatic eighths, sixteenths, ties over the bar line, rests, grace notes.
_ROWS = (
    "G3 q, A3 q, G#3 e, A#3 e, B3 q",
    "C4 e, C#4 e, D4 e, D#4 e, E4 e, F4 e, F#4 e, G4 e",
    "A4 s, Bb4 s, B4 s, C5 s, C#5 s, D5 s, Eb5 s, E5 s, F5 s, E5 s, Eb5 s, D5 s, Db5 s, C5 s, B4 s, Bb4 s",
    "E5 e, F5 e, F#5 e, G5 e, G#5 e, A5 e, Bb5 e, C6 e ~",
    "~C6 q, gB4 e, C5 q, r e, F#4 e, gG4 s, A4 q",
    "G3 e, E5 e, Bb3 e, A5 e, r q, Bb4 q",
    "Ab4 h ~, ~Ab4 e, G4 e, Gb4 q",
    "D4 q., E4 e, F4 s, G4 s, A4 s, Bb4 s, G3 q",
)
_CHORDS = ("Bbmaj7", "Gm7b5/Db", "C7b9", "F#dim7")


def crowded_tune(bars: int = 8) -> Score:
    """A chord over every beat; two endings."""
    plain = score(*(_ROWS[index % len(_ROWS)] for index in range(bars)), key=-2, title="A crowded page")
    return replace(plain, bars=tuple(_with_chords(bar, index) for index, bar in enumerate(plain.bars)))


def _with_chords(bar: Bar, index: int) -> Bar:
    chords = tuple(
        ChordSymbol(onset=Fraction(beat), root="C", kind="dominant", text=_CHORDS[(index + beat) % len(_CHORDS)])
        for beat in range(4)
    )
    marks = {2: BarMarks(endings=(1,), ending_starts=True, ending_stops=True, repeat_end=2)}
    return replace(bar, chords=chords, marks=marks.get(index, bar.marks))


def request_in(table: Table, stage: Stage, tune: Score | None = None) -> TakeRequest:
    """The whole of a crowded tune; by the click where time counts."""
    request = request_for(tune or crowded_tune(), table.context.settings.neck_map()).whole_or_passages().in_stage(stage)
    return replace(request, pulse=Pulse.METRONOME, tempo_bpm=90) if stage is Stage.TIME else request


def play_badly(table: Table, seed: int, *, until: float = 1.0) -> None:
    """Play the page that stands open against its click up to a share of it: every second note goes wrong somehow."""
    chance, page = Random(seed), table.screen
    page.begin()
    expected = page.take.expected
    for note in expected[: round(len(expected) * until)]:
        due_s = page.take.zero_s + page.take._grid.onsets_s[note.n - 1] + chance.gauss(0, 0.01)
        fault = chance.choice(("", "", "", "step", "leap", "octave", "early", "late", "place", "missed"))
        if fault == "missed":
            continue
        due_s += {"early": -0.11, "late": 0.13}.get(fault, 0.0)
        sounding = note.sounding + {
            "step": chance.choice((-2, -1, 1, 2)),
            "leap": chance.choice((-7, -5, -4, 4, 5, 9)),
            "octave": chance.choice((-12, 12)),
        }.get(fault, 0)
        home = table.context.settings.neck_map().home_of(sounding)
        place = Place(6, 13) if fault == "place" else home.place if home else None
        table.wait(max(0.0, due_s - table.clock.now_s()), frame_s=0.1)
        played = PlayedNote(started_s=due_s, sounding=sounding, place=place, source="test guitar")
        table.app.note_started(NoteStarted(note=played, channel=1))


def open_page(table: Table, request: TakeRequest) -> None:
    """The page of a request."""
    table.go(ToPage(request, chosen=True))
