"""What a head sees of each class, counted again from the days of every student."""

from datetime import timedelta

from game.practice_log.school.head_sums import head_sums
from game.practice_log.school.school_connection import AskedSchool, school_connection
from tests.practice_log.classes.students import NOW

TODAY = NOW.date()
MEMBERS = "SELECT class, student FROM class_student"
DAYS = "SELECT student, day, minutes, takes, read, clean, read_timed, clean_timed FROM day"


def test_each_class_is_summed_up_as_its_days_say(full_school):
    server, school = full_school
    with school_connection(server.address(school, "gina")) as gina:
        members, days = set(gina.execute(MEMBERS).fetchall()), gina.execute(DAYS).fetchall()
    with school_connection(server.address(school, "hugo")) as hugo:
        asked = AskedSchool(hugo)
        last = max(day for _, day, *_ in days)
        for today in (TODAY, TODAY.fromisoformat(last), TODAY.fromisoformat(last) - timedelta(days=1)):
            after, before, weeks = ((today - timedelta(days=back)).isoformat() for back in (7, 14, 28))
            told = head_sums(asked, today)
            assert [(one.name, one.teachers) for one in told] == [("3a", ("anna",)), ("3b", ("bob",))]
            for one in told:
                pupils = {student for name, student in members if name == one.name}
                mine = [day for day in days if day[0] in pupils and weeks < day[1] <= today.isoformat()]
                week = [day for day in mine if day[1] > after]
                assert one.students == len(pupils) == 2
                assert one.practised == len({day[0] for day in week}) == 2 - one.absent
                assert abs(one.week_minutes - sum(day[2] for day in week)) < 1e-9
                assert abs(one.before_minutes - sum(day[2] for day in mine if before < day[1] <= after)) < 1e-9
                assert one.week_takes == sum(day[3] for day in week)
                sums = [sum(day[at] for day in mine) for at in (4, 5, 6, 7)]
                assert [one.read, one.clean, one.read_timed, one.clean_timed] == sums
                assert one.share == (sums[1] / sums[0] if sums[0] else None)
        assert sum(one.week_takes for one in head_sums(asked, TODAY.fromisoformat(last))) > 0
        assert all(one.absent == 2 and one.share is None for one in head_sums(asked, TODAY + timedelta(days=999)))
