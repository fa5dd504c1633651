"""Starting: the chance that some pulls start it, and whether it would keep running.

No parameters of its own: spark, compression, mixture, breathing and timing come from the other systems. A trial
repair (K12 lent-plug, lent-coil, K21 primed, fresh-fuel, a loosened cap) reads start_chance or would_run in that
arrangement. K21 fires_on_prime. Complaints: will not start start_chance, coughs but will not catch coughs, starts
cold not hot start_chance_hot, hard start pulls_to_start, drill or hard pull only hard_pull_gain.
"""

from __future__ import annotations

from firstpull.engine.vocabulary.types import Observable, Parameter, Size

PARAMETERS: tuple[Parameter, ...] = ()

OBSERVABLES: tuple[Observable, ...] = (
    Observable("start_chance", "1", "chance that five pulls start it and it keeps running, as arranged"),
    Observable("start_chance_hot", "1", "the same on the warm engine, whatever is arranged"),
    Observable("pull_start_chance", "1", "chance that one pull starts it, as arranged"),
    Observable("pulls_to_start", "1", "expected number of pulls, at most 20"),
    Observable("fires_on_prime", "1", "chance that it fires on a few drops of fresh fuel in the intake"),
    Observable("coughs", "1", "chance that five pulls make it fire but it does not keep running"),
    Observable("hard_pull_gain", "1", "how much a pull half as fast again adds to the chance of starting"),
    Observable("would_run", "1", "how surely it would keep running once started; above 0.5 it runs"),
)

SIZES: tuple[Size, ...] = ()
