"""What the pages of livestock say once something was put down, by a word in the address."""

from fastapi import Request

from app.web.parts import Status
from app.web.words import counted

SAID = {
    "new": "Put down. What follows is dated from that day.",
    "count": "Put down; what follows reckons with the new count.",
    "back": "Taken back; the count is as it would be without it.",
    "animal": "Put down.",
    "gone": "Put down: it is gone.",
    "here": "It is here again. The count of the group is left as it was: put it right where that is wrong.",
    "strike": "Taken out.",
    "paper": "Kept; it stands in the movement record.",
    "bottle": "In the cupboard.",
    "changed": "Kept.",
    "finished": "Finished; it stands in the medicine book.",
    "treated": "Written into the medicine book. What is held, and until when, stands below.",
    "nought": "Written into the medicine book. Its withdrawal is nought, so nothing of theirs is held by it.",
    "unclear": "Written into the medicine book. A figure is missing, so what it is of is neither eaten nor sold"
    " until it is said: ask the vet, and put it down on the job.",
}


def status(request: Request) -> Status | None:
    """What has just happened, if anything; ``flag`` carries what the law says of it."""
    which = request.query_params.get("put", "")
    many = request.query_params.get("many", "")
    if which == "in" and many.isdecimal():
        return Status(f"{counted(int(many[:6]), 'animal').capitalize()} taken in.")
    if which == "barred":
        return Status("Put down, as it is what happened. It fell inside a bar of law: read what stands below, and ask"
                      " your authority or your vet.", alert=True)  # fmt: skip
    said = SAID.get(which)
    return Status(said) if said else None
