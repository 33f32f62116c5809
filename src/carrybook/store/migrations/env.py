"""Alembic runs this file. The connection, already in a transaction, comes from `book`."""

from alembic import context

from carrybook.store.tables import metadata

context.configure(
    connection=context.config.attributes["connection"],
    target_metadata=metadata,
    render_as_batch=True,  # SQLite alters a table by building it anew
)
context.run_migrations()
