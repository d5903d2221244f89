"""Several maps with names: kept, used, changed, renamed and withdrawn, on one computer and on two."""

from datetime import UTC, datetime, timedelta

import msgspec
import pytest

from game.clock import HandClock
from game.errors import MapError
from game.music.score import Reading
from game.neck.hand import FrettingHand
from game.neck.neck_map import SecondRegion, standard_map
from game.neck.tuning import TUNINGS, Place
from game.player import player_maps
from game.player.map_facts import LONGEST_MAP_NAME
from game.player.profiles import Profile
from game.player.session import open_session
from game.player.settings import Settings, Stretches
from game.practice_log.rows.entry_rows import About
from game.practice_log.transfer.exchange import exchange
from game.practice_log.transfer.shared_folder import remember_shared
from game.text.catalogue import tell
from game.text.language import LANGUAGE_VARIABLE, choose_language
from tests.player.seated import play_a_take

NOON = datetime(2026, 11, 30, 12, tzinfo=UTC)
# Standard tuning: B3 (59) lies on string 3 at fret 4 and on string 4 at fret 9; C4 (60) on 3 at 5 and 4 at 10 (calc).
B3, C4 = 59, 60
ON_FOUR, C_ON_FOUR = (4, 9), (4, 10)


class Computer:
    """A computer of the player's that shares a folder with the others. Each call is a minute later than the last."""

    minutes = 0

    def __init__(self, folder, cloud):
        folder.mkdir()
        self.folder, self.cloud = folder, cloud
        self.session = None
        self.sit_down()

    def sit_down(self):
        profile = Profile(name="", folder=self.folder, settings_path=self.folder / "settings.json")
        self.session = open_session(profile, HandClock(), now=self.now)
        self.session.begin_practice()

    @classmethod
    def now(cls):
        Computer.minutes += 1
        return NOON + timedelta(minutes=Computer.minutes)

    @property
    def maps(self):
        return self.session.maps

    @property
    def settings(self):
        return self.session.settings

    @property
    def names(self):
        return [one.name for one in self.maps.all]

    def settle(self, **changes):
        self.session.change_settings(msgspec.structs.replace(self.settings, **changes))

    def move(self, sounding, place):
        self.settle(choices={**self.settings.choices, sounding: place})

    def share(self):
        """Leave, bring log and folder together, and come back."""
        assert self.session.close() is None
        remember_shared(self.folder, self.cloud)
        exchange(self.folder / "practice.sqlite", now=self.now(), as_one=True)
        remember_shared(self.folder, None)
        self.sit_down()

    def told(self):
        """What there is, for comparing."""
        return [(one.id, one.name, one.neck_map) for one in self.maps.all], self.maps.current.id, self.settings.choices


@pytest.fixture
def here(tmp_path):
    computer = Computer(tmp_path / "here", tmp_path / "cloud")
    (tmp_path / "cloud").mkdir()
    yield computer
    computer.session.close()


@pytest.fixture
def there(tmp_path, here):
    computer = Computer(tmp_path / "there", here.cloud)
    yield computer
    computer.session.close()


def agree(*computers):
    """Every one hands over what it has, and the first takes what the other had."""
    for computer in (*computers, computers[0]):
        computer.share()
    told = [computer.told() for computer in computers]
    assert all(one == told[0] for one in told)
    return told[0]


def test_the_first_map_has_a_name_by_itself_and_nothing_is_written_for_it(here):
    assert here.names == ["Position V"]
    assert here.maps.current == here.maps.all[0]
    assert not here.maps.current.kept
    assert here.session.log.facts.maps.count == 0


def test_a_name_by_itself_says_what_sets_the_map_apart_and_follows_the_language(here, monkeypatch):
    made = standard_map(position=7, tuning=TUNINGS["drop-d"], reading=Reading.CONCERT)
    name = here.maps.keep("", made).name
    assert name.startswith("Position VII, drop")
    assert "concert" in name
    joined = standard_map(position=5, second=SecondRegion(position=9, seam=64))
    assert here.maps.keep("", joined).name == "Positions V and IX"
    monkeypatch.setenv(LANGUAGE_VARIABLE, "de")
    choose_language()
    named = here.names[0]
    monkeypatch.undo()
    choose_language()
    assert named == "Lage V"


def test_a_map_that_is_kept_beside_the_one_in_use_changes_nothing_until_it_is_used(here):
    nine = here.maps.keep("high up", standard_map(position=9))
    assert here.settings == Settings()
    assert here.names == ["Position V", "high up"]
    here.maps.use(nine.id)
    assert here.settings.position == 9
    assert here.maps.current.name == "high up"


def test_every_part_of_a_map_comes_back_when_it_is_used(here):
    made = standard_map(
        position=7,
        tuning=TUNINGS["dadgad"],
        frets=24,
        reading=Reading.CONCERT,
        choices={62: Place(1, 0)},
        hand=FrettingHand(back=0, on=1, open_strings=True),
        second=SecondRegion(position=12, seam=69),
    )
    here.maps.use(here.maps.keep("odd", made).id)
    assert here.settings.neck_map() == made
    assert here.settings.stretches is Stretches.ON


def test_a_hand_that_the_settings_do_not_know_is_refused_with_a_sentence(here):
    with pytest.raises(MapError) as refused:
        here.maps.keep("wide", standard_map(hand=FrettingHand(span=5)))
    assert "spans four frets" in tell(refused.value.message)
    assert here.names == ["Position V"]


def test_the_map_in_use_follows_a_home_that_is_moved_a_hand_and_a_second_region(here):
    mine = here.maps.keep("mine", here.settings.neck_map())
    here.move(B3, ON_FOUR)
    here.settle(stretches=Stretches.NONE)
    here.settle(second=(9, 67))
    (found,) = here.maps.all
    assert found.id == mine.id
    assert found.neck_map == here.settings.neck_map()
    assert found.neck_map.home_of(B3).place == Place(*ON_FOUR)
    here.settle(choices={})
    assert here.maps.current.neck_map.choices == {}


def test_homes_moved_by_hand_are_there_again_after_another_position(here):
    """Merely going to another position gave them up before there were several maps."""
    here.move(B3, ON_FOUR)
    here.settle(position=9, choices={})
    here.settle(position=7)
    assert here.names == ["Position V", "Position VII"]
    five = here.maps.at(standard_map(position=5))
    assert five.name == "Position V"
    here.maps.use(five.id)
    assert here.settings.choices == {B3: ON_FOUR}
    assert here.names == ["Position V"]


def test_a_position_that_was_only_passed_through_is_not_kept_and_one_that_was_practised_is(here):
    for position in (6, 7, 5):
        here.settle(position=position)
    assert here.names == ["Position V"]
    play_a_take(here.session)
    here.session.log.flush()
    here.settle(position=9)
    assert here.names == ["Position V", "Position IX"]
    assert [one.kept for one in here.maps.all] == [True, False]


def test_a_map_that_was_withdrawn_is_not_kept_again_by_passing_through_it(here):
    play_a_take(here.session)
    here.session.log.flush()
    here.settle(position=9)
    here.maps.withdraw(here.maps.all[0].id)
    here.settle(position=5)
    here.settle(position=9)
    assert here.names == ["Position IX"]


def test_another_tuning_leaves_the_map_with_its_homes_and_takes_it_up_again(here):
    here.move(B3, ON_FOUR)
    here.session.change_settings(here.settings.changed("tuning", "dadgad"))
    assert here.settings.choices == {}
    assert here.maps.all[0].neck_map.choices == {B3: Place(*ON_FOUR)}
    here.maps.use(here.maps.all[0].id)
    assert (here.settings.tuning, here.settings.choices) == ("standard", {B3: ON_FOUR})


def test_a_copy_that_is_used_is_changed_and_the_map_it_was_copied_from_is_not(here):
    first = here.maps.keep("first", here.settings.neck_map())
    copy = here.maps.keep("copy", first.neck_map)
    here.maps.use(copy.id)
    assert here.maps.current.name == "copy"
    here.move(B3, ON_FOUR)
    by_name = {one.name: one.neck_map.choices for one in here.maps.all}
    assert by_name == {"first": {}, "copy": {B3: Place(*ON_FOUR)}}
    here.maps.use(first.id)
    assert here.settings.choices == {}


def test_two_maps_of_one_name_are_refused_with_a_sentence_and_long_names_are_cut(here):
    here.maps.keep("stage", standard_map(position=9))
    for taken in ("stage", " STAGE "):
        with pytest.raises(MapError) as refused:
            here.maps.keep(taken, standard_map(position=7))
        assert "choose another name" in tell(refused.value.message)
    long = here.maps.keep(60 * "n", standard_map(position=7))
    assert len(long.name) == LONGEST_MAP_NAME
    with pytest.raises(MapError):
        here.maps.rename(long.id, "Stage")
    assert here.maps.rename(long.id, "attic").name == "attic"
    assert here.maps.rename(long.id, "").name == "Position VII"


def test_the_map_in_use_is_not_withdrawn_and_one_that_was_cannot_be_used(here):
    nine = here.maps.keep("stage", standard_map(position=9, choices={C4: Place(*C_ON_FOUR)}))
    with pytest.raises(MapError) as refused:
        here.maps.withdraw(here.maps.current.id)
    assert "Position V is in use" in tell(refused.value.message)
    here.maps.withdraw(nine.id)
    assert here.names == ["Position V"]
    with pytest.raises(MapError):
        here.maps.use(nine.id)


def test_maps_hold_after_the_next_start(here):
    here.maps.use(here.maps.keep("stage", standard_map(position=9)).id)
    here.move(B3, (3, 4))
    told = here.told()
    here.session.close()
    here.sit_down()
    assert here.told() == told


def test_two_computers_that_each_added_renamed_changed_and_withdrew_agree_after_gathering(here, there):
    here.maps.keep("first", here.settings.neck_map())
    gone = here.maps.keep("gone", standard_map(position=7))
    agree(here, there)
    here.maps.keep("stage", standard_map(position=9))
    first = there.maps.all[0]
    there.maps.rename(first.id, "at home")
    there.maps.keep("stage", standard_map(position=10))
    there.maps.withdraw(gone.id)
    here.move(B3, ON_FOUR)
    there.move(C4, C_ON_FOUR)
    maps, current, choices = agree(here, there)
    assert [name for _, name, _ in maps] == ["at home", "stage", "stage (2)"]
    assert current == first.id
    assert choices == {B3: ON_FOUR, C4: C_ON_FOUR}
    assert maps[0][2].choices == {B3: Place(*ON_FOUR), C4: Place(*C_ON_FOUR)}


def test_a_home_moved_here_is_one_of_its_own_map_and_a_map_withdrawn_here_and_changed_there_is_there_again(here, there):
    """While the home is moved here, another map comes into use there."""
    here.maps.keep("first", here.settings.neck_map())
    nine = here.maps.keep("stage", standard_map(position=9))
    seven = here.maps.keep("attic", standard_map(position=7))
    agree(here, there)
    here.maps.withdraw(seven.id)
    there.maps.use(seven.id)
    there.move(B3, ON_FOUR)
    there.maps.use(nine.id)
    here.move(B3, ON_FOUR)
    maps, current, choices = agree(here, there)
    assert (current, choices) == (nine.id, {})
    moved = {B3: Place(*ON_FOUR)}
    assert [(name, neck_map.choices) for _, name, neck_map in maps] == [
        ("first", moved),
        ("stage", {}),
        ("attic", moved),
    ]


def test_two_computers_that_never_met_come_to_one_map_of_the_position_both_began_in(here, there):
    here.move(B3, ON_FOUR)
    there.move(C4, C_ON_FOUR)
    maps, current, _ = agree(here, there)
    assert [(map_id, name) for map_id, name, _ in maps] == [(current, "Position V")]


def test_what_an_older_program_settles_elsewhere_is_followed_but_takes_no_home_away(here):
    """It says homes as ever, and knows nothing of maps."""
    here.maps.keep("first", here.settings.neck_map())
    here.move(B3, ON_FOUR)
    log = here.session.log
    log.record_fact(About.SETTING, {"name": "choices", "sounding": C4, "place": list(C_ON_FOUR)})
    here.session.begin_again()
    assert here.maps.current.name == "first"
    assert set(here.maps.current.neck_map.choices) == {B3, C4}
    log.record_fact(About.SETTING, {"name": "choices", "value": {}})
    here.session.begin_again()
    assert here.settings.choices == {}
    assert here.names == ["first", "Position V"]
    assert set(here.maps.all[0].neck_map.choices) == {B3, C4}


def test_a_log_of_before_with_homes_of_its_own_begins_with_one_map(here):
    for word in ({"name": "position", "value": 7}, {"name": "choices", "sounding": B3, "place": list(ON_FOUR)}):
        here.session.log.record_fact(About.SETTING, word)
    here.session.begin_again()
    assert here.names == ["Position VII"]
    here.settle(position=5, choices={})
    here.maps.use(here.maps.all[0].id)
    assert here.settings.choices == {B3: ON_FOUR}


def test_a_disk_that_refuses_keeps_the_map_that_is_used_for_this_time(here, monkeypatch):
    nine = here.maps.keep("stage", standard_map(position=9))
    monkeypatch.setattr("game.player.session.save", lambda *_: (_ for _ in ()).throw(OSError(28, "No space left")))
    with pytest.raises(OSError, match="No space"):
        here.maps.use(nine.id)
    assert here.maps.current.id == nine.id


def test_the_settings_of_a_kept_map_are_those_of_now_with_that_map(here):
    nine = here.maps.keep("high up", standard_map(position=9))
    here.settle(volume=0.3)
    settings = here.maps.settings_of(nine.id)
    assert (settings.position, settings.volume, here.settings.position) == (9, 0.3, 5)
    with pytest.raises(MapError):
        here.maps.settings_of("0" * 32)


def test_the_map_in_use_is_lost_with_another_only_where_no_more_are_kept(here, monkeypatch):
    here.move(B3, ON_FOUR)
    assert not here.maps.loses_current
    here.settle(position=9, choices={})
    assert not here.maps.loses_current
    monkeypatch.setattr(player_maps, "MOST_MAPS", 1)
    assert here.maps.loses_current
