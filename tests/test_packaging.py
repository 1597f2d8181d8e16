"""Installed with pip, it works from any folder: templates, static files, sheets and migrations travel along."""

import os
import subprocess
import sys
import zipfile
from pathlib import Path

import pytest

pytestmark = pytest.mark.slow
ROOT = Path(__file__).parent.parent
NO_INDEX = ("No matching distribution found", "Could not fetch URL", "Temporary failure in name resolution")

TRY = """
import sys
from pathlib import Path
from starlette.testclient import TestClient
import app
from app.main import create_app
from app.services.demo.demo import start
from app.settings import read_settings

assert str(Path(app.__file__)).startswith(sys.argv[1]), app.__file__
settings = read_settings({}, Path("data"))
made = create_app(settings, made_up=True)
start(made.state.book, settings.demo_data)
with TestClient(made, base_url="http://localhost") as client:
    for page in ("/today", "/entries", "/sheet/bacon", "/add"):
        assert client.get(page).status_code == 200, page
    assert "twelvemonth" in client.get("/today").text
"""


@pytest.fixture(scope="module")
def unpacked(tmp_path_factory: pytest.TempPathFactory) -> Path:
    """What `pip install .` puts into an environment."""
    folder = tmp_path_factory.mktemp("wheel")
    made = subprocess.run(
        [sys.executable, "-m", "pip", "wheel", "--no-deps", "--quiet", "--wheel-dir", str(folder), str(ROOT)],
        capture_output=True,
        text=True,
        check=False,
    )
    if made.returncode and any(said in made.stderr for said in NO_INDEX):
        pytest.skip("the build tool can't be fetched here")
    assert made.returncode == 0, made.stderr
    (wheel,) = folder.glob("*.whl")
    with zipfile.ZipFile(wheel) as archive:
        archive.extractall(folder / "site")
    return folder / "site"


def test_everything_that_is_needed_travels_along(unpacked: Path) -> None:
    for name in ("templates", "static", "demo_data"):
        inside = {path.relative_to(ROOT / name) for path in (ROOT / name).rglob("*") if path.is_file()}
        assert inside
        assert {path.relative_to(unpacked / "app" / name) for path in (unpacked / "app" / name).rglob("*.*")} == inside
    kinds = (".toml", ".py", ".mako")
    ours = {path.relative_to(ROOT / "app") for path in (ROOT / "app").rglob("*") if path.suffix in kinds}
    theirs = {path.relative_to(unpacked / "app") for path in (unpacked / "app").rglob("*") if path.suffix in kinds}
    assert ours <= theirs, sorted(ours - theirs)
    assert not list(unpacked.rglob("htmx*.js")), "it comes from its own package"
    assert not (unpacked / "tests").exists()


def test_the_command_is_declared(unpacked: Path) -> None:
    (declared,) = unpacked.glob("*.dist-info/entry_points.txt")
    assert "twelvemonth = app.cli:main" in declared.read_text(encoding="utf-8")


def test_it_works_from_any_folder(unpacked: Path, tmp_path: Path) -> None:
    environ = os.environ | {"PYTHONPATH": str(unpacked), "PYTHONWARNINGS": "ignore"}
    for words in (["-c", TRY, str(unpacked)], ["-m", "app.cli", "sheets", "check"]):
        run = subprocess.run(
            [sys.executable, *words], cwd=tmp_path, env=environ, capture_output=True, text=True, check=False
        )
        assert run.returncode == 0, run.stdout + run.stderr
