"""A workshop that knows nothing of the planner: it keeps a machine in a true state and answers what is done to it."""

from __future__ import annotations

from collections.abc import Callable
from typing import Any

import numpy as np

Answer = Callable[[dict[str, Any]], dict[str, Any]]


class Workshop:
    """Plays jobs of one problem in its JSON form against whoever answers lines."""

    def __init__(self, form: dict[str, Any], seed: int) -> None:
        self.form, self.draw = form, np.random.default_rng(seed)
        self.acts = {act["id"]: act for act in form["checks"] + form["repairs"]}
        self.acts |= {"proof": form["proof"], "give_up": form["give_up"]}
        self.price = {a["id"]: (a["open_cost"], a["close_cost"]) for a in form["access"]}

    def job(self, answer: Answer) -> float:
        """What one job costs."""
        chosen = self.draw.choice(len(self.form["hypotheses"]), p=[h["prior"] for h in self.form["hypotheses"]])
        word = self.form["hypotheses"][int(chosen)]["state"]
        faults = set() if word == "healthy" else set(word.split("+"))
        opened = {a["id"] for a in self.form["access"] if a["initially"] == "open"}
        used: set[str] = set()
        cost, said = 0.0, answer({"new": True})
        for _ in range(500):
            if "done" in said:
                return cost
            act = said["action"]
            cost += self._moves(self.acts[act], opened) + self.acts[act]["cost"]
            assert act not in used, "a once-only check was done twice"
            outcome, extra = self._act(act, faults, used)
            cost += extra
            said = answer({"outcome": outcome})
        raise AssertionError("the job does not end")

    def _moves(self, act: dict[str, Any], opened: set[str]) -> float:
        cost = 0.0
        for item in set(act.get("need_open", [])) - opened:
            cost += self.price[item][0]
            opened.add(item)
        for item in set(act.get("need_closed", [])) & opened:
            cost += self.price[item][1]
            opened.remove(item)
        return cost

    def _act(self, act: str, faults: set[str], used: set[str]) -> tuple[int, float]:
        name = "+".join(sorted(faults)) or "healthy"
        body = self.acts[act]
        if "likelihood" in body:
            if body["once"]:
                used.add(act)
            return int(self.draw.choice(body["outcomes"], p=body["likelihood"][name])), 0.0
        if "fixes" in body:
            if self.draw.random() < body["success"]:
                faults -= set(body["fixes"])
            return 0, 0.0
        if act == "proof":
            passed = self.draw.random() < body.get("pass", {}).get(name, 0.0 if faults else 1.0)
            return int(passed), self.form.get("comeback_cost", 0.0) if passed and faults else 0.0
        return 0, 0.0
