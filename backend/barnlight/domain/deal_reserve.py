"""What looks not taken may still cost: the remedies that unseen stops-checks might call for, each charged once, with its chance."""

from __future__ import annotations

from collections.abc import Collection, Iterable, Mapping, Sequence
from typing import Any

from barnlight.domain.checks import CHANCE

# Stands for a fault without a known cure: it takes the whole value.
NO_CURE = "no_cure"


def calls(checks: Iterable[Mapping], unlooked: Collection[str]) -> list[dict[str, Any]]:
    """[{check, title, seconds, chance, remedies: {remedy or "no_cure": share}}] of the stops-checks not looked at.

    A check whose faults have several remedies calls for each with an equal share, as nothing better is known.
    """
    found = []
    for check in checks:
        if check["id"] in unlooked:
            remedies = list(dict.fromkeys(fault["remedy"] or NO_CURE for fault in check["faults"] if fault["picture"] == "stops"))
            shares = {remedy: 1 / len(remedies) for remedy in remedies}
            found.append({"check": check["id"], "title": check["title"], "seconds": check["seconds"], "chance": CHANCE[check["chance"]], "remedies": shares})
    return found


def chances(called: Sequence[Mapping], known: Mapping[str, bool] | None = None) -> dict[str, float]:
    """Remedy -> chance that at least one of the looks calls for it: 1 - product of (1 - chance of each).

    `known`: check -> whether it was found faulty, for looks imagined as taken.
    """
    missed: dict[str, float] = {}
    for one in called:
        faulty = (known or {}).get(one["check"])
        chance = one["chance"] if faulty is None else float(faulty)
        for remedy, share in one["remedies"].items():
            missed[remedy] = missed.get(remedy, 1.0) * (1 - chance * share)
    return {remedy: 1 - still for remedy, still in missed.items()}
