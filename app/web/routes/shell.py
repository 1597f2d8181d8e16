"""What lets a phone put the calendar on its home screen, and open it without signal: service worker and manifest.

Sources: W3C Service Workers (a script's scope is its own folder, hence the root); W3C Web Application Manifest.
"""

import hashlib
import json

from fastapi import APIRouter, Request
from fastapi.responses import JSONResponse
from starlette.responses import Response

from app.web.static import Static

router = APIRouter()

SHELL = ("twelvemonth.css", "twelvemonth.js", "outbox.js", "htmx.min.js", "mark.svg")


@router.get("/sw.js")
def worker(request: Request) -> Response:
    """The service worker, with the addresses of the files that it keeps; another set of files is another worker."""
    static: Static = request.app.state.static
    files = [static.address(name) for name in SHELL]
    version = hashlib.sha256(" ".join(files).encode()).hexdigest()[:12]
    script = static.text("sw.js").replace("@VERSION@", version).replace('["@FILES@"]', json.dumps(files))
    return Response(script, media_type="text/javascript", headers={"Cache-Control": "no-cache"})


@router.get("/manifest.webmanifest")
def manifest(request: Request) -> Response:
    """The name, colours and icons."""
    static: Static = request.app.state.static
    icons = [
        {"src": static.address(f"icon-{size}.png"), "sizes": f"{size}x{size}", "type": "image/png"}
        for size in (192, 512)
    ]
    said = {
        "name": "Twelvemonth",
        "short_name": "Twelvemonth",
        "start_url": "/today",
        "scope": "/",
        "display": "standalone",
        "background_color": "#faf7f0",
        "theme_color": "#faf7f0",
        "lang": "en-GB",
        "icons": icons,
    }
    return JSONResponse(said, media_type="application/manifest+json")
