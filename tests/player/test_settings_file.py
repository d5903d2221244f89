"""Whatever a settings file holds, there are settings to play with, and every fault is told in one message."""

import json
from pathlib import Path

import msgspec
import pytest
from hypothesis import HealthCheck, given, settings
from hypothesis import strategies as st

from game.errors import SettingsError
from game.instrument.decoding.dirt import Limits
from game.neck.tuning import Place
from game.player.device_settings import DeviceSettings
from game.player.instrument_setup import setup_for
from game.player.settings import OPTIONS, Look, Settings
from game.player.settings_file import load, load_or_defaults, save
from game.text.catalogue import tell
from tests.refusing import refusal
from tests.sampling import how_many, sample

HOME = Path(__file__).parents[1] / "fixtures_of_november" / "home" / "config" / "homefret"


@pytest.fixture
def path(tmp_path):
    return tmp_path / "settings.json"


def loaded(path, text):
    path.write_text(text, encoding="utf-8")
    return load(path)


def put_right(path, text):
    return tell(loaded(path, text).trouble.message)


def refused(path, text):
    with refusal(SettingsError) as caught:
        loaded(path, text).without_faults()
    return tell(caught.value.message)


def test_without_a_file_there_are_defaults_and_nothing_to_tell(path):
    assert (load(path).settings, load(path).trouble, load(path).without_faults()) == (Settings(), None, Settings())
    assert not path.exists()


@pytest.mark.parametrize("file", sorted(HOME.rglob("settings.json")), ids=lambda file: file.parent.name)
def test_the_files_of_november_have_no_faults(file):
    kept = json.loads(file.read_text(encoding="utf-8"))
    read = json.loads(msgspec.json.encode(load(file).without_faults()))
    alike = [name for name in kept if name not in ("limits", "devices")]
    assert {name: read[name] for name in alike} == {name: kept[name] for name in alike}
    # There are more limits since, and more is kept of a device.
    assert {name: read["limits"][name] for name in kept.get("limits", {})} == kept.get("limits", {})
    devices = {
        device: {name: read["devices"][device][name] for name in of} for device, of in kept.get("devices", {}).items()
    }
    assert devices == kept.get("devices", {})
    assert read["devices"].keys() == devices.keys()


def test_a_number_out_of_bounds_is_the_nearest_and_the_rest_of_the_file_is_used(path):
    read = loaded(path, '{"staff_space_px": 1000000, "look": "night", "volume": -3}')
    assert read.settings == Settings(staff_space_px=48, look=Look.NIGHT, volume=0)


def test_what_was_put_right_is_one_sentence_and_where_it_is_long_how_much_more(path):
    assert put_right(path, '{"volume": 7, "look": "papier"}') == (
        'your settings were put right: look is "paper" instead of "papier"; volume is 1 instead of 7'
    )
    assert put_right(path, '{"volume": 7, "look": 1, "still": 2, "slip": 3, "frets": 99}').endswith("; and 2 more")


def test_whoever_mends_the_file_is_told_every_fault_which_field_what_it_says_and_what_it_should(path):
    told = refused(path, '{"volume": 7, "look": 1, "still": 2, "position": 40, "tuning": "x", "pedals": [64, -1]}')
    assert str(path) in told
    assert "volume is a number from 0 to 1, not 7" in told
    assert 'look is one of "paper", "night", not 1' in told
    assert "still is true or false, not 2" in told
    assert "position is a whole number from 1 to 19, not 40" in told
    assert "tuning is one of standard, drop-d" in told
    assert "pedals / 2 is a whole number from 0 to 127, not -1" in told
    assert told.endswith("mend or delete that file")


@pytest.mark.parametrize(
    ("text", "reason"),
    [
        ("{", "no JSON at line 1, column 2"),
        ("[]", "no table"),
        ('{"look": ' + "[" * 100_000, "too often"),
        (" " * 10_000_000, "longer than 5 MB"),
    ],
    ids=["cut", "list", "deep", "long"],
)
def test_a_file_of_which_nothing_can_be_read_is_refused_or_done_without(path, text, reason):
    assert reason in refused(path, text)
    assert "do not make sense" in refused(path, text)
    done_without = load_or_defaults(path)
    assert done_without.settings == Settings()
    assert reason in tell(done_without.trouble.message)
    with refusal(SettingsError, reason):
        done_without.without_faults()


def test_a_file_that_the_system_does_not_give_is_told_with_its_reason(path):
    path.parent.joinpath("in the way").write_text("")
    with refusal(SettingsError, "cannot be read .*: defaults are used"):
        load(path.parent / "in the way" / "settings.json")


# Made when they are needed: some are megabytes.
ABSURD = {
    "homes": lambda: json.dumps({"choices": {str(n): [1, n] for n in range(200_000)}, "look": "night"}),
    "devices": lambda: json.dumps({"devices": {str(n): {"periods": 99} for n in range(50_000)}, "look": "night"}),
    "device": lambda: json.dumps({"devices": {"x" * 1_000_000: {}}, "look": "night"}),
    "tuning": lambda: json.dumps({"tuning": "4" * 1_000_000, "look": "night"}),
    "deep": lambda: '{"look": "night", "volume": ' + "[" * 900 + "]" * 900 + "}",
    "infinite": lambda: '{"look": "night", "volume": 1e400, "position": -1e400, "frets": NaN, "base_channel": -3}',
    "digits": lambda: '{"look": "night", "target_bpm": ' + "9" * 100_000 + "}",
}


@pytest.mark.parametrize("name", sample(ABSURD, by_default=4))
def test_absurd_values_cost_nothing_but_themselves(path, name):
    text = ABSURD[name]()
    read = loaded(path, text)
    assert read.settings.look is Look.NIGHT
    assert 0 < len(read.faults) < 10
    assert len(tell(read.trouble.message)) < 600
    with refusal(SettingsError) as caught:
        read.without_faults()
    assert len(tell(caught.value.message)) < 2000
    assert within_bounds(read.settings)


def test_reading_a_file_with_faults_leaves_it_as_it_is(path):
    text = '{"volume": 7, "moonlight": [1]}'
    loaded(path, text)
    assert path.read_text() == text


def test_what_a_newer_version_wrote_is_kept_when_settings_are_saved(path):
    read = loaded(path, '{"moonlight": {"blue": [1]}, "limits": {"newest": 3}, "devices": {"a": {"colour": "red"}}}')
    assert read.faults == ()
    save(msgspec.structs.replace(read.settings, look=Look.NIGHT), path)
    kept = json.loads(path.read_text(encoding="utf-8"))
    assert kept["moonlight"] == {"blue": [1]}
    assert (kept["limits"]["newest"], kept["limits"]["softest"]) == (3, 10)
    assert (kept["devices"]["a"]["colour"], kept["look"]) == ("red", "night")
    assert load(path).settings == msgspec.structs.replace(read.settings, look=Look.NIGHT)


def test_what_was_out_of_bounds_is_right_in_the_file_once_settings_are_saved(path):
    save(loaded(path, '{"volume": 7}').settings, path)
    assert load(path).without_faults().volume == 1


def test_a_file_that_cannot_be_read_is_laid_aside_when_settings_are_saved(path):
    path.write_text('{"look": "night",}')
    save(Settings(), path)
    assert load(path).without_faults() == Settings()
    assert path.with_suffix(".unread").read_text() == '{"look": "night",}'


def test_settings_that_cannot_be_written_say_why(path):
    path.parent.joinpath("in the way").write_text("")
    with pytest.raises(OSError, match="in the way"):
        save(Settings(), path.parent / "in the way" / "settings.json")


JSON = st.recursive(
    st.none()
    | st.booleans()
    | st.integers()
    | st.floats()
    | st.text(max_size=5)
    | st.sampled_from(["standard", "night", "de", "2 and 4", "x" * 500]),
    lambda inside: st.lists(inside, max_size=7) | st.dictionaries(st.text(max_size=3), inside, max_size=4),
    max_leaves=12,
)
PLACES = st.dictionaries(st.integers(-2, 130).map(str), st.lists(st.integers(-1, 32), max_size=3), max_size=6)
DEVICES = st.dictionaries(
    st.text(max_size=4),
    st.dictionaries(st.sampled_from(DeviceSettings.__struct_fields__), JSON) | JSON,
    max_size=3,
)
LIMITS = st.dictionaries(st.sampled_from([*Limits.__dataclass_fields__]), JSON)
NUMBERS = st.integers(-5, 500) | st.floats(-5, 500)
FILES = st.fixed_dictionaries(
    {},
    optional=dict.fromkeys(OPTIONS, JSON | NUMBERS)
    | {"choices": PLACES | JSON, "devices": DEVICES | JSON, "limits": LIMITS | JSON, "new": JSON},
)


def within_bounds(read):
    """Whether msgspec, by the bounds declared, the neck and every device would take these settings."""
    assert msgspec.convert(msgspec.to_builtins(read), Settings) == read
    for device in (*read.devices, "another"):
        setup_for(read, device)
    return len(read.neck_map().homes) > 0


@given(table=FILES)
@settings(suppress_health_check=[HealthCheck.function_scoped_fixture], max_examples=how_many(150, by_default=37))
def test_whatever_the_file_holds_there_are_settings_within_bounds_and_what_differs_is_told(tmp_path, table):
    read = loaded(tmp_path / "settings.json", json.dumps(table))
    assert within_bounds(read.settings)
    used = msgspec.to_builtins(read.settings, str_keys=True)
    told = {fault.at[0] for fault in read.faults}
    for name in table.keys() & OPTIONS.keys() - {"devices", "microphones", "limits"} - told:
        assert json.loads(json.dumps(used[name])) == table[name], name
    assert bool(read.trouble) == bool(read.faults)
    assert all(tell(fault.told) and tell(fault.mended) for fault in read.faults)
    save(read.settings, tmp_path / "settings.json")
    assert load(tmp_path / "settings.json").without_faults() == read.settings


SETTLED = st.builds(
    Settings,
    staff_space_px=st.integers(16, 48),
    volume=st.floats(0, 1),
    position=st.integers(1, 19),
    language=st.sampled_from(["", "de", "en"]),
    waits=st.booleans(),
    devices=st.dictionaries(
        st.text(max_size=9),
        st.builds(
            DeviceSettings,
            channels=st.none() | st.permutations(range(3, 9)).map(tuple),
            periods=st.floats(0, 8),
            calibrated=st.booleans(),
        ),
        max_size=3,
    ),
    choices=st.dictionaries(st.integers(1, 22), st.none(), max_size=4).map(
        lambda frets: {59 + fret: (2, fret) for fret in frets}
    ),
    pedals=st.lists(st.integers(0, 127), max_size=5).map(tuple),
    limits=st.builds(Limits, softest=st.integers(0, 127), rest_s=st.floats(0, 1)),
)


@given(settled=SETTLED)
@settings(suppress_health_check=[HealthCheck.function_scoped_fixture], max_examples=how_many(80, by_default=20))
def test_a_file_that_was_written_reads_back_the_same(tmp_path, settled):
    save(settled, tmp_path / "settings.json")
    assert load(tmp_path / "settings.json").without_faults() == settled


@pytest.mark.parametrize(("before", "parts"), [("0", 0.0), ("0.15", 0.15), ("7", 0.6), ('"loud"', 0.6), ("true", 0.6)])
def test_a_file_with_one_volume_for_everything_gives_it_to_each_part(path, before, parts):
    """Whoever had turned it down is not startled by a guitar."""
    found = loaded(path, f'{{"volume": {before}}}').settings.volumes
    assert (found.guitar, found.accompaniment) == (parts, parts)
    apart = loaded(path, f'{{"volume": {before}, "guitar_volume": 0.9, "accompaniment_volume": 0}}').settings.volumes
    assert (apart.guitar, apart.accompaniment) == (0.9, 0.0)


def test_a_file_of_seven_strings_with_a_home_on_the_ninth_is_told_and_the_rest_of_it_kept(path):
    pickup = {"channels": [2, 3, 4, 5, 6, 7, 1]}
    bad = {"channels": [1, 2, 3]}
    homes = {"45": [7, 10], "50": [9, 0], "59": [8, 3], "62": [7, 9]}
    table = {"tuning": "B1 E2 A2 D3 G3 B3 E4", "choices": homes, "devices": {"pickup": pickup, "odd": bad}}
    path.write_text(json.dumps(table))
    loaded = load(path)
    told = [tell(fault.told) for fault in loaded.faults]
    assert loaded.settings.choices == {45: (7, 10)}
    assert loaded.settings.devices["pickup"].channels == (2, 3, 4, 5, 6, 7, 1)
    assert loaded.settings.neck_map().home_of(45).place == Place(7, 10)
    assert len(told) == 4, told
    assert any("four to eight" in one or "4 to 8 entries" in one for one in told)
    assert json.loads(path.read_text()) == table


@pytest.mark.parametrize("tuning", ["39 45 50 55 59 62", "39,45,50,55,59,62"])
def test_a_tuning_by_numbers_of_an_older_program_still_holds(path, tuning):
    path.write_text(json.dumps({"tuning": tuning}))
    assert load(path).without_faults().neck_map().tuning.open_strings == (62, 59, 55, 50, 45, 39)


def test_a_capo_past_the_neck_is_put_right_and_the_position_with_it(path):
    assert loaded(path, '{"frets": 12, "capo": 11, "position": 9}').settings.neck_map().position == 1
    told = refused(path, '{"frets": 12, "capo": 11, "position": 9}')
    assert "capo is a whole number from 0 to 8" in told or "capo is 0 to 8" in told
    assert loaded(path, '{"capo": 4, "tuning": "bass"}').faults == ()
