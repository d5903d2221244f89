"""What may go into the log: for tests that let hypothesis choose."""

from fractions import Fraction

from hypothesis import strategies as st

from game.coach.stages import Pulse, Stage
from game.instrument.decoding.played import PlayedNote
from game.judging.verdicts import EventKind, TakeEvent
from game.neck.tuning import Place
from game.practice_log.rows.log_records import Sighting, Terms

MS = st.floats(min_value=-1e5, max_value=1e5)
TIMES_S = st.integers(min_value=-(10**6), max_value=10**10).map(lambda at_us: at_us / 1_000_000)
PLACE = st.none() | st.builds(Place, st.integers(1, 8), st.integers(0, 30))
NOTE = st.builds(
    PlayedNote,
    started_s=TIMES_S,
    sounding=st.integers(0, 127),
    place=PLACE,
    velocity=st.integers(1, 127),
    source=st.text(max_size=8),
    sure=st.booleans(),
)
NOTES = st.lists(NOTE, max_size=12, unique_by=lambda note: note.started_s).map(tuple)
TERMS = st.builds(
    Terms,
    stage=st.sampled_from(Stage),
    pulse=st.sampled_from(Pulse),
    tempo_bpm=st.none() | st.floats(20, 400),
    beat_length=st.sampled_from([Fraction(1), Fraction(3, 2), Fraction(1, 2)]),
    swing=st.floats(1, 3),
    waits=st.booleans(),
    wants_home=st.booleans(),
    pitch_counts=st.booleans(),
    window_ms=st.none() | st.floats(1, 500),
    settling=st.booleans(),
    self_marked=st.booleans(),
)
SIGHTING = st.builds(Sighting, nth=st.integers(1, 99), heard=st.booleans(), known_by_ear=st.none() | st.booleans())
EVENT = st.builds(TakeEvent, kind=st.sampled_from(EventKind), n=st.none() | st.integers(1, 99), time_ms=MS)
