"""Starting: our application on an empty folder, and a bare one with a single table."""

import tempfile


def ours() -> None:
    """Make the application, its records new."""
    from app.main import create_app
    from app.settings import read_settings

    with tempfile.TemporaryDirectory() as folder:
        create_app(read_settings({"TWELVEMONTH_DATA": folder})).state.book.close()


def bare() -> None:
    """Make an application of FastAPI and SQLModel with one table in a new database."""
    from fastapi import FastAPI
    from sqlmodel import Field, SQLModel, create_engine

    class Thing(SQLModel, table=True):
        id: int = Field(primary_key=True)

    with tempfile.TemporaryDirectory() as folder:
        engine = create_engine(f"sqlite:///{folder}/bare.sqlite3")
        SQLModel.metadata.create_all(engine)
        FastAPI()
        engine.dispose()
