"""A way to every screen there is."""

from collections.abc import Callable, Iterable
from dataclasses import replace
from datetime import date
from pathlib import Path

from game.coach.stages import Pulse, Stage
from game.message import message
from game.practice.take_request import TakeRequest, request_for
from game.practice_log.back_ups.automatic import AutomaticBackUp
from game.practice_log.back_ups.recovery import FoundDamage
from game.practice_log.database.soundness import Damage, DamageKind
from game.screens.base_screen import BaseScreen
from game.screens.routes import (
    Route,
    ToAssignment,
    ToBook,
    ToCourses,
    ToDamage,
    ToDelay,
    ToEntering,
    ToFirstStart,
    ToFromPaper,
    ToGoodNight,
    ToImportAccount,
    ToImportSummary,
    ToInstruments,
    ToLines,
    ToListening,
    ToMap,
    ToMapByPlaying,
    ToMaps,
    ToMarking,
    ToMicrophone,
    ToMicrophones,
    ToNextMap,
    ToPage,
    ToPaperPractice,
    ToPlacing,
    ToPlayers,
    ToProgramme,
    ToProgress,
    ToResult,
    ToSettings,
    ToSetUp,
    ToSharing,
    ToShelf,
    ToSigning,
    ToToday,
    ToTuner,
    ToTuning,
)
from game.tunes.library.import_results import ImportRefused
from game.tunes.library.library import open_entry, shipped_entries
from tests.made import score
from tests.sampling import runs_all
from tests.screens.table import Table

ASSIGNMENT = 'title = "A week"\n[[line]]\nlevel = 1\n'
_PARTS = 3


def request_of(table: Table, stage: Stage = Stage.PLACES) -> TakeRequest:
    request = request_for(score("F4 h, G4 h", "A4 w"), table.context.settings.neck_map())
    return request.in_stage(stage)


def result_of(table: Table) -> ToResult:
    """A take that was really played."""
    table.go(ToPage(request_of(table), chosen=True))
    for note in table.screen.take.expected:
        table.play(note.sounding)
    table.wait(1.2)
    return ToResult(table.screen.request, table.screen.finished, table.screen.decision)


def signing_of(table: Table) -> ToSigning:
    """The page of the same take, as if it had been signed off."""
    result = result_of(table)
    request = replace(result.request, stage=Stage.TIME, pulse=Pulse.METRONOME, tempo_bpm=96)
    return ToSigning(request, result.finished, result.decision)


def damage_of(table: Table) -> ToDamage:
    """A log in which pages do not hang together any more, with a back-up of the day before."""
    log = table.context.session.log
    day = date.fromordinal(table.day - 1)
    made = AutomaticBackUp(path=log.path.with_name("back-up.sqlite"), day=day, takes=76)
    damage = Damage(kind=DamageKind.BROKEN, told=message("damage.broken"))
    log.damage = FoundDamage(damage=damage, back_up=made)
    return ToDamage()


def routes(table: Table, folder: Path) -> dict[str, Route]:
    """A route to every screen there is, by the screen's name."""
    return {name: way() for name, way in _ways(table, folder).items()}


def some_routes(table: Table, folder: Path, part: int) -> dict[str, Route]:
    """By default those to a third of all screens, from the one numbered `part` on, 0 to 2: tests that draw every screen
    ask for different parts. Where everything is asked for, all.
    """
    ways = _ways(table, folder)
    return {name: ways[name]() for name in some_of(ways, part)}


def some_of(names: Iterable[str], part: int) -> tuple[str, ...]:
    """By default a third of the names, from the one numbered `part` on; else all."""
    whole = tuple(names)
    return whole if runs_all() else whole[part::_PARTS]


def _ways(table: Table, folder: Path) -> dict[str, Callable[[], Route]]:
    """What makes the route to each screen; for some of them something is played before."""
    (folder / "week.toml").write_text(ASSIGNMENT, encoding="utf-8")
    assignments = table.context.session.assignments
    entry = shipped_entries()[0]
    return {
        "ShelfScreen": ToShelf,
        "TodayScreen": ToToday,
        "GoodNightScreen": ToGoodNight,
        "FirstStartScreen": ToFirstStart,
        "ProgressScreen": ToProgress,
        "BookScreen": ToBook,
        "MapScreen": ToMap,
        "MapsScreen": ToMaps,
        "MapByPlayingScreen": ToMapByPlaying,
        "LinesScreen": ToLines,
        "SettingsScreen": ToSettings,
        "PlayersScreen": ToPlayers,
        "SharingScreen": ToSharing,
        "InstrumentsScreen": ToInstruments,
        "SetUpScreen": lambda: ToSetUp("blue pickup"),
        "DelayScreen": lambda: ToDelay("blue pickup"),
        "MicrophonesScreen": ToMicrophones,
        "MicrophoneScreen": lambda: ToMicrophone("blue interface"),
        "TunerScreen": ToTuner,
        "TuningScreen": ToTuning,
        "ImportSummaryScreen": lambda: ToImportSummary(entry, open_entry(entry)),
        "ImportAccountScreen": lambda: ToImportAccount(ImportRefused((message("tune.empty", file="x.abc"),))),
        "AssignmentScreen": lambda: ToAssignment(assignments.open(ASSIGNMENT).id),
        "DamageScreen": lambda: damage_of(table),
        "FromPaperScreen": ToFromPaper,
        "EnteringScreen": ToEntering,
        "PaperPracticeScreen": ToPaperPractice,
        "ProgrammeScreen": lambda: ToProgramme(entry.name),
        "CoursesScreen": ToCourses,
        "NextMapScreen": ToNextMap,
        "PlacingPage": ToPlacing,
        "LettersPage": lambda: ToPage(request_of(table, Stage.LETTERS), chosen=True),
        "PlacesPage": lambda: ToPage(request_of(table), chosen=True),
        "FreePage": lambda: ToPage(request_of(table, Stage.TIME), chosen=True),
        "MetronomePage": lambda: ToPage(request_of(table).by_the_click(), chosen=True),
        "ListeningScreen": lambda: ToListening(request_of(table)),
        "MarkingScreen": lambda: ToMarking(request_of(table, Stage.RHYTHM)),
        "ResultScreen": lambda: result_of(table),
        "SigningScreen": lambda: signing_of(table),
    }


def screens() -> set[str]:
    """Every screen there is; the page for an ordinary guitar stands where the settings say that there is no pickup."""
    ours = (screen for screen in BaseScreen.__subclasses__() if screen.__module__.startswith("game."))
    return {screen.__name__ for screen in ours} - {"SelfMarkedPage"}
