"""The next map is another position, that position joined to the map, or concert pitch; and each says why."""

from datetime import date, timedelta

from game.coach.notes.fluent_map import map_fluency
from game.coach.plan.next_map import (
    NextMapAnswer,
    NextMapKind,
    NextMapSaid,
    fluent_told,
    is_proposed,
    lacking_told,
    next_maps,
)
from game.music.score import Reading
from game.neck.melody_counts import MelodyCounts, melody_counts
from game.neck.neck_map import standard_map
from game.text.catalogue import tell
from tests.coach.judged_takes import MAP
from tests.coach.notes.test_fluent_map import SLOW, WELL, known

TODAY = date(2026, 11, 24)
WITHIN = melody_counts([[60, 62, 64, 65, 67, 65, 64, 62] * 4])
HIGH = melody_counts([[67, 69, 71, 72, 74, 76, 77, 76, 74, 72] * 4])
LOW = melody_counts([[48, 45, 43, 41, 40, 41, 43, 45] * 4])


def kinds(found):
    return [one.kind for one in found]


def test_the_position_is_the_one_that_holds_most_notes_beyond_the_map():
    high, low = next_maps(MAP, HIGH)[0].neck_map, next_maps(MAP, LOW)[0].neck_map
    for chosen, counts in ((high, HIGH), (low, LOW)):
        beyond = [sounding for sounding in counts.counts if sounding not in MAP.places]
        assert beyond
        assert all(sounding in chosen.places for sounding in beyond)
    assert high.position > MAP.position > low.position


def test_half_of_its_homes_at_least_lie_where_there_is_no_home_yet():
    for counts in (WITHIN, HIGH, LOW, MelodyCounts()):
        chosen = next_maps(MAP, counts)[0].neck_map
        new = [home for home in chosen.homes if home.place not in MAP.places.values()]
        assert 2 * len(new) >= len(chosen.homes)


def test_a_joined_map_is_proposed_only_where_tunes_go_beyond_the_map():
    assert kinds(next_maps(MAP, HIGH)) == [NextMapKind.POSITION, NextMapKind.JOINED, NextMapKind.CONCERT]
    assert kinds(next_maps(MAP, WITHIN)) == [NextMapKind.POSITION, NextMapKind.CONCERT]
    joined = next_maps(MAP, HIGH)[1]
    assert joined.neck_map.second is not None
    assert joined.neck_map.second.position == next_maps(MAP, HIGH)[0].neck_map.position


def test_positions_that_are_known_already_are_not_proposed():
    first = next_maps(MAP, HIGH)[0].neck_map
    second = next_maps(MAP, HIGH, [first])[0].neck_map
    assert second.position not in (MAP.position, first.position)


def test_concert_pitch_is_proposed_once_and_to_who_reads_an_octave_higher():
    concert = MAP.with_reading(Reading.CONCERT)
    assert NextMapKind.CONCERT not in kinds(next_maps(MAP, WITHIN, [concert]))
    assert NextMapKind.CONCERT not in kinds(next_maps(concert, WITHIN))
    assert next_maps(MAP, WITHIN)[-1].neck_map == concert


def test_after_a_joined_map_no_third_region_is_proposed():
    joined = next_maps(MAP, HIGH)[1].neck_map
    assert kinds(next_maps(joined, HIGH)) == [NextMapKind.CONCERT]


def test_every_reason_is_a_sentence():
    for counts in (WITHIN, HIGH, LOW, MelodyCounts()):
        for one in next_maps(MAP, counts):
            assert all(tell(reason).endswith(".") for reason in one.reasons)


def test_the_first_reason_counts_what_the_position_holds_of_the_notes_beyond_the_map():
    told = tell(next_maps(MAP, HIGH)[0].reasons[0])
    beyond = sum(times for sounding, times in HIGH.counts.items() if sounding not in MAP.places)
    assert f"Of {beyond} notes" in told
    assert f"holds {beyond}" in told


def test_it_is_proposed_once_again_a_week_after_it_was_put_off_and_never_after_a_no():
    week = timedelta(days=7)
    assert is_proposed(None, TODAY)
    for answer, at_once, later in (
        (NextMapAnswer.POSTPONED, False, True),
        (NextMapAnswer.DECLINED, False, False),
        (NextMapAnswer.ACCEPTED, False, False),
    ):
        said = NextMapSaid(answer, TODAY)
        assert (is_proposed(said, TODAY), is_proposed(said, TODAY + week)) == (at_once, later)


def test_what_is_said_of_a_map_that_is_fluent_counts_its_notes_and_says_where_no_places_were_told():
    told = tell(fluent_told(map_fluency(known(), MAP), "Position V"))
    assert "84 of 90 notes" in told
    assert "by pitch" not in told
    by_pitch = known(days=[{**WELL, "placed": False}] * 3)
    assert "by pitch" in tell(fluent_told(map_fluency(by_pitch, MAP), "Position V"))


def test_what_a_map_lacks_is_said_in_numbers():
    slow = {f"s{sounding}": SLOW for sounding in range(50, 61)}
    told = tell(lacking_told(map_fluency(known(**slow), MAP), "Position V"))
    assert told == "Position V: 11 of 30 homes are still slow or not met."
    few_days = tell(lacking_told(map_fluency(known(days=(WELL,)), MAP), "Position V"))
    assert "1 of 3 days" in few_days
    both = tell(lacking_told(map_fluency(known(days=(), **slow), standard_map()), "Position V"))
    assert "11 of 30" in both
    assert "0 of 3 days" in both
