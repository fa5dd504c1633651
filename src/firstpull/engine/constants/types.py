"""What a constant of the virtual engine is."""

from __future__ import annotations

from dataclasses import dataclass


@dataclass(frozen=True, slots=True)
class Constant:
    """A number that physics needs and that no machine class or parameter gives.

    `source` names the paper, standard or book; "judgement" (first word) marks a guess that a shifted world may
    scale; "from memory" marks a figure of the trade that was not looked up again.
    """

    value: float
    unit: str
    source: str

    @property
    def is_judgement(self) -> bool:
        """Whether the number is our guess."""
        return self.source.startswith("judgement")
