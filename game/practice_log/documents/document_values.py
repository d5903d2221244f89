"""What may stand in the fields of a document (see `game.practice_log.documents.documents`): bounds that ours never
reach, and our words. A word that is added makes a new form of the documents, for older programs cannot know it.
"""

from typing import Annotated, Literal

from msgspec import Meta

EARLIEST_US, LATEST_US = -2_208_988_800_000_000, 253_402_214_400_000_000
"""From 1900 to two days before the end of the year 9999: what a clock may say, in microseconds since 1970."""

DeviceUuid = Annotated[
    str, Meta(pattern=r"\A[0-9a-f]{8}-[0-9a-f]{4}-[0-9a-f]{4}-[0-9a-f]{4}-[0-9a-f]{12}\Z", max_length=36)
]
PlayerUuid = DeviceUuid
Sequence = Annotated[int, Meta(ge=-(2**53), le=2**53)]
ClockUs = Annotated[int, Meta(ge=EARLIEST_US, le=LATEST_US)]
ZoneMinutes = Annotated[int, Meta(ge=-1440, le=1440)]

TakeUs = Annotated[int, Meta(ge=-(2**53), le=2**53)]
"""A time within a take."""

Count = Annotated[int, Meta(ge=0, le=10_000_000)]
Small = Annotated[int, Meta(ge=-1000, le=1000)]
Midi = Annotated[int, Meta(ge=-128, le=255)]
String = Annotated[int, Meta(ge=0, le=100)]
Fret = Annotated[int, Meta(ge=0, le=100)]
Tempo = Annotated[float, Meta(gt=0, le=100_000)]
WholeTempo = Annotated[int, Meta(gt=0, le=100_000)]
Ms = Annotated[float, Meta(ge=-1e12, le=1e12)]
Rate = Annotated[float, Meta(ge=0, le=1e6)]

Name = Annotated[str, Meta(max_length=1000)]
"""For people: made clean before it goes into the log."""

Key = Annotated[str, Meta(max_length=1000, pattern=r"\A[^\x00-\x1f\x7f]*\Z")]
"""By which something is found again: stands as it is."""

Text = Annotated[str, Meta(max_length=100_000)]
FractionText = Annotated[str, Meta(pattern=r"\A-?[0-9]{1,12}(/[1-9][0-9]{0,11})?\Z", max_length=30)]
PitchName = Annotated[str, Meta(pattern=r"\A[A-G](#{0,2}|b{0,2})-?[0-9]{1,2}\Z", max_length=8)]
Digest = Annotated[str, Meta(pattern=r"\A[0-9a-f]{64}\Z", max_length=64)]

StageWord = Literal["letters", "places", "rhythm", "time", "sight"]
PulseWord = Literal["free", "metronome"]
PlayedOnWord = Literal[
    "guitar",
    "keyboard",
    "neck on screen",
    "computer keys",
    "simulated player",
    "guitar without pickup",
    "guitar heard",
]
ReadingWord = Literal["guitar", "concert", "bass", "concert-bass"]
ReachWord = Literal["in position", "stretch", "outlying"]
AlteredByWord = Literal["nothing", "signature", "accidental", "earlier accidental"]
StepWord = Literal["none", "letter", "place"]
LetterWord = Literal["A", "B", "C", "D", "E", "F", "G"]
OutcomeWord = Literal["finished", "broken off", "cut short"]
VerdictWord = Literal["clean", "wrong pitch", "other place", "early", "late", "missed", "hinted", "unread", "unsure"]
CauseWord = Literal["signature", "accidental", "neighbour", "ledger", "octave", "third", "slip", "unknown"]
EventWord = Literal["stop", "repair", "restart", "skip", "ran ahead", "fell behind"]
OPENED, TAKE, OVERRULED = "passage opened", "take", "overruled"
HeardWord = Literal["passage opened", "take", "overruled"]
WishWord = Literal["metronome now", "no metronome", "slower", "faster", "another passage"]
OfferWord = Literal["again", "sibling", "easier"]
MarkWord = Literal["found", "in time", "signed off"]
