"""The numbers of the follower, in one place.

Costs are negative logarithms (nats) of how likely a thing is, relative to a right note in its place and in time. They
are ours, set on simulated players and read on others.
"""

MISSED, EXTRA, WRONG, OTHER_PLACE = 3.0, 7.0, 4.5, 0.7
EXTRA_AGAIN, EXTRA_MENDS = 5.0, 2.0
"""A note too many of the pitch just played: a bounce, a tremolo, a hesitation; and the right one after a wrong one."""

SHIFT, SHIFT_LOG, SHIFT_AHEAD = 5.0, 1.0, 2.0
"""The player goes on with the next note at another time: hesitates or stops; each e-fold beyond 0.1 s; and where that
is earlier."""

JUMP, SKIP_EACH, BACK_EACH = 10.0, 0.3, 0.1
"""Goes on elsewhere, and for each note passed over or gone back."""

AHEAD_ON_SKIP, AHEAD_ON_RETURN = 3.0, 20.0
"""A skip costs more where the player comes later than due, a return where they would have had no time for it."""

REJOIN_GAIN, BAR_GAIN = 3.0, 1.5
"""What a jump gains by coming back to a time kept before, and by landing on the first note of a bar."""

QUIT, QUIT_EACH = 8.0, 0.01
VARIANCE_S2, FREE_S2 = 0.033**2, 0.040**2
"""The spread of a note about the player's own clock, and the spread that costs nothing."""

WRONG_TELLS_LESS = 4.0
"""By so much is the variance of a wrong note larger: it says less of the clock."""

LEAN_START_S2, RATE_START = 0.080**2, 0.020**2
LEAN_NOISE_S2, RATE_NOISE = 0.010**2, 0.025**2
"""Variances at the start; gained in a second."""

GATE = 2.2**2
"""So many squared deviations off its clock a right note still follows without a question."""

IN_DOUBT = 2.5
"""A step that costs more may as well be a jump."""

FARTHEST_STEP, FARTHEST_JUMP, JUMPERS = 6, 64, 2
LANDINGS, NEAR_BACK, NEAR_AHEAD = 40, 16, 2
"""Where more notes than `LANDINGS` may have been gone to, only those at bar lines and near ones are tried."""
BEAM, BEAM_WIDTH = 24, 11.0
LIVE_BEAM = 12
BEAM_OF_ONE_PITCH = 72
"""Where only the rhythm tells notes apart, all places look alike at first and the right one must not be crowded out."""
LOST_AFTER, LOST_BEAM = 60, 6
"""After so many notes without a foothold a hopeless take is searched more narrowly."""

BACK_UP, LOOK_AHEAD = 6, 3
SOONEST_MEND_S = 0.2
"""Nobody hears a wrong note and puts it right sooner."""

BINS_PER_S = 16
SURE = ((2, 9.0), (4, 7.0), (8, 5.0), (16, 3.0))
"""The search closes after so many right notes running with such a lead over the next best."""

SAME_LEAN_S = 0.15
"""Hypotheses at one note whose leans differ by less will soon be one."""

NEAR_JUMP_S, NEAR_REJOIN_S, NEAR_BAR_LINE_S = 0.04, 0.08, 0.09
LEAST_REACH_S, MOST_REACH_S = 0.3, 0.8
MOST_TO_BAR_LINE = 16
"""So many notes a jump is moved at most."""
