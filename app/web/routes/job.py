"""One job."""

from fastapi import APIRouter, Request
from starlette.responses import Response

from app.web.depends import TheBook
from app.web.job_page import job_page

router = APIRouter()


@router.get("/job/{key}")
def show(request: Request, book: TheBook, key: str) -> Response:
    """A job's page."""
    return job_page(request, book, key)
