"""A log as documents."""

import json

from game.practice_log.documents.chosen_entries import Choice, chosen_entries
from game.practice_log.documents.decoded_documents import decoded
from game.practice_log.documents.written_documents import LOST_LINE, document_lines
from tests.practice_log.transfer.practised import Computer, lines_of, split


def test_each_entry_is_a_line_and_what_takes_ask_stands_once_before_them():
    computer = Computer(1).practise(20)
    lines = split(computer)
    (entries,) = computer.log.execute("SELECT COUNT(*) FROM entry").fetchone()
    assert sum(map(len, lines.values())) == entries + len(lines["asked"])
    digests = [json.loads(line)["digest"] for line in lines["asked"]]
    assert sorted(set(digests)) == sorted(digests)
    assert decoded(lines_of(computer.log)).left_out == 0


def test_without_notes_every_verdict_stays():
    computer = Computer(1).practise(20)
    text = lines_of(computer.log, with_notes=False)
    for name in (b'"played"', b'"revised"', b'"help"', b'"names"', b'"answers"'):
        assert name not in text
    assert text.count(b'"verdicts"') == lines_of(computer.log).count(b'"verdicts"') > 0
    assert decoded(text).left_out == 0


def test_what_makes_no_sense_is_seen_to_be_missing():
    """A log from elsewhere may hold anything."""
    computer = Computer(1)
    computer.say()
    computer.overrule()
    for trigger in ("fact_no_update", "decision_no_update"):
        computer.log.execute(f"DROP TRIGGER {trigger}")
    computer.log.execute("UPDATE fact SET content = 'nonsense'")
    computer.log.execute("UPDATE decision SET to_review = '[nonsense'")
    lines = list(document_lines(computer.log, chosen_entries(computer.log, Choice())))
    assert b"".join(lines) == LOST_LINE * 2
    assert decoded(LOST_LINE).left_out == 1


def test_only_what_holds_notes_that_could_not_be_told_is_of_the_newest_form():
    """Older programs keep that unread and pass it on; all else they read as before."""
    forms = {
        unsure: {kind: {json.loads(line)["form"] for line in lines} for kind, lines in split(computer).items()}
        for unsure, computer in ((share, Computer(1, unsure=share).practise(30)) for share in (0, 1))
    }
    assert forms[0] == {"asked": {1}, "take": {1}, "judgement": {2}, "coach": {1}, "fact": {1}}
    assert (forms[1]["take"], forms[1]["judgement"]) == ({1, 3}, {2, 3})
    assert forms[1]["coach"] == forms[1]["fact"] == forms[1]["asked"] == {1}
