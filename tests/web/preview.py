"""Draw every page of the invented sample into a folder, to be looked at: ``python -m tests.web.preview FOLDER``."""

import shutil
import sys
from importlib.resources import files
from pathlib import Path

from app.web.templating import draw, environment
from tests.web import sample

MADE = environment(sample.ROOT / "templates", lambda name: f"static/{name}")


def drawn(folder: Path) -> list[Path]:
    """Every page as a file in ``folder``, with its static files beside it."""
    shutil.copytree(sample.ROOT / "static", folder / "static", dirs_exist_ok=True)
    script = files("js_lib_htmx").joinpath("static/htmx/htmx.min.js")
    (folder / "static/htmx.min.js").write_bytes(script.read_bytes())
    written = []
    for name, page in sample.every().items():
        path = folder / f"{name}.html"
        path.write_text(draw(MADE, page), encoding="utf-8")
        written.append(path)
    return written


if __name__ == "__main__":
    drawn(Path(sys.argv[1]))
