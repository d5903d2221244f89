"""One player on several devices: what was gathered folds to what one computer knows on which all of it was done."""

import pytest

from tests.practice_log.devices import differences
from tests.sampling import how_many, sample


@pytest.mark.parametrize("devices", sample([2, 3, 5], by_default=1))
def test_what_was_gathered_folds_to_what_one_computer_knows(devices, tmp_path):
    for seed in range(how_many(40, by_default=1)):
        folder = tmp_path / str(seed)
        folder.mkdir()
        assert differences(seed, devices, folder) == [], (seed, devices)
