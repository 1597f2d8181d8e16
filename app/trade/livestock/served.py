"""Who can be served: a date of service beside a wether is a slip of the pen."""

_MALES = ("ram", "tup", "bull", "boar", "billy", "buck", "cock", "drake", "gander", "stag")
_CUT = ("wether", "steer", "bullock", "barrow", "castrate", "capon", "ox")


def no_service(animal: str) -> str:
    """A sentence that says why an animal of this kind has no date of service; "" where it may have one.

    ``animal`` is what the household calls it: ewe, wether, gilt. Words that are not known here are let pass.
    Source: the trade's own words.
    """
    words = animal.lower().replace("-", " ").split()
    if any(word.rstrip("s") in _CUT for word in words):
        return f"A {animal.lower()} is castrated: it neither serves nor is served."
    if any(word.rstrip("s") in _MALES for word in words):
        return f"A {animal.lower()} serves and is not served: put the date down for the female."
    return ""
