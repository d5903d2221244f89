"""What each sentence of the coach claims, worked out from what was known before, what was played and is known after.

It does not ask the code that chose the sentence: shares are counted here.
"""

import pytest

from game.coach.decisions import Offer
from game.coach.marks import Mark
from game.coach.numbers import NUMBERS
from game.coach.stages import Pulse, Stage
from game.coach.tempo.steady_tempo import quantile


class Seen:
    """What a sentence was made from: the record before and after, the take (None where a passage was opened)."""

    def __init__(self, before, state, result, decision):
        self.before, self.result, self.decision = before, result, decision
        self.record = state.records[decision.passage]
        self.said_values = {}
        self.belief, self.bpm = self.record.belief, decision.tempo_bpm
        self.played = None if result is None or result.tempo_bpm is None else round(result.tempo_bpm)

    @property
    def steady(self):
        return quantile(self.belief, 1 - NUMBERS.hold_chance)

    def reaches(self, count):
        """Nine in ten; under 20 notes all but one."""
        asked = self.result.homes
        return asked - count <= 1 if asked < 20 else count >= 0.9 * asked

    @property
    def notes_hold(self):
        return self.reaches(self.result.clean + len(self.result.other_place_notes))

    @property
    def time_holds(self):
        return self.reaches(self.result.clean - self.result.off_time + len(self.result.other_place_notes))

    @property
    def right_share(self):
        return (self.result.clean + len(self.result.other_place_notes)) / self.result.homes

    @property
    def stopped(self):
        return self.result.stops > 0 or self.result.unread > 0

    @property
    def mostly_off(self):
        return self.result.off_time > self.result.clean / 2

    @property
    def in_time(self):
        return self.result.clean - self.result.off_time

    def begins(self, stage, pulse):
        """This stage comes next, at the tempo that is said."""
        return (self.decision.stage, self.decision.pulse) == (stage, pulse)

    @property
    def surely_read(self):
        """By a standard error or so (0.84) over 0.85, of all that was read and not only repeated."""
        read = self.record.read
        return self.surely(read.right / read.asked, read.asked)

    @staticmethod
    def surely(share, asked):
        z = 0.8416
        per = z * z / asked
        return (share + per / 2 - (per * (share * (1 - share) + per / 4)) ** 0.5) / (1 + per) >= 0.85 - 1e-6

    @property
    def agreeing(self):
        """Sign-offs of earlier days in which no note was wrong that is wrong in the newest."""
        *earlier, newest = self.record.sign_offs
        return [one for one in earlier if one.day < newest.day and not one.wrong_notes & newest.wrong_notes]

    @property
    def counted(self):
        """What the first sentence after a take counts."""
        right = self.result.clean + len(self.result.other_place_notes)
        return self.in_time if self.result.stage is Stage.RHYTHM else right


def reported(how_many, *, timed, without_a_stop=False, in_pitch=False, rhythm=False):
    """The claims of a report of a take."""

    def is_true(s):
        asked, values = s.result.homes, s.said_values
        counts = {"all": s.counted == asked, "none": s.counted == 0, "some": 0 < s.counted < asked}[how_many]
        told = {"all": {"count": asked}, "none": {"asked": asked}, "some": {"count": s.counted, "asked": asked}}
        whole = not (s.result.stops or s.result.restarts or s.result.unread)
        return (
            counts
            and told[how_many].items() <= values.items()
            and values.get("bpm") == (s.played if timed else None)
            and (whole or not without_a_stop)
            and bool(s.result.other_place_notes) == in_pitch
            and (s.result.stage is Stage.RHYTHM) == rhythm
        )

    return is_true


REPORTS = {
    f"coach.{how_many}_{what}{how}": reported(
        how_many, timed=bool(how), without_a_stop="stop" in how, in_pitch="pitch" in what, rhythm="time" in what
    )
    for how_many in ("all", "some", "none")
    for what in ("right", "right_in_pitch", "in_time")
    for how in ("", "_at", "_at_without_a_stop")
}


LOWEST = NUMBERS.lowest_bpm
CLAIMS = {
    "coach.tempo_faster": lambda s: s.bpm > s.played and s.notes_hold and s.time_holds and s.result.kept_going,
    "coach.tempo_again": lambda s: s.bpm == s.played,
    "coach.too_fast_slower": lambda s: s.bpm < s.played and s.steady < s.played,
    "coach.wished_slower": lambda s: s.bpm < s.played <= s.steady + 1,
    "coach.over_target": lambda s: s.bpm <= max(round(s.record.facts.target_bpm * 1.1), LOWEST) < s.played,
    "coach.fell_apart_slower": lambda s: s.right_share < 0.75 and s.bpm < s.played,
    "coach.fell_apart_again": lambda s: s.right_share < 0.75 and s.bpm == s.played == LOWEST,
    "coach.stopped_slower": lambda s: s.stopped and s.bpm < s.played,
    "coach.stopped_again": lambda s: s.stopped and s.bpm == s.played,
    "coach.began_again_slower": lambda s: s.result.restarts and not s.stopped and s.bpm < s.played,
    "coach.began_again_again": lambda s: s.result.restarts and not s.stopped and s.bpm == s.played,
    "coach.off_beat_slower": lambda s: s.notes_hold and s.mostly_off and s.bpm < s.played,
    "coach.off_beat_again": lambda s: s.notes_hold and s.mostly_off and s.bpm == s.played,
    "coach.timing_slower": lambda s: s.notes_hold and not s.time_holds and s.bpm < s.played,
    "coach.timing_again": lambda s: s.notes_hold and not s.time_holds and s.bpm == s.played > LOWEST,
    "coach.timing_lowest": lambda s: s.notes_hold and not s.time_holds and s.bpm == s.played == LOWEST,
    "coach.not_clean": lambda s: not s.notes_hold and s.bpm == s.played,
    "coach.not_clean_enough": lambda s: (
        s.bpm == s.played and sum(t.right for t in s.record.recent) < 0.9 * sum(t.asked for t in s.record.recent)
    ),
    "coach.lowest": lambda s: s.bpm == LOWEST and (s.played is None or s.played <= LOWEST),
    "coach.settling": lambda s: s.bpm <= max(s.belief.bpm, LOWEST) and s.record.takes_today == 4,
    "coach.at_target": lambda s: s.bpm == s.record.facts.target_bpm and not s.record.takes_today,
    "coach.new_day": lambda s: 0.8 * s.belief.bpm - 1 <= s.bpm <= s.belief.bpm and not s.record.takes_today,
    "coach.near_target": lambda s: 0.75 * s.record.facts.target_bpm <= s.bpm <= 1.1 * s.record.facts.target_bpm,
    "coach.as_last_time": lambda s: (
        s.bpm <= max(s.record.last_bpm, s.record.held_bpm or 0) and not s.record.takes_today
    ),
    "coach.step_on": lambda s: s.bpm > s.record.last_bpm and not s.record.takes_today,
    "coach.rhythm_alone": lambda s: s.notes_hold and s.mostly_off and s.begins(Stage.RHYTHM, Pulse.METRONOME),
    "coach.rhythm_alone_timing": lambda s: (
        s.notes_hold and not s.time_holds and s.before.out_of_time >= 1 and s.begins(Stage.RHYTHM, Pulse.METRONOME)
    ),
    "coach.rhythm_alone_off_beat": lambda s: s.mostly_off and s.before.out_of_time >= 1,
    "coach.back_to_places": lambda s: s.played <= LOWEST and s.right_share < 0.75 and s.steady < LOWEST,
    "coach.easier_after_fall": lambda s: s.played <= LOWEST and s.right_share < 0.75 and s.before.fell_back > 0,
    "coach.false_start": lambda s: 0 < s.result.homes < 8 and s.result.unread > s.result.homes,
    "coach.begun_and_left": lambda s: s.record.false_starts == s.said_values["count"] >= 5,
    "coach.enough_for_today": lambda s: s.record.takes_today == s.said_values["count"] >= 5,
    "coach.easier_after_tries": lambda s: s.record.tries >= 3 and s.decision.offer is Offer.EASIER,
    "coach.same_once_more": lambda s: s.result.homes == 0 and s.decision.offer is Offer.AGAIN,
    "coach.places_after_rhythm": lambda s: (
        s.result.stage is Stage.RHYTHM and s.in_time >= 0.85 * s.result.homes and s.begins(Stage.PLACES, Pulse.FREE)
    ),
    "coach.free_not_sure": lambda s: s.begins(Stage.TIME, Pulse.FREE) and not s.surely(s.right_share, s.result.homes),
    "coach.to_the_end": lambda s: s.result.unread > 0,
    "coach.places_again": lambda s: s.begins(Stage.PLACES, Pulse.FREE),
    "coach.not_sure": lambda s: not s.surely_read or s.record.fell_back > 0,
    "coach.not_quick": lambda s: (
        (s.surely_read or not s.result.wrong_notes) and s.said_values["seconds"] == pytest.approx(60 / 50)
    ),
    "coach.find_all": lambda s: s.record.fell_back > 0 and s.surely_read and len(s.result.wrong_notes) > 0,
    "coach.time_again": lambda s: s.right_share < 0.85 or s.result.unread > 0,
    "coach.rhythm_again": lambda s: s.in_time < 0.85 * s.result.homes,
    "coach.once_more_another_day": lambda s: len({one.day for one in s.record.sign_offs}) == 1,
    "coach.same_note_twice": lambda s: len({one.day for one in s.record.sign_offs}) > 1 and not s.agreeing,
    "coach.same_note_away": lambda s: (
        len({one.day for one in s.record.sign_offs}) > 1 and not s.agreeing and bool(s.result.other_place_notes)
    ),
    "coach.signed_off": lambda s: len(s.agreeing) > 0 and s.played >= s.record.facts.target_bpm,
    "coach.still_signed_off": lambda s: (
        Mark.SIGNED_OFF in s.before.marks and s.reaches(s.in_time) and s.played >= s.record.facts.target_bpm
    ),
    "coach.as_you_wish": lambda s: s.result is None,
    "coach.another_as_wished": lambda s: s.result is None and s.decision.offer is Offer.SIBLING,
    "coach.free_as_wished": lambda s: s.result is None and s.decision.pulse is Pulse.FREE and s.bpm is None,
    "coach.sight_over": lambda s: s.result.stage is Stage.SIGHT and s.decision.offer is Offer.SIBLING,
    "coach.letters_again": lambda s: (
        (s.right_share < 0.95 or s.result.homes < 8) and s.begins(Stage.LETTERS, Pulse.FREE)
    ),
    "coach.begin.letters": lambda s: s.begins(Stage.LETTERS, Pulse.FREE),
    "coach.begin.places": lambda s: s.begins(Stage.PLACES, Pulse.FREE),
    "coach.begin.rhythm": lambda s: s.begins(Stage.RHYTHM, Pulse.FREE),
    "coach.begin.time": lambda s: s.begins(Stage.TIME, Pulse.FREE),
    "coach.begin_at.rhythm": lambda s: s.begins(Stage.RHYTHM, Pulse.METRONOME) and s.bpm == s.said_values["bpm"],
    "coach.begin_at.time": lambda s: s.begins(Stage.TIME, Pulse.METRONOME) and s.bpm == s.said_values["bpm"],
    "coach.nothing_read": lambda s: s.result.homes == 0,
    "coach.no_slower": lambda s: s.bpm == LOWEST,
    "coach.no_faster": lambda s: s.bpm == NUMBERS.highest_bpm,
} | REPORTS
