"""A book of an earlier version brought to this one."""

import sqlite3

from shadecore.book.errors import BookError
from shadecore.book.schema import APPLICATION_ID, MIGRATIONS, Migration


def migrate(
    connection: sqlite3.Connection, migrations: tuple[Migration, ...] = MIGRATIONS
) -> None:
    """Bring a book to the newest version, each step whole or not at all.

    Parameters
    ----------
    connection : sqlite3.Connection
        Without a transaction, and in autocommit.
    migrations : tuple of Migration
        In order.
    """
    connection.execute("PRAGMA foreign_keys = OFF")
    try:
        for each in migrations:
            connection.execute("BEGIN IMMEDIATE")
            try:
                _step(connection, each)
            except BaseException:
                if connection.in_transaction:
                    connection.execute("ROLLBACK")
                raise
            connection.execute("COMMIT")
    finally:
        connection.execute("PRAGMA foreign_keys = ON")


def _step(connection: sqlite3.Connection, migration: Migration) -> None:
    # Read inside the transaction: another process may have come first.
    version = int(connection.execute("PRAGMA user_version").fetchone()[0])
    if version >= migration.version:
        return
    for statement in migration.statements:
        connection.execute(statement)
    astray = connection.execute("PRAGMA foreign_key_check").fetchone()
    if astray is not None:
        message = (
            "The book cannot be brought up to date, as something in it belongs to "
            "nothing; restore a backup."
        )
        raise BookError(message)
    connection.execute(f"PRAGMA application_id = {APPLICATION_ID:d}")
    connection.execute(f"PRAGMA user_version = {migration.version:d}")
