"""What all tests share: drawn examples are the same in every run, so that a run says something of the change made."""

import os

from hypothesis import settings

settings.register_profile("the same", derandomize=True, database=None, deadline=None)
settings.register_profile("anew", deadline=None)
settings.load_profile("anew" if os.environ.get("RULES_EXAMPLES") else "the same")
