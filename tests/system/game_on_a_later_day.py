"""The game on a day that has not come yet: `python -m tests.system.game_on_a_later_day`, with the number of days in
the variable `DAYS_LATER`. All of its clock on the wall is so far ahead.
"""

import os
import sys
from datetime import timedelta

from game import clock

_wall_time = clock.wall_time
clock.wall_time = lambda: _wall_time() + timedelta(days=int(os.environ["DAYS_LATER"]))

from game.commands.main import main  # noqa: E402 - what tells the time is bound as it is imported

if __name__ == "__main__":
    sys.exit(main([]))
