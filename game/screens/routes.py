"""Where a screen may lead. Screens name the place; `game.screens.router` builds what stands there."""

from dataclasses import dataclass
from pathlib import Path
from typing import TYPE_CHECKING

from game.music.score import Score
from game.practice.take_request import TakeRequest

if TYPE_CHECKING:
    from game.coach.decisions import Decision
    from game.coach.placing.placing_test import PlacingTest
    from game.coach.plan.plan_onward import PlannedNext
    from game.practice.finished_take import Finished
    from game.tunes.entering.draft import Draft
    from game.tunes.library.import_results import ImportDone, ImportRefused
    from game.tunes.library.shelf_entry import ShelfEntry


@dataclass(frozen=True, slots=True)
class ToShelf:
    """The shelf of tunes."""


@dataclass(frozen=True, slots=True)
class ToPage:
    """The page of a tune from the first note: as the coach says, or in the stage `chosen` by the player."""

    request: TakeRequest
    chosen: bool = False


@dataclass(frozen=True, slots=True)
class ToResult:
    """What became of a take."""

    request: TakeRequest
    finished: "Finished"
    decision: "Decision"


@dataclass(frozen=True, slots=True)
class ToListening:
    """A tune heard whole."""

    request: TakeRequest


@dataclass(frozen=True, slots=True)
class ToSigning:
    """The page of a passage signed off, for its player's name: of the take that was just `finished` and decided on, or
    later, without one. `then` is what its step of the plan says.
    """

    request: TakeRequest
    finished: "Finished | None" = None
    decision: "Decision | None" = None
    then: "PlannedNext | None" = None


@dataclass(frozen=True, slots=True)
class ToFreshLine:
    """A line never seen before, at the level that is set."""


@dataclass(frozen=True, slots=True)
class ToSibling:
    """A sibling of the passage at hand: the same notes to practise, and nothing that is known by heart."""

    request: TakeRequest


@dataclass(frozen=True, slots=True)
class ToImportSummary:
    """What was made of an imported tune."""

    entry: "ShelfEntry"
    score: Score


@dataclass(frozen=True, slots=True)
class ToImportAccount:
    """What of a dropping was not read, and why."""

    outcome: "ImportDone | ImportRefused"


@dataclass(frozen=True, slots=True)
class ToToday:
    """The plan of today."""


@dataclass(frozen=True, slots=True)
class ToFirstStart:
    """The first note of whoever has never played here."""


@dataclass(frozen=True, slots=True)
class ToGoodNight:
    """The end of a sitting."""


@dataclass(frozen=True, slots=True)
class ToUnseenLine:
    """A line never seen before, at first sight: once through; in a key of that name ("Bb"), or in any for ""."""

    key: str = ""


@dataclass(frozen=True, slots=True)
class ToLines:
    """The folder of unseen lines."""


@dataclass(frozen=True, slots=True)
class ToPlacing:
    """The next page of the short test; None begins it. `asked` are the single notes so far, as sounding pitches."""

    test: "PlacingTest | None" = None
    asked: tuple[int, ...] = ()


@dataclass(frozen=True, slots=True)
class ToAssignment:
    """An assignment of the player's, by its id."""

    assignment: str


@dataclass(frozen=True, slots=True)
class ToAssigned:
    """A part of an assignment, by its id and the number of the part, from 0."""

    assignment: str
    part: int


@dataclass(frozen=True, slots=True)
class ToProgress:
    """What the practice came to."""


@dataclass(frozen=True, slots=True)
class ToBook:
    """The passages with their marks."""


@dataclass(frozen=True, slots=True)
class ToProgramme:
    """The programme of three tunes; `picked` is the name of a tune that is brought along, empty for none."""

    picked: str = ""


@dataclass(frozen=True, slots=True)
class ToCourses:
    """The courses."""


@dataclass(frozen=True, slots=True)
class ToPlanned:
    """The step of the plan that stands next; after a take of it, what its result said comes then."""

    request: TakeRequest | None = None
    decision: "Decision | None" = None
    then: "PlannedNext | None" = None


@dataclass(frozen=True, slots=True)
class ToMarking:
    """A take in rhythm that nothing listened to, to be marked by its player."""

    request: TakeRequest


@dataclass(frozen=True, slots=True)
class ToMap:
    """The map, to look at and to change."""


@dataclass(frozen=True, slots=True)
class ToMaps:
    """The player's maps, side by side: the one of that id is chosen, the one in use where none is named."""

    chosen: str = ""


@dataclass(frozen=True, slots=True)
class ToMapByPlaying:
    """A map, to be written by playing it once."""


@dataclass(frozen=True, slots=True)
class ToNextMap:
    """What may be learned after a map that is fluent."""


@dataclass(frozen=True, slots=True)
class ToPlayers:
    """Who plays on this computer."""


@dataclass(frozen=True, slots=True)
class ToSharing:
    """The folder that the player's computers share."""


@dataclass(frozen=True, slots=True)
class ToDamage:
    """What was found wrong with the practice log; the shelf where nothing was."""


@dataclass(frozen=True, slots=True)
class ToSettings:
    """What the player can settle."""


@dataclass(frozen=True, slots=True)
class ToInstruments:
    """The instruments that are plugged in."""


@dataclass(frozen=True, slots=True)
class ToSetUp:
    """A device, to be set up by playing."""

    device: str


@dataclass(frozen=True, slots=True)
class ToDelay:
    """A device whose delay is to be measured."""

    device: str


@dataclass(frozen=True, slots=True)
class ToMicrophones:
    """How a plain guitar is heard; `first` where the first sheet led there."""

    first: bool = False


@dataclass(frozen=True, slots=True)
class ToMicrophone:
    """An audio input, to be set up by playing; `first` as above."""

    name: str
    first: bool = False


@dataclass(frozen=True, slots=True)
class ToTuner:
    """The open strings, to be tuned."""


@dataclass(frozen=True, slots=True)
class ToTuning:
    """A tuning of one's own."""


@dataclass(frozen=True, slots=True)
class ToFromPaper:
    """Music that is on paper."""


@dataclass(frozen=True, slots=True)
class ToEntering:
    """A tune being entered, a draft and its file; None begins a new one."""

    path: Path | None = None
    draft: "Draft | None" = None


@dataclass(frozen=True, slots=True)
class ToPaperPractice:
    """Practice from the paper itself."""


@dataclass(frozen=True, slots=True)
class Back:
    """To where one came from: out of a take to where it was begun."""


@dataclass(frozen=True, slots=True)
class Leave:
    """Out of the game."""


Route = (
    ToShelf
    | ToPage
    | ToFreshLine
    | ToResult
    | ToSigning
    | ToListening
    | ToMarking
    | ToMap
    | ToMaps
    | ToMapByPlaying
    | ToSettings
    | ToPlayers
    | ToSibling
    | ToImportSummary
    | ToImportAccount
    | ToToday
    | ToPlanned
    | ToProgress
    | ToBook
    | ToAssignment
    | ToAssigned
    | ToPlacing
    | ToFirstStart
    | ToGoodNight
    | ToUnseenLine
    | ToLines
    | ToInstruments
    | ToSetUp
    | ToDelay
    | ToMicrophones
    | ToMicrophone
    | ToTuner
    | ToTuning
    | ToDamage
    | ToSharing
    | ToFromPaper
    | ToEntering
    | ToPaperPractice
    | ToProgramme
    | ToCourses
    | ToNextMap
    | Back
    | Leave
)
