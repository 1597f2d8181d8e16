"""``make bench``: every figure beside a bare floor measured in the same run; one line for each ratio at the end."""

import sys

from tests.bench import planning


def main() -> int:
    """Measure all, print ``name ratio limit`` for each, and fail when a limit is passed."""
    parts = [planning.ratios]
    try:
        from tests.bench import outbox, pages, phones
    except ImportError:
        pass
    else:
        parts += [pages.ratios, outbox.ratios, phones.ratios]
    lines = [line for part in parts for line in part()]
    for name, ratio, limit in lines:
        print(f"{name} {ratio:.2f} {limit:g}")
    return int(any(ratio > limit for _, ratio, limit in lines))


if __name__ == "__main__":
    sys.exit(main())
