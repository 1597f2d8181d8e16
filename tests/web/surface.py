"""The whole surface of the program: every address that a router answers, and what to fill into it."""

import re
from collections.abc import Iterator, Mapping
from datetime import date, datetime
from importlib import import_module
from pathlib import Path
from pkgutil import iter_modules

from fastapi import FastAPI
from starlette.testclient import TestClient

from app.main import create_app
from app.settings import House, read_settings
from app.web import routes
from tests.made_up import put

TODAY = "2027-09-15"
HOUSE = House(("http://192.168.1.20:8000",))
BASE = HOUSE.addresses[0]
VALUES: Mapping[str, str] = {
    "entry_id": "leeks", "sheet_id": "leek", "bed": "2", "kind": "soil", "fact": "1", "key": "leeks.plant",
    "person": "1", "absence": "1", "batch_id": "1", "lot_id": "bought-1", "ident": "1", "medicine_id": "1",
    "link": "1", "secret": "a" * 43, "phone": "1", "year": "2027", "month": "09", "screen": "1", "way_id": "1",
    "word": "nothing",
}  # fmt: skip
"""A value for each name that stands in an address; those that are texts lead to something of the made-up holding."""


def surface() -> Iterator[tuple[str, str]]:
    """Every method and path pattern, in the order of their modules."""
    for module in sorted(iter_modules(routes.__path__), key=lambda found: found.name):
        for route in import_module(f"{routes.__name__}.{module.name}").router.routes:
            for method in sorted(route.methods - {"HEAD"}):
                yield method, route.path


def filled(path: str, values: Mapping[str, str] = VALUES) -> str:
    """An address made of a pattern."""
    return re.sub(r"\{(\w+)(?::\w+)?\}", lambda found: values[found[1]], path)


def made_up(folder: Path) -> FastAPI:
    """The made-up holding, served to a house."""
    put(folder, TODAY)
    return create_app(
        read_settings({}, folder), lambda: datetime.fromisoformat(f"{TODAY}T09:00:00+00:00"),
        today=date.fromisoformat(TODAY), house=HOUSE, hosts=("holding.local",),
    )  # fmt: skip


def caller(app: FastAPI, number: str = "127.0.0.1") -> TestClient:
    """Somebody who calls from an address; what goes wrong comes back as an answer."""
    return TestClient(
        app, base_url=BASE, client=(number, 50000), follow_redirects=False, raise_server_exceptions=False,
        headers={"origin": BASE},
    )  # fmt: skip
