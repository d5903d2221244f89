"""What is in the practice log, and what was gathered, in words."""

from game.commands.answers.log_answer import LogAnswer, LogDevice, LogPlayer
from game.commands.log_words import gathered_answer, gathered_in_words, in_words, log_answer
from game.message import message
from game.practice_log.documents.document_batch import TakenIn
from game.practice_log.transfer.gather import Gathered
from game.text.catalogue import in_english


def lines(messages):
    return [in_english(line) for line in messages]


def test_who_and_what_has_no_name_is_told_by_its_id():
    answer = LogAnswer(
        log="a.sqlite",
        takes=1,
        player=LogPlayer(id="5a0c5b36-6d3c-4d8f-9d53-0c1d7a5f2e11", name=""),
        devices=(
            LogDevice(id="c7b0a1de-2f43-4f0e-8a57-6a9f0f3b7d22", name="", takes=1),
            LogDevice(id="00000000-0000-0000-0000-000000000001", name="desk", takes=0),
        ),
        days=1,
        first="2026-11-25",
        last="2026-11-25",
        notes=1200,
        fingerprint="0123",
    )
    assert lines(in_words(answer)) == [
        "1 take in a.sqlite",
        "Player: 5a0c5b36-6d3c-4d8f-9d53-0c1d7a5f2e11",
        "Practised on 1 day, 25 November 2026; 1,200 notes played.",
        "On 2 devices: c7b0a1de, 1 take; desk, 0 takes.",
        "Fingerprint: 0123",
    ]


def test_of_a_log_that_is_not_there_only_that_is_said(tmp_path):
    assert lines(in_words(log_answer(tmp_path / "gone.sqlite"))) == [f"0 takes in {tmp_path / 'gone.sqlite'}"]


def test_it_is_said_when_only_other_things_or_nothing_is_new():
    holds = {"a": (3, 3)}
    other = Gathered(files=1, came=TakenIn(takes=2, holds=holds, kept=1), devices={"a"})
    nothing = Gathered(files=1, came=TakenIn(takes=1, holds=holds), devices={"a"})
    assert lines(gathered_in_words(other)) == ["2 takes came, of 1 device; no take is new, but other things are."]
    assert lines(gathered_in_words(nothing)) == ["1 take came, of 1 device; nothing of it is new."]


def test_faults_come_last_and_in_english_for_programs():
    fault = message("gather.not_whole", file="a.zip")
    gathered = Gathered(files=1, faults=[fault])
    assert lines(gathered_in_words(gathered))[-1] == in_english(fault)
    assert gathered_answer(gathered).faults == [in_english(fault)]
