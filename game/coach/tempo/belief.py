"""What is believed of the steady tempo of a passage, as it is kept.

It is a module of its own so that records can be read without the library of numbers, which takes a while to load: who
counts marks reckons no tempo.
"""

from dataclasses import dataclass


@dataclass(frozen=True, slots=True, kw_only=True)
class Belief:
    """How likely each steady tempo is. Make one with `steady_tempo.belief_of`.

    `cells` are the chances, a row of `steady_tempo.GRID` for each pair of slope and lapse, packed as 32-bit floats:
    after some years there are thousands of beliefs. `bpm` is the estimate, their median; `spread` the standard
    deviation of log tempo.
    """

    cells: bytes
    bpm: float
    spread: float
