"""axe-core in a page that is open: put in once, and only what it finds against is carried back."""

import json
from typing import Any

COLOURS = ("color-contrast", "target-size", "link-in-text-block")
"""What of axe's rules hangs on the scheme and the width; the others see the same page."""


def faults(page: Any, *, only: tuple[str, ...] = (), without: tuple[str, ...] = ()) -> list[str]:
    """Each fault with the rule, how grave it is, and the element; of a rule at most three.

    ``only`` names the rules that are asked, or else all are but those in ``without``.
    """
    from axe_playwright_python.base import AXE_SCRIPT

    if not page.evaluate("'axe' in window"):
        page.evaluate(AXE_SCRIPT)
    options: dict[str, Any] = {"resultTypes": ["violations"], "selectors": False, "preload": False}
    if only:
        options["runOnly"] = list(only)
    options["rules"] = {rule: {"enabled": False} for rule in without}
    found: list[str] = page.evaluate(
        f"""axe.run({json.dumps(options)}).then(said => {{
            if (!said.testEngine || said.passes.length + said.incomplete.length + said.violations.length === 0)
                return ['axe looked at nothing'];
            return said.violations.flatMap(f => f.nodes.slice(0, 3).map(
                n => `${{f.id}} (${{f.impact}}): ${{n.html.slice(0, 160)}}`));
        }})"""
    )
    return found
