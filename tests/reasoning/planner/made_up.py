"""Problems drawn by seed: small ones in the JSON form, wider ones from arrays."""

from __future__ import annotations

from typing import Any

import numpy as np

from firstpull.reasoning.planner.problem import Problem, build_problem


def made_up(
    seed: int, faults: int = 4, checks: int = 3, items: int = 2, pairs: int = 1, perfect: bool = True
) -> dict[str, Any]:
    """A problem with nested covers, noisy checks and pairs; `perfect` false adds what makes it endless."""
    draw = np.random.default_rng(seed)
    names = [f"F{i}" for i in range(faults)]
    chosen = {"+".join(sorted(draw.choice(names, 2, replace=False))) for _ in range(pairs)}
    states = ["healthy", *names, *sorted(chosen)]
    prior = draw.dirichlet(np.ones(len(states) - 1))
    access = [
        {
            "id": f"A{i}",
            "open_cost": round(float(draw.uniform(0, 6)), 2),
            "close_cost": round(float(draw.uniform(0, 4)), 2),
            "initially": str(draw.choice(["open", "closed", "closed"])),
        }
        for i in range(items)
    ]
    ids = [str(a["id"]) for a in access]

    def needs() -> dict[str, list[str]]:
        opened = [a for a in ids if draw.random() < 0.4]
        return {"need_open": opened, "need_closed": [a for a in ids if a not in opened and draw.random() < 0.2]}

    table = []
    for c in range(checks):
        wrong, count = float(draw.uniform(0.0, 0.1)), int(draw.integers(2, 4))
        likelihood = {}
        for s in states:
            row = np.full(count, wrong / (count - 1))
            row[int(draw.integers(count))] = 1.0 - wrong
            likelihood[s] = row.tolist()
        table.append(
            {
                "id": f"C{c}",
                "cost": round(float(draw.uniform(0.5, 5)), 2),
                **needs(),
                "once": perfect or bool(draw.random() < 0.5),
                "outcomes": count,
                "likelihood": likelihood,
            }
        )
    repairs = []
    for i, name in enumerate(names):
        fixes = [name] + ([names[(i + 1) % faults]] if draw.random() < 0.2 else [])
        took = 1.0 if perfect else round(float(draw.uniform(0.6, 1.0)), 2)
        cost = round(float(draw.uniform(3, 15)), 2)
        repairs.append({"id": f"R{i}", "cost": cost, **needs(), "fixes": fixes, "success": took})
    proof: dict[str, Any] = {"cost": round(float(draw.uniform(0, 3)), 2), "need_closed": ids}
    found: dict[str, Any] = {
        "schema": "firstpull-planning-problem/1",
        "name": f"made up {seed}",
        "units": "minutes",
        "access": access,
        "states": states,
        "hypotheses": [{"id": f"H{s}", "state": s, "prior": float(w)} for s, w in zip(states[1:], prior, strict=True)],
        "checks": table,
        "repairs": repairs,
        "proof": proof,
        "give_up": {"cost": round(float(draw.uniform(25, 80)), 2), "need_closed": ids},
        "rules": [],
    }
    if not perfect:
        proof["pass"] = {s: round(float(draw.uniform(0.0, 0.15)), 3) for s in states[1:]}
        proof["pass"]["healthy"] = 0.95
        found["comeback_cost"] = round(float(draw.uniform(10, 60)), 2)
    return found


def wide(faults: int, checks: int, items: int, outcomes: int = 3) -> Problem:
    """A problem with one repair a fault and checks of several outcomes, from arrays."""
    draw = np.random.default_rng(faults)
    shown = draw.integers(outcomes, size=(checks, faults + 1))
    likelihood = np.full((checks, outcomes, faults + 1), 0.05 / (outcomes - 1))
    for c in range(checks):
        likelihood[c, shown[c], np.arange(faults + 1)] = 0.95
    return build_problem(
        prior=[0.0, *draw.dirichlet(np.ones(faults))],
        open_cost=draw.uniform(2, 8, items),
        close_cost=draw.uniform(1, 4, items),
        check_cost=draw.uniform(2, 7, checks),
        check_open=1 << draw.integers(items, size=checks),
        likelihood=likelihood,
        repair_cost=draw.uniform(10, 40, faults),
        repair_open=1 << draw.integers(items, size=faults),
        successor=[[0 if s == r + 1 else s for s in range(faults + 1)] for r in range(faults)],
        proof_cost=3,
        proof_closed=(1 << items) - 1,
        end_cost=300,
    )
