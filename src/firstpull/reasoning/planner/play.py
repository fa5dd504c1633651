"""Follows the policy line by line, so that somebody else's simulator can play against it."""

from __future__ import annotations

import json
from typing import Any, TextIO

from firstpull.base.errors import FirstpullError, InputError
from firstpull.reasoning.planner.decision import Decider
from firstpull.reasoning.planner.job import MOST_SURPRISES, Job
from firstpull.reasoning.planner.model import Model
from firstpull.reasoning.planner.problem import Problem

ANSWER_SHARE = 0.8  # of the time allowed an answer, spent on searching; the rest is reading and writing (judgement)


def play(stdin: TextIO, stdout: TextIO, problem: Problem, seconds: float = 0.05) -> None:
    """Answer one line a line: an action, that the job is done, or what was wrong.

    Args:
        stdin: lines `{"new": true}` or `{"outcome": k}` [1], scalar.
        stdout: takes the answers, flushed one by one [1], scalar.
        problem: the problem played [1], scalar.
        seconds: bound of each answer [s], scalar.

    Returns:
        Nothing [1], scalar.

    Raises:
        Nothing: bad lines are answered with an error and the job goes on.

    Valid:
        any input.

    Source:
        judgement.
    """
    player = Player(problem, seconds)
    source: Any = getattr(stdin, "buffer", stdin)
    for line in source:
        text = line.decode("utf-8", "replace") if isinstance(line, bytes) else line
        stdout.write(json.dumps(player.answer(text)) + "\n")
        stdout.flush()


class Player:
    """One process playing many jobs of one problem; what the search has found is kept from job to job."""

    def __init__(self, problem: Problem, seconds: float = 0.05) -> None:
        self.problem, self.seconds = problem, seconds
        self.model = Model(problem)
        self.decider = Decider(self.model)
        self.job: Job | None = None
        self.last = -1

    def answer(self, line: str) -> dict[str, Any]:
        """The answer to one line."""
        try:
            return self._answer(line)
        except FirstpullError as refused:
            return {"error": refused.as_dict()}

    def _answer(self, line: str) -> dict[str, Any]:
        try:
            said = json.loads(line)
        except (ValueError, RecursionError) as problem:
            raise InputError("the line is not JSON", where="line", right='{"new": true} or {"outcome": 0}') from problem
        if isinstance(said, dict) and said.get("new") is True:
            self.job = Job(self.model)
        else:
            self._fold(said)
        if self.job is None or self.job.over:
            self.job = None
            return {"done": True}
        self.last = self._next(self.job)
        return {"action": self.problem.actions[self.last].id}

    def _fold(self, said: object) -> None:
        outcome = said.get("outcome") if isinstance(said, dict) else None
        if not isinstance(outcome, int) or isinstance(outcome, bool):
            raise InputError("neither a new job nor an outcome", where="line", right='{"new": true} or {"outcome": 0}')
        if self.job is None:
            raise InputError("no job is open", where="line", right='{"new": true} first')
        self.job.fold(self.last, outcome)

    def _next(self, job: Job) -> int:
        if job.surprises > MOST_SURPRISES:
            return self.model.proof + 1
        return self.decider.decide(job.belief, job.access, job.used, self.seconds * ANSWER_SHARE).action
