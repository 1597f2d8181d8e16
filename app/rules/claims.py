"""What an entry's dates lay on others: room it takes, things it uses."""

from app.rules.ready import ReadyClaim
from app.rules.run import Run
from app.rules.tasks import Bar


def lay_claims(run: Run, rules: list[ReadyClaim], claims: list[Bar]) -> None:
    """Turn the bars of planned days that are complete now into claims on others.

    Source: each bar's own.
    """
    for claim in rules:
        first, last = claim.opens(run), claim.closes(run)
        rule, entry = claim.rule, run.entry
        subject = {"place": entry.place, "kit": rule.kit, "species": run.species, "holding": ""}.get(rule.on, entry.id)
        if first is None or last is None or last < first or (not subject and rule.on != "holding"):
            continue
        claims.append(
            Bar(
                rule.kind,
                rule.on,
                subject,
                rule.acts,
                first,
                last,
                entry.id,
                rule.id,
                rule.says,
                rule.source,
                rule.species,
            )
        )
