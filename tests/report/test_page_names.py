from hashlib import sha256
from uuid import UUID, uuid4

from game.report.page_names import page_name


def test_a_page_is_named_by_twelve_hex_digits_of_the_students_id():
    student = UUID("5f0d7a3a-6f0e-4a1e-9d6f-0d3b6a1f2c44")
    assert page_name(student) == f"student-{sha256(student.bytes).hexdigest()[:12]}.html"
    assert len(page_name(student)) == len("student-.html") + 12


def test_a_thousand_students_have_a_thousand_pages():
    assert len({page_name(uuid4()) for _ in range(1000)}) == 1000


def test_a_page_does_not_tell_the_id():
    student = uuid4()
    assert student.hex[:6] not in page_name(student)
