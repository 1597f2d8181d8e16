"""Where things are: the data folder, the database, and the folders that travel with the program."""

from collections.abc import Mapping
from dataclasses import dataclass
from pathlib import Path
from typing import NamedTuple

import platformdirs
from sqlalchemy import URL

DATA_VARIABLE = "TWELVEMONTH_DATA"
"""The environment variable that names the data folder."""

_PACKAGE = Path(__file__).resolve().parent


@dataclass(frozen=True, slots=True)
class Settings:
    """All that depends on where the program runs; made once, by `read_settings`, and handed down."""

    data: Path
    templates: Path
    static: Path
    demo_data: Path

    @property
    def database(self) -> Path:
        """The database file."""
        return self.data / "twelvemonth.sqlite3"

    @property
    def database_url(self) -> URL:
        """The database as an address."""
        return URL.create("sqlite", database=str(self.database))

    @property
    def backups(self) -> Path:
        """Where dated backups are put."""
        return self.data / "backups"

    @property
    def sheets(self) -> Path:
        """Where the household's own sheets lie."""
        return self.data / "sheets"

    @property
    def https(self) -> Path:
        """Where the house's own authority and certificate lie, with their keys."""
        return self.data / "https"

    @property
    def house_certificate(self) -> Path:
        """What phones are told to trust: the authority without its key."""
        return self.https / "house-certificate.crt"


class House(NamedTuple):
    """How the house is served: ``addresses`` are those to open, the best first ("http://192.168.1.20:8000").

    ``secure`` when they are https; ``behind`` when another server stands in front, so that every caller seems to be
    on this machine. ``first_steps`` is the address at which a phone gets the house's certificate before it trusts it.
    """

    addresses: tuple[str, ...]
    secure: bool = False
    behind: bool = False
    first_steps: str = ""

    @property
    def cookie(self) -> str:
        """The name of the cookie that a phone keeps; over https browsers hold it to this host (RFC 6265bis, 4.1.3)."""
        return "__Host-twelvemonth" if self.secure else "twelvemonth"


def read_settings(environ: Mapping[str, str], data: Path | None = None) -> Settings:
    """Find every folder; ``data`` outranks the environment, which outranks the platform's usual place."""
    named = environ.get(DATA_VARIABLE, "").strip()
    folder = data or (Path(named).expanduser() if named else platformdirs.user_data_path("twelvemonth", False))
    return Settings(folder.absolute(), _beside("templates"), _beside("static"), _beside("demo_data"))


def _beside(name: str) -> Path:
    """A folder that stands beside the package in a checkout, and inside it when installed."""
    inside = _PACKAGE / name
    return inside if inside.is_dir() else _PACKAGE.parent / name
