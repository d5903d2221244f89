"""The published schemas are those of the answers, and the answers of November still are such answers."""

import json

import jsonschema
import pytest

from game.commands.make_schemas import ANSWERS, path_of, schema_of, schema_text
from game.commands.parser import COMMANDS
from tests.fixtures_of_november.november import GOLDEN
from tests.sampling import sample

# What the golden answers of these have masked is no value of the kind any more.
_MASKED = frozenset({"devices", "demo"})


@pytest.mark.parametrize("command", COMMANDS)
def test_the_published_schema_is_that_of_the_answer(command):
    """If not: `python -m game.commands.make_schemas`."""
    assert path_of(command).read_text(encoding="utf-8") == schema_text(command)
    jsonschema.Draft202012Validator.check_schema(schema_of(command))


def golden():
    for command in ANSWERS.keys() - _MASKED:
        for path in sorted((GOLDEN / command).glob("*.json")):
            case = json.loads(path.read_text(encoding="utf-8"))
            if "--json" in case["words"]:
                yield pytest.param(command, case["answer"], id=f"{command}-{path.stem}")


@pytest.mark.parametrize(("command", "answer"), sample(sorted(golden(), key=lambda case: case.id), by_default=20))
def test_an_answer_of_november_is_as_the_schema_says(command, answer):
    jsonschema.validate(answer, schema_of(command), cls=jsonschema.Draft202012Validator)


@pytest.mark.parametrize(
    ("command", "answer"),
    [
        ("log", {"log": "x", "takes": -1, "file": None, "kept": None}),
        ("log", {"log": "x", "file": None, "kept": None}),
        ("players", {"players": []}),
        ("take", {"takes": []}),
        ("take", {"verdicts": [], "extra": [], "events": [], "warnings": []}),
        ("add", {"added": [], "refused": [{"file": "x", "why": ""}]}),
    ],
)
def test_what_is_no_answer_does_not_pass(command, answer):
    with pytest.raises(jsonschema.ValidationError):
        jsonschema.validate(answer, schema_of(command), cls=jsonschema.Draft202012Validator)
