"""A take in free time under way."""

from game.coach.stages import Stage
from game.instrument.decoding.played import PlayedNote
from game.judging.verdicts import Verdict
from game.neck.neck_map import standard_map
from game.practice.clock_gap import ClockGap
from game.practice.free_take import FreeTake
from tests.made import passage
from tests.practice.noted import Noted

MAP = standard_map()
LINE = passage("F4 q, G4 q, A4 q, Bb4 q", "C5 h, D5 h")
SOUNDINGS = (53, 55, 57, 58, 60, 62)
ONSETS = (0.0, 1.0, 2.0, 3.0, 4.0, 6.0)


def begun(stage: Stage = Stage.TIME) -> FreeTake:
    return FreeTake(passage=LINE, neck_map=MAP, stage=stage, recorder=Noted())


def note(sounding: int, at_s: float) -> PlayedNote:
    home = MAP.home_of(sounding)
    return PlayedNote(started_s=at_s, sounding=sounding, place=home.place if home else None)


def play(take: FreeTake, *soundings: int, start_s: float = 10.0, quarter_s: float = 0.5) -> None:
    for sounding, onset in zip(soundings, ONSETS, strict=False):
        take.hear(note(sounding, start_s + onset * quarter_s))


def test_a_line_at_ones_own_pace_is_clean_and_its_tempo_is_the_players():
    take = begun()
    play(take, *SOUNDINGS, quarter_s=0.5)
    finished = take.end()
    assert (finished.clean_count, finished.tempo_bpm) == (6, None)
    assert finished.usual_bpm is not None
    assert abs(finished.usual_bpm - 120) < 0.5


def test_the_page_looks_at_the_note_after_the_one_played_up_to_three_ahead():
    take = begun()
    play(take, 53)
    assert take.at == 1
    take.hear(note(58, 11.0))
    assert take.at == 4, "two were left out"
    take.hear(note(70, 11.5))
    assert take.at == 4, "a note that is nowhere near leads nowhere"


def test_where_pitch_does_not_count_any_note_leads_on():
    take = begun(Stage.RHYTHM)
    for count in range(8):
        take.hear(note(64, 10.0 + count))
    assert take.at == 6


def test_it_is_over_soon_after_its_last_note_and_after_eight_seconds_of_silence_anywhere_else():
    take = begun()
    assert not take.is_over(1000.0), "it has not begun"
    play(take, *SOUNDINGS[:2], start_s=10.0, quarter_s=0.5)
    assert not take.is_over(18.4)
    assert take.is_over(18.5)
    play(take, *SOUNDINGS[2:], start_s=20.0)
    last_s = 20.0 + 3.0 * 0.5
    assert not take.is_over(last_s + 1.19)
    assert take.is_over(last_s + 1.21)


def test_time_in_which_the_instrument_was_away_is_left_out_of_the_take():
    take = begun()
    play(take, *SOUNDINGS[:3], quarter_s=0.5)
    take.pause(11.5)
    take.pause(20.0)
    assert not take.is_over(100.0)
    for sounding, at_s in zip(SOUNDINGS[3:], (71.5, 72.0, 73.0), strict=True):
        take.hear(note(sounding, at_s))
    finished = take.so_far()
    assert [played.started_s for played in finished.played] == [10.0, 10.5, 11.0, 11.5, 12.0, 13.0]
    assert finished.clean_count == 6
    assert not take.is_over(74.0)
    assert take.is_over(74.2)


def test_a_note_that_turns_out_to_be_another_leads_where_that_one_does():
    take = begun()
    wrong = note(54, 10.0)
    take.hear(wrong)
    assert take.at == 0
    take.revise(wrong, note(53, 10.0))
    assert take.at == 1
    take.revise(note(53, 10.0), None)
    assert (take.at, take.heard_anything) == (0, False)
    take.revise(note(53, 10.0), None)
    assert take.recorder.kinds == ["played", "revised", "revised"], "what was never heard is not revised"


def test_each_note_is_written_down_as_it_comes_and_the_end_once():
    take = begun()
    play(take, 53, 55)
    finished = take.end()
    assert take.recorder.kinds == ["played", "played", "ended"]
    assert take.recorder.calls[-1][1] == finished
    assert [verdict.verdict for verdict in finished.judgement.verdicts[2:]] == [Verdict.UNREAD] * 4


def test_a_game_that_stood_still_pauses_a_take_that_nobody_was_heard_in_meanwhile():
    take = begun()
    play(take, *SOUNDINGS[:3])
    gap = ClockGap(from_s=11.2, until_s=31.2, asleep=False)
    assert take.stood_still(gap)
    assert not take.is_over(100.0), "it waits for the next note"
    for index, sounding in enumerate(SOUNDINGS[3:]):
        take.hear(note(sounding, 40.0 + index * 0.5))
    assert take.end().clean_count == 6


def test_who_was_heard_while_the_game_stood_still_plays_on_and_so_does_who_may_rest():
    take = begun()
    play(take, *SOUNDINGS[:3])
    assert not take.stood_still(ClockGap(from_s=10.8, until_s=20.0, asleep=False))
    assert not take.stood_still(ClockGap(from_s=11.2, until_s=13.0, asleep=False))
    assert not begun().stood_still(ClockGap(from_s=11.2, until_s=99.0, asleep=False))


def test_a_computer_that_slept_pauses_a_take_though_the_clock_stood_still_with_it():
    take = begun()
    play(take, *SOUNDINGS[:3])
    assert take.stood_still(ClockGap(from_s=11.2, until_s=11.2, asleep=True))
