"""Secrets of phones and calendars: long, at random, and kept only as a hash.

Source: OWASP Session Management Cheat Sheet (128 bits or more).
"""

import hashlib
import secrets

_BYTES = 32


def new_secret() -> str:
    """A secret for an address or a cookie."""
    return secrets.token_urlsafe(_BYTES)


def hashed(secret: str) -> str:
    """What is kept of a secret. It is too long to be guessed, so that a quick hash does."""
    return hashlib.sha256(secret.encode()).hexdigest()
