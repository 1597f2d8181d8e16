"""Rubbish sent to every address: no answer is a 500, and the holding's pages are there afterwards.

Bounded here; ``RUBBISH_SECONDS=600`` and ``RUBBISH_SEED`` make a long run of it.
"""

import os
import random
import time
from collections import Counter
from itertools import islice
from pathlib import Path

from tests.web.rubbish import Names, requests
from tests.web.surface import caller, filled, made_up, surface

SECONDS = float(os.environ.get("RUBBISH_SECONDS", "0"))
SEED = int(os.environ.get("RUBBISH_SEED", "7"))
MOST = 150
FOUND = (("/larder/pullets.eggs.1%230/mark", {"place": "larder", "killed": "home"}),)
"""What long runs found: each is sent again."""


def test_no_rubbish_is_unforeseen(tmp_path: Path) -> None:
    app = made_up(tmp_path)
    app.state.house = None  # nobody is slowed down: it is the pages that are tried
    web, names = caller(app), Names()
    for method, path in surface():
        if method == "GET":
            names.learn(web.get(filled(path)).text)
    assert len(names.of) > 30
    draw, counts, faults = random.Random(SEED), Counter[int](), []
    end = time.monotonic() + SECONDS
    for asked in islice(requests(draw, names), None if SECONDS else MOST):
        answer = web.request(asked.method, asked.url, headers=asked.headers, content=asked.body or None)
        counts[answer.status_code] += 1
        if answer.status_code >= 500:
            faults.append(f"{asked.method} {asked.url[:300]} {asked.headers} {asked.body[:1500]!r}")
        if "text/html" in answer.headers.get("content-type", "") and len(names.of) < 4000:
            names.learn(answer.text)
        if SECONDS and time.monotonic() > end:
            break
    print(sum(counts.values()), dict(sorted(counts.items())))  # noqa: T201 - for whoever runs it long, with -s
    assert faults == []
    assert counts[200] > 20
    assert [path for path, said in FOUND if web.post(path, data=said).status_code >= 500] == []
    for path in ("/today", "/2027/09", "/larder", "/entries", "/evening", "/calendar.ics"):
        assert web.get(path).status_code == 200
    app.state.book.close()
