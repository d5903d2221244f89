"""Who may what in a school's database, told to the database itself, which refuses the rest.

Three roles, of which none owns a table: a *teacher* reads the students of the classes they teach, and writes nothing; a
*head* reads sums by day, of everybody, and who is in which class; a *gatherer* reads and writes what is gathered.
Persons are given one of them. Every table has row-level security, forced, so that even their owner, by whom nobody can
log in, sees no row. It goes by the person who logged in, whatever role they or a function take on meanwhile.
"""

from typing import TYPE_CHECKING, Any

from game.errors import LogError

if TYPE_CHECKING:
    from psycopg import Connection

OWNER = "homefret_owner"
HEAD, TEACHER, GATHERER = ROLES = "homefret_head", "homefret_teacher", "homefret_gatherer"

_NEVER_BOTH = {GATHERER: (TEACHER, HEAD), TEACHER: (GATHERER,), HEAD: (GATHERER,)}
_LONGEST_NAME = 63
"""PostgreSQL's own limit (`NAMEDATALEN`)."""

_CLASSES_TAUGHT = "SELECT class FROM teacher_class WHERE teacher = session_user"
# As an array that is made once, so that only the rows of these students are looked at. The classes are said here again:
# a teacher who is a head too sees who is in every class.
_TAUGHT = f"student = ANY (ARRAY(SELECT student FROM class_student WHERE class IN ({_CLASSES_TAUGHT})))"
_TEACHER_SEES = {"teacher_class": "teacher = session_user", "class_student": f"class IN ({_CLASSES_TAUGHT})"}
_TEACHER_NEVER = frozenset({"day_sums", "brought", "erased", "keeping", "delivery", "refused_file"})
_HEAD_READS = frozenset({"day_sums", "class_student", "teacher_class"})
_GATHERER_ONLY_ADDS = frozenset({"erased"})
_GATHERER_NEVER_WRITES = frozenset({"teacher_class"})
_RELATIONS = """
SELECT relname, relispartition FROM pg_class
WHERE relnamespace = 'homefret'::regnamespace AND relkind IN ('r', 'p') AND relname <> 'schema_version' ORDER BY relname
"""


def make_roles(connection: "Connection[Any]") -> None:
    """The roles that are missing, by which nobody can log in."""
    for role in (OWNER, *ROLES):
        if not _role(connection, role):
            connection.execute(f"CREATE ROLE {role} NOLOGIN".encode())


def settle_rights(connection: "Connection[Any]") -> None:
    """Set every right anew, whatever was changed by hand. To be called in a transaction, by a superuser."""
    database = _quoted(connection, connection.info.dbname)
    roles, everybody = ", ".join(ROLES), ", ".join((*ROLES, "PUBLIC"))
    statements = [
        # Whoever can make a view or a function could lend it; who gathers needs tables that end with their connection.
        f"REVOKE ALL ON DATABASE {database} FROM {everybody}",
        f"GRANT CONNECT ON DATABASE {database} TO {roles}",
        f"GRANT TEMPORARY ON DATABASE {database} TO {GATHERER}",
        f"REVOKE CREATE ON SCHEMA public FROM {everybody}",
        f"REVOKE ALL ON SCHEMA homefret FROM {everybody}",
        f"GRANT USAGE ON SCHEMA homefret TO {roles}",
        f"REVOKE ALL ON ALL TABLES IN SCHEMA homefret FROM {everybody}",
        f"GRANT SELECT ON schema_version TO {roles}",
        "ALTER TABLE schema_version ENABLE ROW LEVEL SECURITY",
        "ALTER TABLE schema_version FORCE ROW LEVEL SECURITY",
        "DROP POLICY IF EXISTS everybody ON schema_version",
        f"CREATE POLICY everybody ON schema_version TO {OWNER}, {roles} USING (true) WITH CHECK (true)",
    ]
    for table, is_part in connection.execute(_RELATIONS.encode()).fetchall():
        statements += [
            f"ALTER TABLE {table} ENABLE ROW LEVEL SECURITY",
            f"ALTER TABLE {table} FORCE ROW LEVEL SECURITY",
        ]
        # The parts of a table are for nobody: rows are read by way of the whole.
        statements += [] if is_part else _rights(table)
    for statement in statements:
        connection.execute(statement.encode())


def _rights(table: str) -> list[str]:
    statements = [f"DROP POLICY IF EXISTS {role} ON {table}" for role in ROLES]
    if table in _HEAD_READS:
        statements += [f"GRANT SELECT ON {table} TO {HEAD}", f"CREATE POLICY {HEAD} ON {table} TO {HEAD} USING (true)"]
    if table not in _TEACHER_NEVER:
        sees = _TEACHER_SEES.get(table, _TAUGHT)
        statements += [
            f"GRANT SELECT ON {table} TO {TEACHER}",
            f"CREATE POLICY {TEACHER} ON {table} FOR SELECT TO {TEACHER} USING ({sees})",
        ]
    if table not in _GATHERER_NEVER_WRITES:
        rights = "SELECT, INSERT" if table in _GATHERER_ONLY_ADDS else "SELECT, INSERT, UPDATE, DELETE"
        statements += [
            f"GRANT {rights} ON {table} TO {GATHERER}",
            f"CREATE POLICY {GATHERER} ON {table} TO {GATHERER} USING (true) WITH CHECK (true)",
        ]
    return statements


def give_role(connection: "Connection[Any]", person: str, role: str) -> None:
    """Let a person log in and be a head, teacher or gatherer; the person is made where the server knows none of that
    name, without a password. Raises `LogError` for one whom the database refuses nothing, and for a gatherer who would
    be a teacher or a head too: that one sees everybody.
    """
    if not person or len(person.encode()) > _LONGEST_NAME or "\0" in person or person in (OWNER, *ROLES):
        raise LogError("school.no_name", name=person, limit=_LONGEST_NAME)
    known = _role(connection, person)
    if known and (known[0] or known[1]):
        raise LogError("school.refused_nothing", name=person)
    if known and any(_is_in(connection, person, other) for other in _NEVER_BOTH[role]):
        raise LogError("school.never_both", name=person)
    name = _quoted(connection, person)
    with connection.transaction():
        if not known:
            connection.execute(f"CREATE ROLE {name} LOGIN".encode())
        connection.execute(f"GRANT {role} TO {name}".encode())


def give_class(connection: "Connection[Any]", teacher: str, class_name: str) -> None:
    """Let a teacher see a class, whether anybody is in it yet or not."""
    give_role(connection, teacher, TEACHER)
    connection.execute("INSERT INTO teacher_class VALUES (%s, %s) ON CONFLICT DO NOTHING", (teacher, class_name))


def take_class(connection: "Connection[Any]", teacher: str, class_name: str) -> bool:
    """Let a teacher see a class no longer; whether they did."""
    gone = connection.execute("DELETE FROM teacher_class WHERE teacher = %s AND class = %s", (teacher, class_name))
    return bool(gone.rowcount)


def _is_in(connection: "Connection[Any]", person: str, role: str) -> bool:
    asked = connection.execute("SELECT pg_has_role(%s, %s, 'MEMBER')", (person, role)).fetchone()
    return bool(asked and asked[0])


def is_head(connection: "Connection[Any]") -> bool:
    """Whether who logged in sees sums by day alone."""
    asked = connection.execute(
        "SELECT pg_has_role(session_user, %s, 'MEMBER') AND NOT pg_has_role(session_user, %s, 'MEMBER')",
        (HEAD, TEACHER),
    ).fetchone()
    return bool(asked and asked[0])


def _role(connection: "Connection[Any]", name: str) -> tuple[Any, ...] | None:
    known = connection.execute("SELECT rolsuper, rolbypassrls FROM pg_roles WHERE rolname = %s", (name,))
    return known.fetchone()


def _quoted(connection: "Connection[Any]", name: str) -> str:
    row = connection.execute("SELECT quote_ident(%s)", (name,)).fetchone()
    return str(row[0]) if row else ""
