"""Every number the coach goes by, in one table.

Where no source is named the number is ours, from teachers' practice, and may be changed: pass another
`CoachNumbers`. Tempi are in the metre's own beat (a dotted quarter in 6/8). Spreads of tempo are standard
deviations of its natural logarithm: 0.05 is about 5 %.
"""

from dataclasses import dataclass


@dataclass(frozen=True, slots=True, kw_only=True)
class CoachNumbers:
    """The table. Shares and chances lie between 0 and 1, both ends out."""

    # What counts as reading.
    sightings_read: int = 2  # after a few takes a passage is known by heart
    takes_a_day: int = 5  # then bars in another order do more than the same ones again
    false_starts_a_day: int = 5  # so often begun and left: other music does more
    self_marked_trust: float = 0.5  # a note marked by its own player counts half

    # Readiness for the metronome.
    confidence_z: float = 0.8416  # one-sided 80 % of the normal distribution (standard table)
    ready_share: float = 0.85  # lower bound of accuracy: one wrong in 16, three in 32
    quick_share: float = 0.80  # four notes of five ...
    quick_at_bpm: float = 50.0  # ... found within the passage's usual note length at this tempo
    pause_s: float = 10.0  # who is silent longer is not looking for the note: by then its place has been shown
    go_on_share: float = 0.85  # of the rhythm in time, or of the pitches in free time, before the next demand
    tries_before_help: int = 3  # takes that do not pass before the passage is changed for an easier one

    # The steady tempo.
    target_share: float = 0.90  # near the 0.84 that teaches fastest in two-choice tasks (Wilson et al. 2019), and clean
    slopes: tuple[float, ...] = (
        4.0,
        6.5,
        10.0,
        16.0,
        30.0,
    )  # of the logit over log tempo; nearly equal steps, all equally likely; the last for passages that go or do not
    lapses: tuple[float, ...] = (0.005, 0.02, 0.05)  # left out, the threshold is biased (Prins 2012)
    first_tempo_margin: float = 0.20  # a first tempo is meant to be safe: the steady one is guessed this far above
    first_tempo_spread: float = 0.35  # and the guess may well be off by a third
    like_passage_spread: float = 0.20  # what differs between passages of one density, notes a second
    like_density_width: float = 0.40  # how near in log density a passage must be to count as alike
    known_spread: float = 0.15  # a passage teaches about others once its own estimate is this sharp
    inattention: float = 0.10  # chance that a take says nothing of the tempo: the mind was elsewhere
    told_as_inattention: float = 0.5  # likelier than not, and the take is no evidence against a rise either
    overdispersion: float = 0.002  # correlation of the notes of one take: it is a good one or a bad one as a whole
    least_notes: int = 8  # a take broken off sooner is a false start, and moves nothing
    heard_share: float = 0.80  # of the notes played so many must be heard surely, or the take counts for nothing (ours)
    take_drift: float = 0.015  # what one take may change: learning and tiring
    night_drift: float = 0.03  # what a night may change; grows with the root of the days away ...
    night_drift_most: float = 0.15  # ... up to this
    change_chance: float = 0.04  # and seldom something changes at once: tired, another guitar, suddenly understood ...
    change_spread: float = 0.15  # ... by so much, up or down

    # The next tempo.
    lowest_bpm: int = 30  # clicks farther apart are hard to follow (Repp 2006: 33); below 60 they come on eighths
    give_up_chance: float = (
        0.10  # of holding the lowest: with less the metronome is given up when a take falls apart ...
    )
    hopeless_share: float = 0.25  # ... and with less than an even chance when so few notes of it were right
    slow_chances: int = 2  # so often at most is a click tried with somebody slower than `quick_at_bpm`
    bridge_bpm: int = 50  # one written note a click, where no tempo was named
    highest_bpm: int = 300
    hold_chance: float = 0.5  # the fastest tempo that holds the target share with an even chance
    close_spread: float = 0.06  # the estimate is close when it is sharper than this
    close_step: float = 0.08  # most it rises at once when close
    far_step: float = 0.25  # and while far off
    fell_apart_share: float = 0.75  # under this share of right pitches a take fell apart
    retreat: float = 0.10  # least it comes down then, at once
    recent_takes: int = 3  # no rise while these together lie surely below the target share
    on_time_share: float = 0.50  # with fewer of the right notes in time than this the take was beside the beat
    stops_in_a_row: int = 2  # takes with a stop before the tempo comes down for it
    off_time_in_a_row: int = 3  # takes short of time before the click comes slower or the rhythm is taken alone
    new_day_share: float = 0.92  # of the steady tempo
    over_own_pace: float = (
        1.1  # the first tempo is at most so far over the player's own pace, and a new day's share of it at least
    )
    settling_share: float = 0.85  # of the steady tempo, the last take of the day
    over_target: float = 1.10  # practice goes this far over the target tempo, so that the target is comfortable (trade)
    wish_step: float = 0.08  # what "slower" and "faster" change at once
    wish_learned: float = 0.03  # and what they leave for the takes after ...
    wish_most: float = 0.12  # ... up to this in all
    wish_fades: float = 0.9  # a timed take leaves this much of it

    # Marks.
    sign_off_share: float = 0.95
    one_wrong_under: int = 20  # notes: in a shorter passage one wrong note is let pass
    sign_off_days: int = 2
    sign_off_hours: int = 6  # and so much apart, a night between: late in the evening and after midnight is one sitting
    mark_notes: int = 8  # fewer notes than this cannot be signed off, and are in time only with every one of them

    # Notes as items.
    reading_keeps: float = 0.93  # each new reading of a note leaves this much of the older ones: about 14 count
    evidence_half_life_days: float = 30.0  # and a month leaves half
    right_before: float = 1.6  # what is believed of a note never read: four of five right ...
    wrong_before: float = 0.4  # ... with the weight of two readings
    usual_find_s: float = 1.5  # a note never read is found as fast as a fluent map asks of every home (design) ...
    find_before: float = 1.0  # ... with the weight of one reading
    find_spread: float = 0.45  # spread of log time from one finding of a note to the next ...
    find_spread_before: float = 4.0  # ... with the weight of so many readings
    one_sided: float = 0.20  # bounds of an item's accuracy and time hold with 80 % to either side, as readiness does
    quickest_find_s: float = 0.15  # faster is a note that was under the fingers, not one that was looked for

    # What comes up more.
    wrong_costs: float = 2.0  # a wrong note costs as much again as finding it twice
    weight_power: float = 1.5  # a note that costs twice the usual comes up nearly three times as often
    weight_least: float = 0.3
    weight_most: float = 8.0
    single_notes_slow_share: float = 0.85  # of single notes are slow ones, however few: else they drown in the rest
    new_a_day: int = (
        3  # so many notes are met for the first time on one day: a new one has to come up often to stay ...
    )
    unsure_most: int = 3  # ... and while more of those met are slow or unsure ...
    new_while_unsure: int = 1  # ... hardly any
    melodies_among_rows: float = 0.34  # of the lines for slow notes: one in three is a tune with them in it
    single_notes_power: float = 4.0  # and of them a note that costs a fifth more comes twice as often
    keys_in_turn: int = 4  # so many keys take turns at most in lines for slow notes, a block or a day each
    due_weight: float = 3.0  # a note whose review is due comes up at least so often
    doubt: float = 0.5  # standard deviations towards the worse: what is not known is looked at
    slow_notes: int = 10  # so many are named and practised at a time
    slow_readings: int = 2  # what was read less often tells nothing of how long a note takes ...
    often_wrong_readings: int = 3  # ... nor of how often it is wrong
    slow_find_s: float = 1.5  # a home slower than this is slow (design: no home of a fluent map is) ...
    ink_finds: int = 3  # so often found faster than this, unhelped, on two days, once inside music: ink (design)
    slow_right: float = 0.90  # and so is one that costs as much, wrong answers counted, as this one right so often

    # A fluent map (design): 0.90 at first sight in eighths at 60 on three of five days, no home slower than
    # `slow_find_s`.
    fluent_share: float = 0.90
    fluent_bpm: float = 60.0  # quarter notes a minute ...
    fluent_pace_slack: float = 0.05  # ... and as much slower is still that pace: nobody plays by a hundredth
    fluent_eighths_share: float = 0.25  # of the notes come an eighth after the one before, or it is no music in eighths
    fluent_days: int = 3
    fluent_of_days: int = 5
    fluent_day_notes: int = 16  # of fewer notes at first sight a day tells nothing: two bars of eighths
    same_map_moves: int = 3  # with more homes moved than this it is another map, which has to be read anew
    map_days_kept: int = 40  # days of practice on each map

    # From one map to the next.
    known_letter_find: float = 0.8  # of the usual time a note takes whose letter is known: only its place is new
    known_letter_readings: int = 3  # a letter is known that was read so often on another map ...
    known_letters_share: float = 0.5  # ... and with so many letters of a map known, more are met in a day
    new_a_day_known_letters: int = 6
    near_all_met: float = 0.8  # of a further map: until so many homes are met, its lines are made of those
    mixed_most: int = 2  # of three days; on the third one map is read alone, or nothing tells what mixing costs
    mixed_of_days: int = 3
    mixed_share: float = 0.2  # of a day's notes lie on another map, or it is a day of one map with a warm-up
    mixed_least_days: int = 3  # alone and mixed; of fewer days, or fewer notes, nothing is said of what mixing costs
    mixed_least_found: int = 30
    other_map_due: int = 3  # so many notes due on a fluent map that is not read now have a warm-up ...
    other_map_days: int = 3  # ... on every so manieth day
    next_map_new_homes: float = 0.5  # of the homes of a next position lie where there is no home yet
    postponed_days: int = 7  # a next map that was put off is proposed again after so many days

    # Days between: what a day's readings of a note are worth as a rating of `fsrs`.
    failed_share: float = 0.50  # right at most so often: "again"
    quick_find_s: float = 0.70  # all right, and found faster than this: "easy"; slower than `slow_find_s`: "hard" ...
    easy_readings: int = 3  # ... from so many readings on
    # And a day's first timed take of a signed-off passage.
    easy_over_target: float = 1.05  # every note clean at this much over the target tempo: "easy"
    hard_tempo_share: float = 0.92  # of the target tempo, or `target_share` clean: "hard", less than both is "again"

    # Today's plan, in minutes. The shares are those of a day of twenty.
    plan_minutes: int = 20
    plan_fewest: int = 5
    plan_most: int = 90
    plan_short: int = 10  # a day so short reaches its passage even where all before it took its minutes
    warm_up_minutes: int = 1
    first_sight_share: float = 2.5
    first_sight_most: int = 3  # a line is over in a minute and a half, a tune in three
    slow_notes_share: float = 3.0
    slow_note_share: float = 0.3  # and as much more for each note that is slow ...
    notes_most_share: float = 1 / 3  # ... up to so much of the day, warm-up included: notes alone are no music
    passage_share: float = 6.0
    course_share: float = 5.0
    new_tune_share: float = 4.0
    signed_off_share: float = 3.0
    free_reading_minutes: int = 3  # a line or two in any place, at the end of a day ...
    free_reading_from: int = 15  # ... of so many minutes: on a shorter one the map itself comes first
    step_least: int = 2  # a step shorter than this is left out of a short day
    block_most: int = 6  # blocks on slow notes and a passage are short: longer ones take turns
    rest_after: int = 25  # a rest of five minutes (trade, see Health in the check values)
    rest_minutes: int = 5
    rest_least: int = 12  # who skipped so much that less was played since the last rest needs none yet
    stretched_most: float = 2.0  # what was skipped makes the steps left at most so much longer
    first_day_minutes: int = 10  # is enough for five notes and their tune
    first_day_shares: tuple[float, float, float] = (2.0, 6.0, 2.0)  # the notes are for the tune
    sight_after_met: int = 5  # pitches: the easiest line has five
    melody_spans: tuple[int, ...] = (5, 8)  # so many neighbouring notes have lines of the levels for those who begin
    own_over_level: float = 3.0  # and one of the player's own, which they chose, by so much
    passage_stale_days: int = 14  # a tune left aside for so long, while others were played, keeps no new one back
    signs_at_first: int = 2  # lines for slow notes are in as many keys as bear so few signs, one more for two levels
    signs_most: int = 6  # whatever the level
    tune_over_level: float = 1.0  # a new tune may be so much harder than the level of the player's lines ...
    lead_over_level: float = (
        3.5  # ... and a lead sheet, which is what it is all for, by so much: at first a level is little
    )
    lead_sheet_evening: int = 6  # from this evening on lead sheets and songs take turns for who begins: the second week
    turn_under_level: float = 2.0  # what is easier than the level by more has no turn: it is no reading any more
    lead_sheets_kept: int = 3  # while so few are within reach they are learned, and not spent at first sight

    # Placing a new player: levels are those of fresh lines.
    placing_notes: int = 12
    placing_lines: int = 2
    placing_gives_up: int = 4  # first notes in a row, all wrong, and the test is over: begin with the letters
    placing_level: float = 3.0  # what is believed before: about here ...
    placing_spread: float = 2.5  # ... with this standard deviation
    placing_share: float = 0.80  # of the notes are found in time at one's own level
    placing_slope: float = 1.1  # of the logit, a level
    placing_lapse: float = 0.04
    placing_quick_s: float = 3.0  # a note counts when it is found within this: no beginner is held to a fluent pace
    placing_line_note: float = 0.3  # a note of a line weighs less than one alone: it leans on its neighbours
    placing_letters_share: float = 0.60  # who gets fewer than this right, however slowly, begins with the letters
    placing_time_s: float = 0.9  # who finds half of the notes faster than this begins in time ...
    placing_time_share: float = 0.90  # ... if so many are right


NUMBERS = CoachNumbers()
