"""Style sheets, scripts and marks: read once, named by what is in them, and kept by browsers for good."""

import gzip
import hashlib
import re
from importlib.resources import files
from mimetypes import guess_type
from pathlib import Path
from typing import NamedTuple

from starlette.requests import Request
from starlette.responses import Response

from app.errors import DataFolderError

HTMX_SHA256 = "491955cd1810747d7d7b9ccb936400afb760e06d25d53e4572b64b6563b2784e"
"""What `js_lib_htmx/static/htmx/htmx.min.js` of django-js-lib-htmx 2.0.3.1 (htmx 2.0.3) hashes to."""

FOREVER = "public, max-age=31536000, immutable"
_REMARKS = {
    "js": re.compile(rb"^[ \t]*//[^\n]*\n|^[ \t]+", re.MULTILINE),
    "css": re.compile(rb"/\*.*?\*/\n?|^[ \t]+", re.MULTILINE | re.DOTALL),
}
"""What is written for those who read it here need not go to a phone."""
_WORTH_PACKING = (".css", ".js", ".svg", ".txt")


class File(NamedTuple):
    """One file as it is sent."""

    body: bytes
    packed: bytes | None
    kind: str


class Static:
    """The files of a folder under names that carry a hash of their content, and htmx beside them."""

    def __init__(self, folder: Path) -> None:
        self._names: dict[str, str] = {}
        self._files: dict[str, File] = {}
        for path in sorted(folder.iterdir()):
            if path.is_file() and not path.name.startswith("."):
                self._put(path.name, path.read_bytes())
        self._put("htmx.min.js", _htmx())

    def _put(self, name: str, body: bytes) -> None:
        stem, _, ending = name.rpartition(".")
        if ending in _REMARKS and name != "htmx.min.js":
            body = _REMARKS[ending].sub(b"", body)
        hashed = f"{stem}.{hashlib.sha256(body).hexdigest()[:12]}.{ending}"
        packed = gzip.compress(body, 9, mtime=0) if name.endswith(_WORTH_PACKING) else None
        kind = "text/javascript" if ending == "js" else guess_type(name)[0] or "application/octet-stream"
        self._names[name] = hashed
        self._files[hashed] = File(body, packed, kind)

    def address(self, name: str) -> str:
        """Where a file is found."""
        return f"/static/{self._names[name]}"

    def text(self, name: str) -> str:
        """What a script says."""
        return self._files[self._names[name]].body.decode()

    def answer(self, request: Request) -> Response:
        """A file, packed for those who can unpack it."""
        found = self._files.get(request.path_params["name"])
        if found is None:
            return Response("There is no such file.", 404, media_type="text/plain; charset=utf-8")
        headers = {"Cache-Control": FOREVER, "Vary": "Accept-Encoding"}
        if found.packed is not None and "gzip" in request.headers.get("accept-encoding", ""):
            return Response(found.packed, headers=headers | {"Content-Encoding": "gzip"}, media_type=found.kind)
        return Response(found.body, headers=headers, media_type=found.kind)


def _htmx() -> bytes:
    """The script out of its package; only the one that was looked at is sent to anybody."""
    body = files("js_lib_htmx").joinpath("static/htmx/htmx.min.js").read_bytes()
    if hashlib.sha256(body).hexdigest() != HTMX_SHA256:
        raise DataFolderError(
            "The htmx script that is installed is not the one this program was tested with."
            " Install django-js-lib-htmx 2.0.3.1 again."
        )
    return body
