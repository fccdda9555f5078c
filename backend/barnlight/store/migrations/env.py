"""Runs the migrations on the connection that `Database.migrate` hands over; there is no offline mode."""

from alembic import context

from barnlight.store.models import Base

context.configure(
    connection=context.config.attributes["connection"],
    target_metadata=Base.metadata,
    render_as_batch=True,  # SQLite cannot alter most things in place
)
context.run_migrations()
