"""Reads a troubleshooting problem from its JSON form and names everything wrong with it at once."""

from __future__ import annotations

import json
from pathlib import Path
from typing import Any

import numpy as np

from firstpull.base.errors import InputError, ManyErrors
from firstpull.reasoning.planner.form import Form, short
from firstpull.reasoning.planner.problem import MOST_ACCESS_ITEMS, Problem, build_problem

SCHEMA = "firstpull-planning-problem/1"
HEALTHY: frozenset[str] = frozenset()
SUM_SLACK = 1e-3  # how far a row of rounded probabilities may sum from one before it is refused (judgement)
MOST_STATES = 5000

State = frozenset[str]


def read_problem(path: str | Path) -> Problem:
    """Read a problem file.

    Args:
        path: where the file lies [1], scalar.

    Returns:
        The problem, states nothing can reach left out [1], scalar.

    Raises:
        InputError: the file cannot be read, is not JSON, or holds one thing that does not fit.
        ManyErrors: it holds several.

    Valid:
        any file; a bad one is refused with a message.

    Source:
        judgement.
    """
    try:
        text = Path(path).read_text(encoding="utf-8")
    except (OSError, ValueError) as problem:
        raise InputError(f"cannot be read: {problem}", where=str(path), right="a readable UTF-8 file") from problem
    return parse_problem(text, str(path))


def parse_problem(text: str, where: str = "problem") -> Problem:
    """Read a problem from JSON text.

    Args:
        text: the JSON [1], scalar.
        where: what to call the text in messages [1], scalar.

    Returns:
        The problem [1], scalar.

    Raises:
        InputError: not JSON, or one thing does not fit.
        ManyErrors: several things do not fit.

    Valid:
        any text.

    Source:
        judgement.
    """
    try:
        return problem_from(json.loads(text))
    except (ValueError, RecursionError) as problem:
        raise InputError(f"is not JSON: {problem}", where=where, right="one JSON object") from problem


def problem_from(data: object) -> Problem:
    """Build the problem from what a JSON reader returned.

    Args:
        data: the parsed JSON value [1], scalar.

    Returns:
        The problem [1], scalar.

    Raises:
        InputError: one thing does not fit.
        ManyErrors: several things do not fit; all are named.

    Valid:
        any value made of dicts, lists, strings, numbers, booleans and None.

    Source:
        judgement.
    """
    reader = _Reader()
    problem = reader.read(data)
    if len(reader.errors) == 1:
        raise reader.errors[0]
    if reader.errors or problem is None:
        raise ManyErrors(reader.errors)
    return problem


class _Reader(Form):
    """One pass over one document; refuses nothing until everything has been looked at."""

    def read(self, data: object) -> Problem | None:
        if not isinstance(data, dict):
            self.wrong(f"found {short(data)}", "problem", "a JSON object")
            return None
        if data.get("schema") != SCHEMA:
            self.wrong(f"found {short(data.get('schema'))}", "schema", f'"{SCHEMA}"')
        access = self.access(data)
        repairs = self.repairs(data)
        hypotheses = self.hypotheses(data)
        states = self.reachable([state for state, _ in hypotheses], [row["fixes"] for row in repairs])
        checks = self.checks(data, states)
        proof, give_up = self.part(data, "proof"), self.part(data, "give_up")
        proof_open, proof_closed = self.needs(proof, "proof")
        passing = self.passing(proof, states)
        comeback = self.number(data if "comeback_cost" in data else proof, "comeback_cost", "problem", 0)
        end_cost, proof_cost = (self.number(give_up, "cost", "give_up"), self.number(proof, "cost", "proof"))
        end_closed = self.items(give_up, "need_closed", "give_up")
        self.unlike([row["id"] for row in checks + repairs] + ["proof", "give_up"], "checks and repairs")
        if self.errors:
            return None
        number = {state: i for i, state in enumerate(states)}
        prior = np.zeros(len(states))
        for state, share in hypotheses:
            prior[number[state]] += share
        successor = [[number[state - row["fixes"]] for state in states] for row in repairs]
        return build_problem(
            prior=prior,
            healthy=0,
            open_cost=[row["open"] for row in access],
            close_cost=[row["close"] for row in access],
            initially=sum(row["initially"] for row in access),
            check_cost=[row["cost"] for row in checks],
            check_open=[row["needs"][0] for row in checks],
            check_closed=[row["needs"][1] for row in checks],
            check_once=[row["once"] for row in checks],
            likelihood=_padded([row["shown"] for row in checks], len(states)),
            check_outcomes=[len(row["shown"][0]) for row in checks],
            repair_cost=[row["cost"] for row in repairs],
            repair_open=[row["needs"][0] for row in repairs],
            repair_closed=[row["needs"][1] for row in repairs],
            successor=successor if repairs else None,
            success=[row["success"] for row in repairs],
            proof_cost=proof_cost,
            proof_open=proof_open,
            proof_closed=proof_closed,
            proof_pass=passing,
            comeback_cost=comeback,
            end_cost=[end_cost],
            end_closed=[end_closed],
            state_ids=["+".join(sorted(state)) or "healthy" for state in states],
            access_ids=[row["id"] for row in access],
            check_ids=[row["id"] for row in checks],
            repair_ids=[row["id"] for row in repairs],
            end_ids=["give_up"],
            name=str(data.get("name", "")),
            units=str(data.get("units", "")),
        )

    def access(self, data: dict[str, Any]) -> list[dict[str, Any]]:
        found: list[dict[str, Any]] = []
        for i, row in enumerate(self.rows(data, "access")):
            where = f"access[{i}]"
            name, start = self.text(row, "id", where), row.get("initially", "closed")
            if start not in ("closed", "open"):
                self.wrong(f"found {short(start)}", f"{where}.initially", '"closed" or "open"')
            opening, closing = (self.number(row, "open_cost", where), self.number(row, "close_cost", where))
            first = 1 << i if start == "open" else 0
            found.append({"id": name, "open": opening, "close": closing, "initially": first})
            self.bits[name] = 1 << i
        if len(found) > MOST_ACCESS_ITEMS:
            self.wrong(f"{len(found)} items", "access", f"at most {MOST_ACCESS_ITEMS}")
        self.unlike([row["id"] for row in found], "access")
        return found

    def repairs(self, data: dict[str, Any]) -> list[dict[str, Any]]:
        found: list[dict[str, Any]] = []
        for i, row in enumerate(self.rows(data, "repairs")):
            where = f"repairs[{i}]"
            found.append(
                {
                    "id": self.text(row, "id", where),
                    "cost": self.number(row, "cost", where),
                    "needs": self.needs(row, where),
                    "fixes": frozenset(self.words(row, "fixes", where)),
                    "success": self.amount(row.get("success", 1.0), f"{where}.success", "0 to 1", 1.0),
                }
            )
        return found

    def hypotheses(self, data: dict[str, Any]) -> list[tuple[State, float]]:
        listed = [_faults(word) for word in self.words(data, "states", "problem")]
        if len(set(listed)) != len(listed):
            self.wrong("a state is listed twice", "states", "each set of faults once")
        if len(listed) > MOST_STATES:
            self.wrong(f"{len(listed)} states", "states", f"at most {MOST_STATES}")
        known, found = set(listed), []
        rows = self.rows(data, "hypotheses")
        for i, row in enumerate(rows):
            where = f"hypotheses[{i}]"
            word = self.text(row, "state", where)
            if _faults(word) not in known:
                self.wrong(f"no state {word!r}", f"{where}.state", "one of `states`")
            share = self.amount(row.get("prior"), f"{where}.prior", "a probability, 0 to 1", 1.0 + SUM_SLACK)
            found.append((_faults(word), share))
        self.unlike([str(row.get("id", f"?{i}")) for i, row in enumerate(rows)], "hypotheses")
        total = sum(share for _, share in found)
        if abs(total - 1.0) > SUM_SLACK:
            self.wrong(f"the priors sum to {total:g}", "hypotheses", "sum 1")
        return found

    def reachable(self, starts: list[State], fixes: list[State]) -> list[State]:
        """Healthy, the hypotheses' states, and whatever repairs can leave of them."""
        found, fringe = {HEALTHY: 0}, [HEALTHY, *starts]
        while fringe and len(found) <= MOST_STATES:
            state = fringe.pop()
            if state in found and state:
                continue
            found.setdefault(state, len(found))
            fringe += [state - fixed for fixed in fixes if state & fixed]
        if len(found) > MOST_STATES:
            self.wrong("repairs leave too many states", "states", f"at most {MOST_STATES}")
        return list(found)

    def checks(self, data: dict[str, Any], states: list[State]) -> list[dict[str, Any]]:
        found: list[dict[str, Any]] = []
        for i, row in enumerate(self.rows(data, "checks")):
            where = f"checks[{i}]"
            once = row.get("once", True)
            if not isinstance(once, bool):
                self.wrong(f"found {short(once)}", f"{where}.once", "true or false")
            found.append(
                {
                    "id": self.text(row, "id", where),
                    "cost": self.number(row, "cost", where),
                    "needs": self.needs(row, where),
                    "once": once,
                    "shown": self.shown(row, states, where),
                }
            )
        return found

    def shown(self, row: dict[str, Any], states: list[State], where: str) -> list[list[float]]:
        """The outcome distribution of every state in the order of `states`."""
        table, count = row.get("likelihood"), row.get("outcomes")
        if not isinstance(table, dict):
            self.wrong(f"found {short(table)}", f"{where}.likelihood", "an object: state to outcome chances")
            return []
        given = {_faults(word): chances for word, chances in table.items()}
        if count is not None and (not isinstance(count, int) or isinstance(count, bool) or count < 1):
            self.wrong(f"found {short(count)}", f"{where}.outcomes", "a count, 1 or more")
            return []
        found = []
        for state in states:
            place = f"{where}.likelihood.{'+'.join(sorted(state)) or 'healthy'}"
            chances = given.get(state)
            width = count if count is not None else len(chances) if isinstance(chances, list) else 0
            if not isinstance(chances, list) or len(chances) != width or not width:
                self.wrong(f"found {short(chances)}", place, f"a list of {width or 'outcome'} chances")
                continue
            values = [self.amount(v, place, "chances, 0 to 1", 1.0 + SUM_SLACK) for v in chances]
            if abs(sum(values) - 1.0) > SUM_SLACK:
                self.wrong(f"the chances sum to {sum(values):g}", place, "sum 1")
                continue
            found.append([value / sum(values) for value in values])
        return found

    def passing(self, proof: dict[str, Any], states: list[State]) -> list[float]:
        table = proof.get("pass", {})
        if not isinstance(table, dict):
            self.wrong(f"found {short(table)}", "proof.pass", "an object: state to chance of passing")
            table = {}
        given = {_faults(k): self.amount(v, f"proof.pass.{k}", "0 to 1", 1.0) for k, v in table.items()}
        return [given.get(state, 0.0 if state else 1.0) for state in states]


def _faults(word: str) -> State:
    return HEALTHY if word == "healthy" else frozenset(part.strip() for part in word.split("+"))


def _padded(tables: list[list[list[float]]], states: int) -> np.ndarray[tuple[int, ...], np.dtype[np.float64]]:
    width = max((len(row) for table in tables for row in table), default=1)
    full = np.zeros((len(tables), width, states))
    for c, table in enumerate(tables):
        for s, row in enumerate(table):
            full[c, : len(row), s] = row
    return full
