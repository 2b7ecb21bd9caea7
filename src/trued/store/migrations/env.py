"""Runs the steps on the connection that it is given, inside that connection's transaction."""

from alembic import context

from trued.store.tables import metadata

context.configure(connection=context.config.attributes["connection"], target_metadata=metadata, render_as_batch=True)
with context.begin_transaction():
    context.run_migrations()
