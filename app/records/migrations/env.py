"""How Alembic reaches the database: by the connection that `app.records.migrate` hands it, in the transaction there."""

from alembic import context

from app.records.tables import Base

context.configure(
    connection=context.config.attributes["connection"],
    target_metadata=Base.metadata,
    render_as_batch=True,
    compare_type=True,
)
context.run_migrations()
