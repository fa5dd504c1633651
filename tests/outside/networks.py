"""Planning problems drawn from two published networks: a printer that gives trouble and a patient at a ventilator.

Source: D. Heckerman, J. S. Breese, K. Rommelse, Commun. ACM 38(3):49-57, 1995 (printer network "win95pts"); I. A.
Beinlich and others, Proc. 2nd Eur. Conf. AI in Medicine, 1989 ("alarm"); the networks as the package pgmpy ships them,
read from its files without importing it.

The mapping, the same for all: a cause is a root node in a state that is not its likeliest, all other roots in their
likeliest (one fault at a time). Given that the named trouble shows, the CAUSES likeliest causes are kept. The CHECKS
other inner or leaf nodes that tell most about the cause are the checks; an outcome's chance is the node's, given cause
and trouble. Prices come from the seed: a check 1 to 10, a repair 5 to 40, a proof 2, giving up 200; two covers cost 1
to 6 to open and 1 to 3 to close, each check and repair lies behind one of them with chance one half, the proof wants
both closed. All prices: judgement. That checks are independent given the cause is the format's rule, not the network's.
"""

from __future__ import annotations

import gzip
from importlib import import_module
from importlib.metadata import files
from pathlib import Path
from typing import Any

import numpy as np
from numpy.typing import NDArray

CAUSES, CHECKS = 12, 10
TROUBLES = (
    *(("win95pts", f"Problem{i}", 1, i) for i in range(1, 7)),
    ("alarm", "PRESS", 3, 7),
    ("alarm", "BP", 0, 8),
)
Likely = dict[str, NDArray[np.float64]]


def network(name: str, folder: Path) -> Any:
    """One of the networks, by its name."""
    packed = next(f for f in files("pgmpy") or [] if f.name == f"{name}.bif.gz")
    plain = folder / f"{name}.bif"
    plain.write_bytes(gzip.decompress(Path(str(packed.locate())).read_bytes()))
    return _library().loadBN(str(plain))


def _library() -> Any:
    return import_module("pyagrum")


def problem(net: Any, trouble: str, shows: int, seed: int) -> dict[str, Any]:
    """The planning problem of one trouble, in the format that the planner reads."""
    roots = [net.variable(i).name() for i in sorted(net.nodes()) if not net.parents(i)]
    nodes = [net.variable(i).name() for i in sorted(net.nodes()) if net.parents(i)]
    share = {r: np.array(net.cpt(r).tolist()) for r in roots}
    usual = {r: int(np.argmax(s)) for r, s in share.items()}
    engine = _library().LazyPropagation(net)
    found: list[tuple[float, str, Likely]] = []
    for root in roots:
        for state in (s for s in range(len(share[root])) if s != usual[root]):
            engine.setEvidence(usual | {root: state})
            engine.makeInference()
            there = float(engine.posterior(trouble)[shows])
            if there <= 0.0:
                continue
            engine.setEvidence(usual | {root: state, trouble: shows})
            engine.makeInference()
            likely = {n: np.array(engine.posterior(n).tolist()) for n in nodes if n != trouble}
            found.append((share[root][state] / share[root][usual[root]] * there, f"{root}-{state}", likely))
    found.sort(key=lambda cause: (-cause[0], cause[1]))
    return _priced(found[:CAUSES], f"{net.property('name')}: {trouble}", seed)


def _priced(causes: list[tuple[float, str, Likely]], name: str, seed: int) -> dict[str, Any]:
    deal = np.random.default_rng(seed)
    prior = np.array([weight for weight, _, _ in causes])
    prior /= prior.sum()
    telling = {n: _bits(np.array([likely[n] for _, _, likely in causes]), prior) for n in causes[0][2]}
    checks = [n for n in sorted(telling, key=lambda n: (-telling[n], n)) if telling[n] > 1e-6][:CHECKS]
    covers = ["left", "right"]

    def behind() -> list[str]:
        return [covers[int(deal.integers(2))]] if deal.random() < 0.5 else []

    likelihood = {n: {c: likely[n].tolist() for _, c, likely in causes} for n in checks}
    for n in checks:  # a machine that is well again shows what the causes show on the whole: nothing is read then
        mean = prior @ np.array([likely[n] for _, _, likely in causes])
        likelihood[n]["healthy"] = (mean / mean.sum()).tolist()
    return {
        "schema": "firstpull-planning-problem/1", "name": name, "units": "minutes",
        "access": [{"id": c, "open_cost": float(deal.uniform(1, 6)), "close_cost": float(deal.uniform(1, 3)),
                    "initially": "closed"} for c in covers],
        "states": ["healthy", *(c for _, c, _ in causes)],
        "hypotheses": [{"id": c, "state": c, "prior": float(p)} for p, (_, c, _) in zip(prior, causes, strict=True)],
        "checks": [{"id": f"see-{n}", "cost": float(deal.uniform(1, 10)), "need_open": behind(), "need_closed": [],
                    "once": True, "outcomes": len(likelihood[n]["healthy"]), "likelihood": likelihood[n]}
                   for n in checks],
        "repairs": [{"id": f"mend-{c}", "cost": float(deal.uniform(5, 40)), "need_open": behind(), "need_closed": [],
                     "fixes": [c], "success": 1.0} for _, c, _ in causes],
        "proof": {"cost": 2.0, "need_closed": covers}, "give_up": {"cost": 200.0, "need_closed": covers}, "rules": [],
    }


def _bits(table: NDArray[np.float64], prior: NDArray[np.float64]) -> float:
    """Mutual information of a node and the cause."""
    mixed = prior @ table
    apart = np.log2(np.maximum(table, 1e-300) / np.maximum(mixed, 1e-300))
    return float((prior[:, None] * table * np.where(table > 0, apart, 0.0)).sum())
