"""What the coach said in November 2026 is read as it stands; of the same takes it says today what it has learned since.

`golden/said_again.json` is what it says of them since a take is one thing to it, the tempo rises for notes and time
both, and the metronome begins near the own pace. It was made by this program, and is kept so that no change of the
coach goes unseen.
"""

import json
from uuid import UUID

import pytest

from game.coach.coach import advance
from game.coach.records import CoachState
from game.practice_log.database.opening import opened_log
from game.text.catalogue import tell_all
from tests.fixtures_of_november.november import GOLDEN, laid_out
from tests.practice_log.read_back import decisions_of

PLAYERS = json.loads((GOLDEN / "inside.json").read_text(encoding="utf-8"))["players"]
FOLDERS = {"": ".", "Möwe": "players/00000000000000000000000000000002"}


@pytest.fixture(params=sorted(FOLDERS), ids=lambda name: name or "own")
def heard_and_said(request, tmp_path):
    """All that the coach of one player heard and said, out of the log, and the reasons that were golden."""
    folder = laid_out(tmp_path).data / FOLDERS[request.param]
    player = UUID(json.loads((folder / "player.json").read_text(encoding="utf-8"))["uuid"])
    with opened_log(folder / "practice.sqlite") as log:
        return decisions_of(log, player), [reason for _, _, reason in PLAYERS[request.param]["reasons"]]


def test_the_sentences_of_the_log_are_read_as_they_were(heard_and_said):
    decisions, golden = heard_and_said
    assert [tell_all(one.decision.reason) for one in decisions] == golden


def test_the_coach_says_of_the_takes_of_then_what_it_says_since_it_was_changed(heard_and_said, request):
    decisions, _ = heard_and_said
    state, said = CoachState(), []
    for one in decisions:
        state, decision = advance(state, one.event)
        said.append(tell_all(decision.reason))
    golden = json.loads((GOLDEN / "said_again.json").read_text(encoding="utf-8"))
    assert said == golden[request.node.callspec.params["heard_and_said"]]
